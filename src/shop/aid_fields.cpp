#include "build/aid_fields.hpp"

#include <fmt/format.h>

#include "shop/bike.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {
namespace {

/// The order's route, for an aid that asks for one.
void add_route(const State& state, const trade::Order& order, AidFieldsView& view) {
  const std::string& name = order.need.route;
  const auto route = state.held.routes.find(name);
  if (route == state.held.routes.end()) {
    view.questions.push_back(
        {"route", name.empty() ? "the order names no route"
                               : fmt::format("the order's route \"{}\" is not in the book", name)});
    return;
  }
  view.file = route->second;
  view.fields.push_back({"route", name, "the order's route"});
  const auto looked = state.all_else->route(name);
  if (!looked) return;
  view.fields.push_back({"back", looked->ends_at_home ? "once" : "there and back",
                         looked->ends_at_home ? "the route ends where it begins"
                                              : "the route ends away from where it begins"});
}

}  // namespace

Result<AidFieldsView> Shop::aid_fields(const std::string& id, const std::string& aid,
                                       const std::string& end) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const build::BikeFacts bike = facts_of(*at->state, *at->build, *at->order);
  const auto fields = build::aid_fields(build::FactReader(trade_, bike), aid, end);
  if (!fields) return std::unexpected(fields.error());
  AidFieldsView view{.order = id, .aid = aid, .end = end, .ends = fields->ends, .not_here = fields->not_here,
                     .fields = {}, .questions = {}, .file = {}};
  if (!view.not_here.empty()) return view;
  for (const auto& [key, typed, origin] : fields->filled) view.fields.push_back({key, typed, origin});
  for (const auto& [key, sentence] : fields->questions) view.questions.push_back({key, sentence});
  if (fields->wants_route) add_route(*at->state, *at->order, view);
  return view;
}

}  // namespace rollwright::shop

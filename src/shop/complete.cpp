#include <algorithm>

#include <fmt/format.h>

#include "shop/completion_view.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"
#include "spec/complete.hpp"

namespace rollwright::shop {
namespace {

Result<spec::Aim> aim_named(const std::string& word) {
  if (word == "cheapest") return spec::Aim::kCheapest;
  if (word == "lightest") return spec::Aim::kLightest;
  if (word == "soonest") return spec::Aim::kSoonest;
  if (word == "weighted") return spec::Aim::kWeighted;
  return refuse(Code::kBadInput, "the aim is cheapest, lightest, soonest or weighted",
                {.field = "aim", .value = word});
}

/// What each of the bikes traded off is best in.
std::vector<std::string> aims_of(const std::vector<spec::Completion>& bikes) {
  std::vector<std::string> aims(bikes.size(), "between");
  const auto name = [&](auto best, const char* aim) {
    std::string& own = aims[static_cast<std::size_t>(best - bikes.begin())];
    if (own == "between") own = aim;
  };
  name(std::ranges::min_element(bikes, {}, [](const auto& bike) { return bike.price; }),
       "cheapest");
  name(std::ranges::min_element(bikes, {}, [](const auto& bike) {
         return std::pair(bike.masses_not_known, bike.mass);
       }), "lightest");
  name(std::ranges::min_element(bikes, {}, [](const auto& bike) {
         return std::pair(!bike.ready.has_value(), bike.ready.value_or(Day{}));
       }), "soonest");
  return aims;
}

/// Discontinued parts may stay on an order that has them in hand; else they cannot be had any more.
bool gone_parts_are_here(const Reckoned& reckoned, const trade::Order& order) {
  const State& state = *reckoned.state;
  return std::ranges::all_of(reckoned.selection, [&](const auto& choice) {
    const trade::Part* part = state.part(choice.second);
    return part == nullptr || !part->gone ||
           whereabouts(state, reckoned.covers, order, part->id).in_hand;
  });
}

}  // namespace

Result<std::shared_ptr<const Reckoned>> Shop::reckoned(const OrderAt& at) {
  std::shared_ptr<const Reckoned> before;
  {
    const std::lock_guard lock(mutex_);
    const auto found = reckoned_.find(at.order->id.text);
    if (found != reckoned_.end()) before = found->second;
  }
  if (before && before->state == at.state && before->day == at.now.day) return before;
  auto made = reckon(trade_, at.state, *at.build, *at.order, at.now, before.get());
  if (!made) return made;
  const std::lock_guard lock(mutex_);
  // A handful of orders is looked at at a time; what is older is reckoned again.
  constexpr std::size_t kMostKept = 16;
  if (reckoned_.size() >= kMostKept) reckoned_.clear();
  reckoned_[at.order->id.text] = *made;
  return made;
}

Result<CompletionView> Shop::complete(const std::string& id, const CompletionWish& wish) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const auto aim = aim_named(wish.aim);
  if (!aim) return std::unexpected(aim.error());
  const auto now = reckoned(*at);
  if (!now) return std::unexpected(now.error());
  const auto bike = spec::complete(
      (*now)->problem, (*now)->selection,
      {.aim = *aim, .weights = {.cents_per_kg = wish.cents_per_kg,
                                .cents_per_day = wish.cents_per_day}},
      {.arrivals = &(*now)->arrivals});
  if (!bike) return std::unexpected(bike.error());
  CompletionView view = completion_view(trade_, **now, *at->order, *bike);
  view.aim = wish.aim;
  return view;
}

Result<std::vector<CompletionView>> Shop::trade_offs(const std::string& id) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const auto now = reckoned(*at);
  if (!now) return std::unexpected(now.error());
  constexpr int kMost = 7;
  const auto bikes = spec::trade_offs((*now)->problem, (*now)->selection, kMost,
                                      {.arrivals = &(*now)->arrivals});
  if (!bikes) return std::unexpected(bikes.error());
  const std::vector<std::string> aims = aims_of(*bikes);
  std::vector<CompletionView> views;
  for (std::size_t i = 0; i < bikes->size(); ++i) {
    views.push_back(completion_view(trade_, **now, *at->order, (*bikes)[i]));
    views.back().aim = aims[i];
  }
  return views;
}

Result<std::vector<RepairView>> Shop::repairs(const std::string& id) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  if (trade::is_over(at->order->state)) {
    const std::string state(trade::word_of(at->order->state));
    return refuse(Code::kRefused,
                  fmt::format("order {} is {}: there is nothing left to change", id, state),
                  {.field = "state", .value = state});
  }
  const auto now = reckoned(*at);
  if (!now) return std::unexpected(now.error());
  const auto found = spec::repairs((*now)->problem, (*now)->selection,
                                   {.gone_stays = gone_parts_are_here(**now, *at->order),
                                    .search = {.arrivals = &(*now)->arrivals}});
  if (!found) return std::unexpected(found.error());
  return repair_views(trade_, *at->state, *found);
}

}  // namespace rollwright::shop

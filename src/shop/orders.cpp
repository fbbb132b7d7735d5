#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bike.hpp"
#include "shop/drawing.hpp"
#include "shop/enquiry.hpp"
#include "shop/no_promise.hpp"
#include "shop/numbers.hpp"
#include "shop/order_input.hpp"
#include "shop/questions.hpp"
#include "shop/shop.hpp"
#include "shop/spec_view.hpp"
#include "shop/supply_side.hpp"
#include "shop/workshop_input.hpp"

namespace rollwright::shop {
namespace {

using enum trade::OrderState;

OrderLine order_line(const trade::BuildTemplate& build, const trade::Order& order,
                     const SpecView& spec) {
  OrderLine line{.id = order.id.text,
                 .rider = order.rider.name,
                 .build = build.name,
                 .need = order.need.words,
                 .state = std::string(trade::word_of(order.state)),
                 .flags = {order.flags.begin(), order.flags.end()},
                 .verdict = spec.verdict,
                 .needed_by = order.needed_by,
                 .promised = order.promised,
                 .price_cents = spec.price_cents};
  for (const SlotView& slot : spec.slots) {
    if (!slot.part) continue;
    ++line.parts_needed;
    if (slot.here == "put by" || slot.here == "in store" || slot.here == "on the bike") {
      ++line.parts_here;
    }
  }
  return line;
}

/// The road of an order from enquiry to care, by how it is built and whether it leaves by freight.
std::vector<StepView> road_of(const trade::BuildTemplate& build, const trade::Order& order) {
  std::vector<trade::OrderState> road = {kEnquiry, kDraft, kOffer, kAgreed};
  if (build.maker_built) {
    road.insert(road.end(), {kAtMaker, kUnderWay, kArrived, kFinishing});
  } else {
    road.insert(road.end(), {kGathering, kKitted, kBuilding});
  }
  road.insert(road.end(), {kChecking, kReady});
  if (order.need.by_freight) {
    road.insert(road.end(), {kBoxed, kOnTheRoad, kDelivered});
  }
  road.insert(road.end(), {kHandedOver, kInCare});
  const auto here = std::find(road.begin(), road.end(), order.state);
  std::vector<StepView> steps;
  for (auto at = road.begin(); at != road.end(); ++at) {
    steps.push_back({.state = std::string(trade::word_of(*at)),
                     .reached = here != road.end() && at <= here, .current = at == here});
  }
  return steps;
}

template <class Q>
std::optional<double> in_unit(const std::optional<Q>& value, Q unit) {
  return value ? std::optional(value->in(unit)) : std::nullopt;
}

RiderView rider_view(const trade::Rider& rider) {
  return {.name = rider.name, .contact = rider.contact, .height_mm = in_unit(rider.height, mm),
          .inseam_mm = in_unit(rider.inseam, mm), .mass_kg = in_unit(rider.mass, kg)};
}

NeedView need_view(const trade::Need& need) {
  return {.words = need.words, .use_class = need.use_class, .luggage_kg = need.luggage.in(kg),
          .child_seat = need.child_seat, .region = need.region, .assist_class = need.assist_class,
          .front_brake_lever = need.front_brake_lever, .route = need.route,
          .by_freight = need.by_freight};
}

/// The same trouble, of a field inside `name`.
std::unexpected<Error> within(const char* name, Error error) {
  error.place.field = fmt::format("{}.{}", name, error.place.field);
  return std::unexpected(std::move(error));
}

/// The next free number: orders are numbered on.
trade::OrderId next_number(const State& state) {
  long long highest = 2000;
  for (const auto& [id, order] : state.orders) {
    if (const auto number = to_whole(id.text)) highest = std::max(highest, *number);
  }
  return trade::OrderId(std::to_string(highest + 1));
}

}  // namespace

Result<std::vector<OrderLine>> Shop::orders() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const std::vector<supply::Cover> covers = covers_of(trade_, **current, time->day);
  std::vector<OrderLine> lines;
  for (const trade::Order& order : (*current)->held.orders) {
    if (trade::is_over(order.state)) continue;  // reckoned only on its own page
    const auto build = build_of(trade_, order);
    if (!build) return std::unexpected(build.error());
    lines.push_back(
        order_line(**build, order, spec_view(trade_, **current, **build, order, covers)));
  }
  return lines;
}

Result<OrderView> Shop::order(const std::string& id) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const trade::Order& order = *at->order;
  OrderView view;
  if (trade::is_before_agreed(order.state)) {
    const auto now = reckoned(*at);
    if (!now) return std::unexpected(now.error());
    view.spec = spec_view(trade_, *at->state, *at->build, order, (*now)->covers);
    add_best(view.spec, **now);
  } else {
    view.spec = spec_view(trade_, *at->state, *at->build, order,
                          covers_of(trade_, *at->state, at->now.day));
  }
  view.line = order_line(*at->build, order, view.spec);
  view.rider = rider_view(order.rider);
  view.need = need_view(order.need);
  view.build_id = order.build;
  view.held_because = order.held_because;
  view.states = road_of(*at->build, order);
  view.opened = order.opened;
  view.deposit_cents = order.deposit.cents;
  view.budget = budget_view(order, view.line.price_cents);
  view.follow_up = follow_up_view(order, at->now.day);
  view.may_be_followed_up = trade::is_before_agreed(order.state);
  view.no_promise = no_promise_because(order);
  if (view.no_promise.empty()) {
    const auto left = is_work_left(trade_, *at->state, order);
    if (!left) return std::unexpected(left.error());
    if (!*left) view.no_promise = no_work_left(order);
  }
  view.outline = outline_view(*at->state, order, view.spec);
  view.numbers = numbers_of(trade_, *at->state, order);
  view.questions = question_views(trade_, *at->state, order);
  view.revision = order.revision;
  return view;
}

Result<OrderView> Shop::new_order(const NewOrder& wanted, const std::string& who) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto build = trade_.templates.find(wanted.build);
  if (build == trade_.templates.end()) {
    std::vector<std::string> builds;
    for (const auto& [id, known] : trade_.templates) builds.push_back(id);
    return refuse(Code::kNotFound, "there is no such build; there are " + listed(builds),
                  {.field = "build", .value = wanted.build});
  }
  const auto begins = trade::state_named(wanted.state);
  if (begins != kEnquiry && begins != kDraft) {
    return refuse(Code::kBadInput, "an order begins as Enquiry or as Draft",
                  {.field = "state", .value = wanted.state});
  }
  const auto rider = rider_from(wanted.rider);
  const auto need = need_from(trade_, wanted.need);
  const auto time = now(**current);
  if (!rider) return std::unexpected(rider.error());
  if (!need) return std::unexpected(need.error());
  if (!time) return std::unexpected(time.error());
  if (wanted.needed_by && *wanted.needed_by < time->day) {
    return refuse(Code::kOutOfRange, "the day needed by lies in the past",
                  {.field = "needed_by", .value = iso(*wanted.needed_by)});
  }
  if (!need->route.empty() && !(*current)->held.routes.contains(need->route)) {
    return refuse(Code::kNotFound, "there is no such route in the book",
                  {.field = "need.route", .value = need->route});
  }
  const auto budget = budget_from(wanted.budget.value_or(BudgetGiven{}));
  if (!budget) return within("budget", budget.error());
  if (wanted.follow_up && !wanted.follow_up->day) {
    return refuse(Code::kBadInput, "say on which day it is followed up, or leave follow_up out",
                  {.field = "follow_up.day"});
  }
  const auto follow_up = follow_up_from(wanted.follow_up.value_or(FollowUpGiven{}), time->day);
  if (!follow_up) return within("follow_up", follow_up.error());
  trade::Order order{.id = next_number(**current), .rider = *rider, .need = *need,
                     .build = wanted.build, .state = *begins, .needed_by = wanted.needed_by,
                     .budget = *budget, .follow_up = *follow_up, .opened = time->day};
  for (const auto& [slot, part] : wanted.choices) {
    const trade::SlotId slot_id(slot);
    const trade::PartId part_id(part);
    if (Result<void> ok = belongs(trade_, **current, build->second, slot_id, part_id); !ok) {
      return std::unexpected(ok.error());
    }
    if (!part.empty()) order.choices[slot_id] = part_id;
  }
  return write_order(order, who, begins == kEnquiry ? "new enquiry" : "new order",
                     order.rider.name);
}

Result<OrderView> Shop::choose(const std::string& id, const std::string& slot,
                               const std::optional<std::string>& part, std::int64_t revision,
                               const std::string& who) {
  return choose_all(id, {{slot, part}}, revision, who);
}

Result<OrderView> Shop::choose_all(
    const std::string& id, const std::map<std::string, std::optional<std::string>>& choices,
    std::int64_t revision, const std::string& who) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  trade::Order order = *at->order;
  if (choices.empty()) {
    return refuse(Code::kBadInput, "there is nothing to choose", {.field = "choices"});
  }
  std::vector<std::string> done;
  for (const auto& [slot, part] : choices) {
    const trade::SlotId slot_id(slot);
    const trade::PartId part_id(part.value_or(""));
    if (Result<void> ok = belongs(trade_, *at->state, *at->build, slot_id, part_id); !ok) {
      return std::unexpected(ok.error());
    }
    if (part_id.empty()) {
      order.choices.erase(slot_id);
    } else {
      order.choices[slot_id] = part_id;
    }
    done.push_back(fmt::format("{}: {}", slot, part_id.empty() ? "nothing" : part_id.text));
  }
  if (!trade::is_before_agreed(order.state)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is {}: its specification is signed, and a change needs the "
                              "customer's signature under a new one",
                              id, trade::word_of(order.state)),
                  {.field = "state", .value = std::string(trade::word_of(order.state))});
  }
  order.revision = revision;
  return write_order(order, who, "choose", join(done, "; "));
}

}  // namespace rollwright::shop

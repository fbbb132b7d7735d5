#include "shop/workshop_input.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

#include <fmt/format.h>

#include "base/working_days.hpp"
#include "build/applicable.hpp"
#include "build/traits.hpp"
#include "plan/calendar.hpp"
#include "shop/bike.hpp"
#include "shop/minutes.hpp"
#include "shop/supply_side.hpp"
#include "shop/workshop_pieces.hpp"
#include "trade/skills.hpp"

namespace rollwright::shop {
namespace {

/// Far enough for parts made to order and the queue behind them.
constexpr int kHorizonDays = 365;

Result<build::ApplicableOperations> steps_of(const trade::Trade& trade, const State& state,
                                             const trade::BuildTemplate& build,
                                             const trade::Order& order) {
  return build::applicable_operations(
      trade.operations, build::traits_of(trade, facts_of(state, build, order)).holding);
}

bool any_left(const trade::Order& order, const build::ApplicableOperations& steps) {
  return std::ranges::any_of(steps.steps, [&](const build::ApplicableStep& step) {
    return is_planned(*step.operation) && !order.done.contains(step.operation->id);
  });
}

/// Builds the input piece by piece; one object so that the pieces can refer to one another.
class Builder {
 public:
  Builder(const trade::Trade& trade, const State& state, const LocalTime& now, Day first_day)
      : trade_(trade), state_(state), now_(now), lead_times_(lead_times_of(trade, state)) {
    plan::PlanInput& input = result_.input;
    input.first_day = first_day;
    input.days = kHorizonDays + static_cast<int>((now.day - first_day).count());
    input.now = plan::minute_at(first_day, now.day) + now.minute;
    input.skills = trade::all_skills();
    input.delivery_days =
        plan::carrier_days({first_day, input.days}, state.settings.closed);
    input.disturbance = disturbance_for(state.settings);
  }

  Result<WorkshopInput> build(const trade::Order* also) {
    if (Result<void> ok = add_people(); !ok) return std::unexpected(ok.error());
    for (const trade::Area& area : state_.held.areas) {
      result_.input.areas.push_back({.id = area.id, .stands = area.stands});
    }
    covers_ = covers_of(trade_, state_, now_.day, also);
    for (const trade::Order& order : state_.held.orders) {
      if (!trade::is_live(order.state) || &order == also) continue;
      if (Result<void> ok = add_order(order); !ok) return std::unexpected(ok.error());
    }
    if (also != nullptr) {
      if (Result<void> ok = add_order(*also); !ok) return std::unexpected(ok.error());
    }
    return std::move(result_);
  }

 private:
  Result<void> add_people() {
    for (const trade::Person& person : state_.held.people) {
      auto made = person_for(person, state_.settings.closed,
                             {result_.input.first_day, result_.input.days});
      if (!made) return std::unexpected(made.error());
      result_.input.people.push_back(std::move(*made));
    }
    return {};
  }

  int area_index(const std::string& area) const {
    const auto& areas = result_.input.areas;
    const auto found =
        std::find_if(areas.begin(), areas.end(), [&](const auto& a) { return a.id == area; });
    return found == areas.end() ? -1 : static_cast<int>(found - areas.begin());
  }

  Result<void> add_order(const trade::Order& order) {
    const auto build = build_of(trade_, order);
    if (!build) return std::unexpected(build.error());
    const auto steps = steps_of(trade_, state_, **build, order);
    if (!steps) return std::unexpected(steps.error());
    if (!any_left(order, *steps)) return {};  // it waits for its rider, not for the bench
    const int order_index = static_cast<int>(result_.input.orders.size());
    result_.input.orders.push_back({.id = order.id.text, .due = order.promised});
    result_.orders.push_back(&order);

    std::map<std::string, int> task_of;
    for (const build::ApplicableStep& step : steps->steps) {
      if (!is_planned(*step.operation)) continue;
      if (Result<void> ok = add_task(order, order_index, step, task_of); !ok) return ok;
    }
    add_arrivals(order, order_index, task_of);
    return {};
  }

  Result<void> add_task(const trade::Order& order, int order_index,
                        const build::ApplicableStep& step, std::map<std::string, int>& task_of) {
    const trade::Operation& operation = *step.operation;
    plan::Task task = task_for(operation, minutes_of(state_, operation));
    task.id = order.id.text + " " + operation.id;
    task.order = order_index;
    task.area = area_index(operation.area);
    if (task.area < 0) {
      return refuse(Code::kContradiction,
                    fmt::format("operation {} is done in the area {}, which this shop does not "
                                "have; add it to shop.toml",
                                operation.id, operation.area),
                    {.field = "area", .value = operation.area});
    }
    task.done = order.done.contains(operation.id);
    task.hands = std::max(1, std::min(step.hands, std::popcount(plan::who_can_lend(result_.input))));
    if (task.hands < step.hands && !task.done) {
      result_.short_of_hands.emplace_back(order_index, operation.id);
    }
    for (const std::string& before : step.after) {
      const auto found = task_of.find(before);
      if (found != task_of.end()) task.after.push_back(found->second);
    }
    if (operation.second_person) {
      for (const std::string_view checked : kFourEyes) {
        const auto found = task_of.find(std::string(checked));
        if (found != task_of.end()) task.not_by_doer_of.push_back(found->second);
      }
    }
    task_of[operation.id] = static_cast<int>(result_.input.tasks.size());
    result_.input.tasks.push_back(std::move(task));
    result_.operations.push_back(&operation);
    return {};
  }

  void add_arrivals(const trade::Order& order, int order_index,
                    const std::map<std::string, int>& task_of) {
    for (const supply::Cover& cover : covers_) {
      if (cover.need.order != order.id || cover.source == supply::Source::kShelf) continue;
      const auto arrival = arrival_for(cover);
      if (!arrival) {
        result_.nobody_sells.emplace_back(order_index, state_.name_of(cover.need.part));
        continue;
      }
      auto& orders = result_.orders_of_arrival[static_cast<std::size_t>(*arrival)];
      if (orders.empty() || orders.back() != order_index) orders.push_back(order_index);
      for (const std::string_view held : cover.need.may_follow ? kAllAsked : kKitAsked) {
        const auto task = task_of.find(std::string(held));
        if (task == task_of.end()) continue;
        auto& parts = result_.input.tasks[static_cast<std::size_t>(task->second)].parts;
        if (std::find(parts.begin(), parts.end(), *arrival) == parts.end()) {
          parts.push_back(*arrival);
        }
      }
    }
  }

  /// The arrival of a purchase, or of a part not bought yet; each is one for all who wait for it.
  std::optional<int> arrival_for(const supply::Cover& cover) {
    const std::string key = cover.source == supply::Source::kPurchase
                                ? "purchase " + cover.purchase
                                : "part " + cover.need.part.text;
    const auto known = arrivals_.find(key);
    if (known != arrivals_.end()) return known->second;
    const std::string name = state_.name_of(cover.need.part);
    plan::Arrival arrival;
    bool confirmed = false;
    if (cover.source == supply::Source::kPurchase) {
      const auto line = std::find_if(state_.held.purchases.begin(), state_.held.purchases.end(),
                                     [&](const auto& p) { return p.id == cover.purchase; });
      if (line == state_.held.purchases.end()) return std::nullopt;
      confirmed = line->confirmed.has_value();
      arrival.what = fmt::format("{}, on order since {} ({})", name, in_short(line->placed),
                                 line->id);
      set_odds(arrival, line->supplier,
               lead_times_->left(*line, now_.day, state_.settings.closed));
    } else {
      const trade::Offer* offer = soonest_offer(state_, *lead_times_, cover.need.part);
      if (offer == nullptr) return std::nullopt;
      arrival.what = name + ", not yet bought";
      const int until_placed = working_days_between(
          now_.day, day_placed(state_, offer->supplier, now_), state_.settings.closed);
      set_odds(arrival, offer->supplier, supply::moved(lead_times_->odds(*offer), until_placed));
    }
    const int index = static_cast<int>(result_.input.arrivals.size());
    result_.input.arrivals.push_back(std::move(arrival));
    result_.orders_of_arrival.emplace_back();
    result_.arrival_confirmed.push_back(confirmed);
    result_.arriving.push_back({cover.need.part, cover.purchase});
    arrivals_[key] = index;
    return index;
  }

  /// What one supplier owes is late together as much as its receipts have been.
  void set_odds(plan::Arrival& arrival, const trade::SupplierId& supplier,
                supply::DayOdds odds) const {
    arrival.by = std::make_shared<const std::vector<double>>(std::move(odds.by));
    arrival.together = supplier.text;
    arrival.correlation = lead_times_->late_together(supplier);
  }

  const trade::Trade& trade_;
  const State& state_;
  LocalTime now_;
  std::shared_ptr<const supply::LeadTimes> lead_times_;
  std::vector<supply::Cover> covers_;
  std::map<std::string, int> arrivals_;
  WorkshopInput result_;
};

}  // namespace

Result<bool> is_work_left(const trade::Trade& trade, const State& state,
                          const trade::Order& order) {
  const auto build = build_of(trade, order);
  if (!build) return std::unexpected(build.error());
  // What applies by the build alone applies whatever the bike is made of: further traits take
  // nothing away from a condition without `none`. That spares nearly every order the traits.
  const std::set<std::string> of_build((*build)->traits.begin(), (*build)->traits.end());
  const bool surely = std::ranges::any_of(trade.operations, [&](const trade::Operation& each) {
    return is_planned(each) && !order.done.contains(each.id) && each.when.none.empty() &&
           build::applies(each.when, of_build);
  });
  if (surely) return true;
  const auto steps = steps_of(trade, state, **build, order);
  if (!steps) return std::unexpected(steps.error());
  return any_left(order, *steps);
}

Result<WorkshopInput> workshop_input(const trade::Trade& trade, const State& state,
                                     const LocalTime& now, const trade::Order* also,
                                     std::optional<Day> first_day) {
  return Builder(trade, state, now, std::min(now.day, first_day.value_or(now.day))).build(also);
}

}  // namespace rollwright::shop

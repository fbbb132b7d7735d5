#include "shop/reckoned.hpp"

#include <algorithm>

#include "shop/arrivals.hpp"
#include "shop/bike.hpp"
#include "shop/supply_side.hpp"
#include "spec/complete.hpp"

namespace rollwright::shop {
namespace {

bool same_facts(const trade::Part& a, const trade::Part& b) {
  return std::equal(a.facts.begin(), a.facts.end(), b.facts.begin(), b.facts.end(),
                    [](const auto& x, const auto& y) {
                      return x.first == y.first && x.second.standing == y.second.standing &&
                             x.second.value == y.second.value;
                    });
}

spec::Selection selection_of(const State& state, const trade::Order& order) {
  spec::Selection selection;
  for (const auto& [slot, part] : order.choices) {
    if (state.part(part) != nullptr) selection[slot] = part;
  }
  return selection;
}

bool can_be_used_again(const Reckoned* before, const State& state, const spec::ProblemInput& input) {
  return before != nullptr && before->made_from->catalogue == state.catalogue &&
         before->build == input.build.id && same_facts(before->order, input.order) &&
         same_facts(before->rider, input.rider);
}

bool is_offered(const spec::PartChoice& choice) { return !choice.part.empty() && !choice.gone; }

/// What the engine answers: how far everything is open, how many bikes, how long the soonest takes.
Result<void> ask_engine(const trade::Trade& trade, const trade::Order& order, Reckoned& made) {
  const spec::ChoicesSettings settings{.arrivals = &made.arrivals};
  Result<spec::Choices> choices = spec::choices(made.problem, made.selection, settings);
  if (!choices) return std::unexpected(choices.error());
  made.choices = std::move(*choices);
  if (Result<spec::Count> count = spec::count(made.problem, made.selection)) {
    made.count = std::move(*count);
  }
  const auto soonest =
      spec::complete(made.problem, made.selection, {.aim = spec::Aim::kSoonest}, settings);
  made.hands_on_minutes = hands_on_minutes(
      trade, *made.state, soonest ? completed(order, *soonest) : order);
  return {};
}

}  // namespace

Day Reckoned::ready(Day kit) const {
  return ready_day(kit, hands_on_minutes, state->settings.closed);
}

Result<std::shared_ptr<const Reckoned>> reckon(const trade::Trade& trade,
                                               const std::shared_ptr<const State>& state,
                                               const trade::BuildTemplate& build,
                                               const trade::Order& order, const LocalTime& now,
                                               const Reckoned* before) {
  spec::ProblemInput input = problem_input(trade, *state, build, order);
  const bool again = can_be_used_again(before, *state, input);
  const trade::Part order_facts = input.order;
  const trade::Part rider_facts = input.rider;
  Result<spec::Problem> problem =
      again ? Result<spec::Problem>(before->problem) : spec::compile(std::move(input));
  if (!problem) return std::unexpected(problem.error());
  auto made = std::make_shared<Reckoned>(Reckoned{
      .state = state, .revision = order.revision, .day = now.day,
      .made_from = again ? before->made_from : state, .order = order_facts, .rider = rider_facts,
      .build = build.id, .problem = std::move(*problem),
      .selection = selection_of(*state, order), .covers = {},
      .lead_times = lead_times_of(trade, *state), .arrivals = {}, .choices = {}, .count = {}});
  made->covers =
      covers_of(trade, *state, now.day, trade::is_before_agreed(order.state) ? &order : nullptr);
  const spec::Arrivals bought = bought_now(*state, *made->lead_times, now);
  made->arrivals = arrivals_for(trade, *state, *made->lead_times, now,
                                {build, order, made->covers, bought});
  if (again && before->selection == made->selection && before->arrivals == made->arrivals) {
    made->choices = before->choices;
    made->count = before->count;
    made->hands_on_minutes = before->hands_on_minutes;
    return made;
  }
  if (Result<void> answered = ask_engine(trade, order, *made); !answered) {
    return std::unexpected(answered.error());
  }
  return made;
}

void add_best(SpecView& view, const Reckoned& reckoned) {
  const spec::Bests& best = reckoned.choices.best;
  view.status = std::string(spec::word_of(reckoned.choices.selection));
  view.fitting = reckoned.count.fitting;
  view.possible = reckoned.count.possible;
  view.count_exact = reckoned.count.exact && !reckoned.count.fitting.empty();
  view.best.proven = best.proven;
  if (best.price) view.best.price_cents = best.price->cents;
  if (best.mass) view.best.mass_kg = best.mass->in(kg);
  view.best.masses_not_known = best.masses_not_known;
  if (best.ready) view.best.ready = reckoned.ready(*best.ready);
  for (SlotView& slot : view.slots) {
    const auto own = std::ranges::find(reckoned.choices.slots, trade::SlotId(slot.slot),
                                       &spec::SlotChoices::slot);
    if (own == reckoned.choices.slots.end()) continue;
    slot.of = static_cast<int>(std::ranges::count_if(
        own->parts, [](const auto& choice) { return is_offered(choice); }));
    slot.open = static_cast<int>(std::ranges::count_if(own->parts, [](const auto& choice) {
      return is_offered(choice) && choice.status < spec::Status::kClosed;
    }));
  }
}

}  // namespace rollwright::shop

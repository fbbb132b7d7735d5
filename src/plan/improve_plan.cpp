#include "plan/improve_plan.hpp"

#include <algorithm>
#include <array>
#include <thread>

#include <fmt/format.h>

#include "base/index.hpp"
#include "plan/plan_search.hpp"

namespace rollwright::plan {
namespace {

constexpr std::int64_t kBetweenMeetings = 40'000;  // placements of each of the two searches

constexpr int kApartFirst = 3;  // stretches before they first meet

/// Two searches that meet now and then.
class PlanPair {
 public:
  PlanPair(const PlanInput& input, const ImproveOptions& options)
      : options_(options),
        floor_(input, options.arrival_confidence),
        facts_(facts_of(input, options.arrival_confidence)),
        by_rules_(floor_, facts_, options.weights, Random(options.seed)),
        searches_{PlanSearch(floor_, facts_, options.weights, Random(options.seed).split(1)),
                  PlanSearch(floor_, facts_, options.weights, Random(options.seed).split(2))} {}

  ImprovedPlan run(const PlanWatch& watch) {
    begin();
    const double first_cost = best().best_cost();
    bool go_on = !watch || watch(progress());
    while (go_on && placements() < options_.placements) {
      const std::int64_t left = (options_.placements - placements() + 1) / 2;
      go_on_apart(std::min(left, kBetweenMeetings));
      if (this->placements() == placements_) break;  // there is nothing to move
      if (++stretches_ >= kApartFirst) meet();
      go_on = !watch || watch(progress());
    }
    ImprovedPlan found{.cost = best().best_cost(), .first_cost = first_cost};
    found.placements = placements();
    found.stopped = !go_on;
    found.plan = finished();
    return found;
  }

 private:
  /// Both begin with the last plan, mended: it costs more at first than the best plan of a rule,
  /// but far less than that after a few steps. Where there is none both begin with the plan of a rule.
  void begin() {
    const PlanInput& input = floor_.input;
    const bool has_last_plan = std::ranges::any_of(
        input.tasks, [](const Task& task) { return task.previous.has_value(); });
    auto& [first, second] = searches_;
    for (const Rule& rule : kRuleTable) by_rules_.lay_out(rule.sequence(input, facts_));
    if (has_last_plan) {
      first.mend_last_plan(by_promise(input, facts_));
    } else {
      first.adopt(by_rules_);
    }
    second.adopt(first);
  }

  const PlanSearch& best() const {
    const PlanSearch& found = better_search();
    return by_rules_.best_cost() < found.best_cost() ? by_rules_ : found;
  }

  const PlanSearch& better_search() const {
    return searches_[1].best_cost() < searches_[0].best_cost() ? searches_[1] : searches_[0];
  }

  void go_on_apart(std::int64_t placements) {
    placements_ = this->placements();
    if (options_.threads == 1) {
      for (PlanSearch& search : searches_) search.run(placements);
      return;
    }
    const std::jthread beside([&] { searches_[1].run(placements); });
    searches_[0].run(placements);
  }

  void meet() {
    auto& [first, second] = searches_;
    if (second.best_cost() < first.best_cost()) {
      first.adopt(second);
    } else if (first.best_cost() < second.best_cost()) {
      second.adopt(first);
    }
  }

  std::int64_t placements() const {
    return by_rules_.placements() + searches_[0].placements() + searches_[1].placements();
  }

  PlanProgress progress() const {
    return {placements(), best().best_cost(), best().best_score()};
  }

  ShopPlan finished() const {
    WorkPlacer placer(floor_, 0);
    for (const std::vector<int>& tasks : facts_.tasks) {
      for (const int task : tasks) {
        const Spot& spot = best().best()[at(task)];
        if (spot.person >= 0) placer.put_back(task, spot);
      }
    }
    ShopPlan plan = plan_from(placer, floor_, facts_);
    add_chains(plan, placer, floor_);
    plan.best_rule = "improved step by step";
    return plan;
  }

  ImproveOptions options_;
  Shopfloor floor_;
  OrderFacts facts_;
  PlanSearch by_rules_;  // its best is kept until a search has a better one
  std::array<PlanSearch, 2> searches_;
  std::int64_t placements_ = 0;  // before the stretch under way
  int stretches_ = 0;
};

Result<void> check_improve_options(const ImproveOptions& options) {
  const auto wrong = [](std::string_view sentence, std::string_view field) {
    return refuse(Code::kOutOfRange, std::string(sentence), {.field = std::string(field)});
  };
  if (!(1 <= options.placements && options.placements <= 1'000'000'000'000)) {
    return wrong("placements are 1 to 1000000000000", "placements");
  }
  if (!(1 <= options.threads && options.threads <= 64)) {
    return wrong("threads are 1 to 64", "threads");
  }
  if (!(0 < options.arrival_confidence && options.arrival_confidence < 1)) {
    return wrong("a confidence lies between 0 and 1", "arrival_confidence");
  }
  const PlanWeights& weights = options.weights;
  for (const double weight : {weights.day_late, weights.moved, weights.kit_day, weights.last_day,
                              weights.uneven_hour}) {
    if (!(0 <= weight && weight <= 1e9)) return wrong("a weight is from 0 to 1e9", "weights");
  }
  return {};
}

}  // namespace

double cost_of(const PlanScore& score, const PlanWeights& weights) {
  return weights.day_late * score.weighted_days_late + weights.moved * score.moved +
         weights.kit_day * score.kit_days_waiting + weights.last_day * score.last_ready_days +
         weights.uneven_hour * score.uneven_hours;
}

Result<ImprovedPlan> improve_plan(const PlanInput& input, const ImproveOptions& options,
                                  const PlanWatch& watch) {
  if (const auto checked = check_improve_options(options); !checked) {
    return std::unexpected(checked.error());
  }
  Problems problems = problems_of(input);
  if (!problems.empty()) return std::unexpected(std::move(problems.front()));
  return PlanPair(input, options).run(watch);
}

}  // namespace rollwright::plan

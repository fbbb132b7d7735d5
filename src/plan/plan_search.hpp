#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/random.hpp"
#include "plan/finish_plan.hpp"
#include "plan/improve_plan.hpp"

namespace rollwright::plan {

/// One search from plan to plan: takes orders out and lays them out again.
///
/// Invariants: `cost` and `score` are those of the schedule in hand after every call; the best
///             schedule met is kept apart.
/// Threads: one per thread; the shopfloor and the facts must outlive it.
class PlanSearch {
 public:
  PlanSearch(const Shopfloor& floor, const OrderFacts& facts, const PlanWeights& weights,
             Random random);

  /// Lays out everything anew, orders in this turn.
  void lay_out(const std::vector<int>& orders);
  /// Keeps of the last plan what can stay, then lays out the rest, orders in this turn.
  void mend_last_plan(const std::vector<int>& orders);
  /// Goes on for at least this many placements.
  void run(std::int64_t placements);
  /// Goes on from the best of another search.
  void adopt(const PlanSearch& other);

  [[nodiscard]] double best_cost() const { return best_cost_; }
  [[nodiscard]] const PlanScore& best_score() const { return best_score_; }
  [[nodiscard]] const std::vector<Spot>& best() const { return best_; }
  [[nodiscard]] std::int64_t placements() const { return placements_; }

 private:
  struct TakenOut {
    int task;
    Spot spot;
  };
  /// Which orders a step takes out.
  enum class Reach { kFew, kStretch, kRest };
  static constexpr std::size_t kReaches = 3;
  /// What a reach has brought lately, and what it took.
  struct Yield {
    double gained = 0;
    double placements = 0;
  };

  void step();
  [[nodiscard]] Reach choose_reach();
  void note_yield(Reach reach, double gained, std::int64_t placements);
  void choose_few();
  void choose_stretch(std::size_t least, std::size_t most);
  [[nodiscard]] std::size_t choose_middle();
  void turn_few();
  void find_days_late_alone();
  [[nodiscard]] bool could_be_sooner(int order) const;
  void keep_turn();
  void take_out_chosen();
  void lay_out_chosen();
  void restore_chosen();
  void put(int task, bool as_before, int not_before);
  void put_rest();
  void keep_what_can_stay();
  [[nodiscard]] std::vector<int> in_last_plan() const;
  [[nodiscard]] int day_before(int task) const;
  [[nodiscard]] int drawn_start(int order);
  void follow(const std::vector<int>& orders);
  void judge_all();
  void judge(int order);
  double cost();
  void note_best();

  const Shopfloor* floor_;
  const OrderFacts* facts_;
  PlanWeights weights_;
  Random random_;
  bool has_last_plan_ = false;
  WorkPlacer placer_;
  WeeklyLoad load_;
  std::vector<OrderOutcome> outcomes_;
  PlanScore score_;
  double cost_ = 0;
  std::int64_t placements_ = 0;

  std::vector<Spot> best_;
  std::vector<int> best_turn_;
  PlanScore best_score_;
  double best_cost_;

  std::vector<int> movable_;  // orders with a task that is not frozen, in the turn of laying out
  std::vector<int> late_alone_;  // per order
  std::vector<std::size_t> chosen_at_;  // turns of those taken out, ascending
  std::vector<int> chosen_;             // those, in the turn in which they are laid out again
  std::array<Yield, kReaches> yields_;
  std::vector<TakenOut> out_;
};

}  // namespace rollwright::plan

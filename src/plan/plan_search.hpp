#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "base/index.hpp"
#include "base/random.hpp"
#include "plan/finish_plan.hpp"
#include "plan/improve_plan.hpp"

namespace rollwright::plan {

/// One search from plan to plan: takes orders, or the rest of them, out and lays them out again.
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
  /// What a step takes out.
  enum class Reach {
    kFew,      // a few orders of about the same turn
    kStretch,  // a stretch of turns
    kRest,     // everything from a turn on
    kRoom,     // an order later than it must be, and some that have time and stand in its way
    kHome,     // the rest of an order that was moved, and what now stands where it was
  };
  static constexpr std::size_t kReaches = 5;
  static constexpr std::size_t kReachesAtFirst = 3;
  /// Of an order: what starts at `from` or later, and what has no place.
  struct Piece {
    int order;
    int from;
    std::size_t out_from = 0;  // the first of it in out_
  };
  struct TakenOut {
    int task;
    Spot spot;
  };
  /// What a reach has brought lately, and what it took.
  struct Yield {
    double gained = 0;
    double placements = 0;
    double steps = 0;
  };

  void step();
  [[nodiscard]] Reach choose_reach();
  void note_yield(Reach reach, double gained, std::int64_t placements);

  // Which orders or operations: plan_steps.cpp.
  void choose(Reach reach);
  void choose_few();
  void choose_stretch(std::size_t least, std::size_t most);
  void choose_room();
  void choose_home();
  [[nodiscard]] std::size_t choose_middle();
  [[nodiscard]] int choose_late();
  [[nodiscard]] int choose_in_the_way(const Window& span);
  [[nodiscard]] int choose_moved();
  void find_in_its_home(const Piece& piece);
  void add_piece(const Piece& piece);
  void turn_few();
  void find_days_late_alone();
  [[nodiscard]] bool could_be_sooner(int order) const;
  [[nodiscard]] bool is_moved(int task) const;
  [[nodiscard]] int start_of(int order) const;
  [[nodiscard]] int drawn_start(int order);

  void keep_turn();
  void take_out_chosen();
  void take_out(int task);
  void take_out_piece(const Piece& piece);
  void lay_out_chosen(Reach reach);
  void lay_out_orders();
  void lay_out_around_first(bool near);
  void lay_out_with_room();
  void lay_out_piece(std::span<const TakenOut> outs, bool stays, bool near);
  void restore_chosen();
  void put(int task, int not_before);
  void put_near(int task);
  void put_rest();
  [[nodiscard]] bool has_place(int task) const { return placer_.spots()[at(task)].person >= 0; }
  [[nodiscard]] std::vector<int> in_last_plan() const;
  [[nodiscard]] int day_before(int task) const;
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
  std::vector<std::size_t> chosen_at_;  // turns of those taken out, ascending; none: turns stay
  std::vector<Piece> chosen_;           // in the turn in which they are laid out again
  std::vector<Piece> in_its_home_;
  std::vector<Spot> homes_;
  std::array<Yield, kReaches> yields_;
  std::vector<TakenOut> out_;
};

}  // namespace rollwright::plan

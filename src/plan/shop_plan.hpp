#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// Where one task went. Without segments it found no room before the end of the horizon (or it is
/// done, or its order is not released).
struct PlannedTask {
  int task = 0;
  int person = -1;
  std::vector<Window> segments;  // at work on it; gaps are breaks and nights
  std::uint64_t lending = 0;     // who lends a hand from its start to its end, bits by index
  [[nodiscard]] bool placed() const { return !segments.empty(); }
  [[nodiscard]] int start() const { return segments.front().from; }
  [[nodiscard]] int end() const { return segments.back().to; }
  [[nodiscard]] Assignment where() const { return {person, start(), lending}; }  // when placed
  /// Who is at it, bits by index; nobody when it is not placed.
  [[nodiscard]] std::uint64_t people() const {
    return person < 0 ? 0 : person_bit(person) | lending;
  }
};

struct PlannedOrder {
  int order = 0;
  std::optional<int> ready;  // minute at which the last work and unattended time ends
  std::optional<Day> ready_day;
  int days_late = 0;  // after the day promised; 0 when on time or nothing was promised
  /// What the ready minute is made of, last first, adding up to the time from now to ready. The
  /// greatest is what to talk about.
  std::vector<Hold> bound_by;
};

/// In the order in which a plan is judged: the first that differs decides.
struct PlanScore {
  double weighted_days_late = 0;  // sum over promised orders of weight times days late
  int moved = 0;                  // tasks with another person or day than in the last plan
  double kit_days_waiting = 0;    // sum over orders: parts complete (or now) until ready
  double last_ready_days = 0;     // from now to the last ready minute
  double uneven_hours = 0;  // sum over weeks: hours that would have to change hands for everybody
                            // to be given the same share of their week; a task counts where it
                            // starts
  friend auto operator<=>(const PlanScore&, const PlanScore&) = default;
};

struct ShopPlan {
  std::vector<PlannedTask> tasks;    // one per task of the input, in its order
  std::vector<PlannedOrder> orders;  // one per order of the input, in its order
  PlanScore score;
  int rounds = 0;             // made; the best is returned
  std::string_view best_rule;  // which priority rule won, in words
};

struct PlanOptions {
  std::uint64_t seed = 1;
  int rounds = 12;                 // 1 to 10000; more rounds, never a worse plan
  double arrival_confidence = 0.8;  // uncertain parts are taken to be there on this quantile
};

/// Who does what, where and when.
///
/// Method:  serial schedule generation: tasks are taken in a priority order that respects what
///          comes after what; each is put where it starts earliest for one of the people who may do
///          it, gaps included; among equal starts the person with the fewest skills, so that
///          seniors stay free. A person who may do less is preferred even when starting up to
///          `patience` later; rounds vary priority rule, patience and a seeded perturbation.
/// Source:  serial schedule generation and its priority rules: Kolisch 1996 (from memory).
/// Uses:    most likely minutes, the middle of the walk-in share, nobody sick.
/// Exact:   every rule of PlanInput holds (check_shop_plan is the witness). Not proven best.
/// Errors:  those of problems_of; kOutOfRange for options.
[[nodiscard]] Result<ShopPlan> make_plan(const PlanInput& input, const PlanOptions& options = {});

/// Tasks in the order in which the shop takes them up when several could start: frozen, then as the
/// last plan has them. Without a last plan promised orders by due day and weight, then the others by
/// the day their parts are complete; within an order the longest remaining chain first. An order
/// that the last plan does not know goes before those that come later by that rule. Tasks that are
/// done or not released are left out. The promise simulation uses the same order. `input` must have
/// no problems.
[[nodiscard]] std::vector<int> take_up_order(const PlanInput& input);

/// Minute from which the parts of an arrival are in hand, at quantile `p` in (0, 1); past the
/// horizon when it is not expected within it.
[[nodiscard]] int in_hand(const PlanInput& input, const Arrival& arrival, double p);

}  // namespace rollwright::plan

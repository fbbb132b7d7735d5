#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

/// What a new plan changed beside the last one, and why.
namespace rollwright::plan {

enum class CauseKind {
  kArrival,       // its parts come after its old start; by: index into arrivals
  kAbsent,        // its person, or who was to lend a hand, is not there for it then; by: index into
                  // people
  kOverdue,       // it should have started before now; by: -1
  kBefore,        // what it comes after ends later; by: task
  kPersonTaken,   // its person now does something else then; by: task
  kStandTaken,    // the stands of its area are taken then; by: a task that has one and did not
  kBikeTaken,     // its bike is on another stand then; by: task
  kLendingTaken,  // who was to lend a hand now does something else then; by: task
  kLendingShort,  // the last plan had not as many people at it as it takes; by: -1
  kSecondPerson,  // its person now does what a second person must check; by: task
  kNewWork,       // work that the last plan did not know, or had no room for; by: order
  kBetter,        // nothing forces it: the plan costs less so; by: -1
};

struct Cause {
  CauseKind kind = CauseKind::kBetter;
  int by = -1;
  friend bool operator==(const Cause&, const Cause&) = default;
};

/// A task with another person or another day than in the last plan.
struct TaskChange {
  int task = 0;
  Assignment was;
  std::optional<Assignment> is;  // none: it found no room
  /// Why it is not where it was, then why that is so, and so on back to the event.
  std::vector<Cause> because;
};

/// A task with the person and day of the last plan, at which others lend a hand.
struct HandsChange {
  int task = 0;
  std::uint64_t was = 0;  // bits by index into people
  std::uint64_t is = 0;
};

struct PromiseAtRisk {
  int order = 0;
  int days_late = 0;          // in the new plan; 0 when it just holds
  int days_left = 0;          // from the ready day to the day promised; negative when late
  std::optional<Hold> held_by;  // what adds most to it; none when it finds no room
  int changed_tasks = 0;      // of this order
};

struct PlanChanges {
  std::vector<TaskChange> tasks;      // in the order of their old starts
  std::vector<HandsChange> hands;     // by task
  std::vector<PromiseAtRisk> at_risk;  // least days left first, then by index
};

/// `plan` is a plan of `input`, whose tasks carry the last plan as `previous`.
///
/// Method:  a task that is not where it was is tried there in the new plan: what stands in its way
///          is its cause, and where that is another task that has itself moved, its cause is next.
///          Where nothing stands in its way, the plan is better so.
/// At risk: promised orders ready later than `days_to_spare` days before the day promised.
/// Accuracy: where several things stand in the way, the first in the order of CauseKind is named.
[[nodiscard]] PlanChanges what_changed(const PlanInput& input, const ShopPlan& plan,
                                       int days_to_spare = 1, double arrival_confidence = 0.8);

/// "rear hub, order 118 is in hand only on ..."; "hand 2 is not at work then".
[[nodiscard]] std::string in_words(const PlanInput& input, const Cause& cause);

}  // namespace rollwright::plan

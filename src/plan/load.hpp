#pragma once

#include <cstdint>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

/// How full the weeks ahead are, by skill.
///
/// All hours in here are hours of hands on bikes: of a person at work, the productive share less the
/// middle of the walk-ins; of a task, its most likely minutes, and as many again for each who lends
/// a hand.
namespace rollwright::plan {

/// Work that asks for the same skills.
struct SkillLoad {
  SkillSet any_of = 0;       // as the tasks have it; every skill of the input for lending a hand
  std::uint64_t people = 0;  // who can, bits by index
  double planned = 0;        // hours that the plan puts into the week
  double due = 0;            // hours still to do of orders promised by the end of the week
};

/// The group of people that is fullest: no other has more work, that only they can do, for the hours
/// they have. Above 1 the work cannot all be done, in whatever sequence and by whom of them; at or
/// below 1 it can be shared out so that nobody has more than their hours (Hall's theorem).
struct Fullest {
  std::vector<SkillSet> any_of;  // what the work asks for, ascending; empty: there is no work
  std::uint64_t people = 0;      // bits by index
  double work = 0;               // hours
  double hours = 0;              // hours of these people; 0 with work: nobody is there
  [[nodiscard]] double share() const;  // work / hours; infinite when nobody is there
};

struct WeekLoad {
  Day first;  // a Monday, or the first day of the input
  Day last;   // a Sunday, or the last day of the horizon
  std::vector<double> there;        // hours, by person; in the first week from now on
  std::vector<double> planned;      // hours, by person
  std::vector<SkillLoad> skills;    // ascending by any_of; the same rows in every week
  Fullest planned_fullest;          // of the work that the plan puts into this week
  Fullest due_fullest;              // of what is promised by the end of this week, in all the hours
                                    // from now until then
};

/// The next `weeks` weeks, the running one first; fewer when the horizon ends before.
///
/// Method:  every union of skills that occurs is tried (at most 2^12).
/// Exact:   yes, for most likely minutes and the middle of the walk-ins.
/// Errors:  kOutOfRange for weeks outside 1 to 52, or more than 12 different sets of skills asked for.
/// `plan` is a plan of `input`, which has no problems.
[[nodiscard]] Result<std::vector<WeekLoad>> load_by_week(const PlanInput& input,
                                                         const ShopPlan& plan, int weeks);

}  // namespace rollwright::plan

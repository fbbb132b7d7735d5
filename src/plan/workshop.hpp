#pragma once

#include <bit>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "trade/spread.hpp"

/// The workshop as the planner sees it: who, where, which work, which parts are still on the road.
///
/// Time in here is whole minutes of local wall clock, counted from 00:00 of `PlanInput::first_day`;
/// every day has 1440 of them. The two clock changes of a year fall on nights, when nobody works.
namespace rollwright::plan {

inline constexpr int kMinutesPerDay = 1440;

/// From `from` (included) to `to` (not included), 0 <= from < to.
struct Window {
  int from = 0;
  int to = 0;
  friend bool operator==(const Window&, const Window&) = default;
};

/// Bit i stands for `PlanInput::skills[i]`; at most 64 skills. A senior who may do everything a
/// mechanic may do carries both bits: the planner knows of no ladder.
using SkillSet = std::uint64_t;

struct Person {
  std::string id;
  SkillSet skills = 0;
  std::vector<Window> hours;  // at work, ascending, not touching; breaks and days off are gaps
  double productive = 1;      // hands-on minutes per minute at work, in (0, 1]; 0.60 to 0.75 usual
  bool out = false;           // ill today, and nobody knows for how long
  double untold_leave = 0;    // share of days off that nobody has told yet, from
                              // `Disturbance::leave_from` on, [0, 1); in spells of `leave_days`
};

struct Area {
  std::string id;
  int stands = 1;  // how much work fits in at once; at least 1
};

/// Parts that are not in the house yet.
struct Arrival {
  std::string what;            // "rear hub, order 118"; also the name of its random numbers
  std::optional<Day> known;    // a confirmed or actual day; then the spread is not used
  trade::Spread working_days;  // days on which a carrier comes, counted from the day of `now`
  /// In place of the spread: chance of being here within k such days, never falling, in [0, 1].
  std::shared_ptr<const std::vector<double>> by;
  /// Arrivals of one name are late together (those of a supplier): the correlation of their normal
  /// scores, 0 to 0.95. No name: by itself.
  std::string together;
  double correlation = 0;
};

struct Order {
  std::string id;
  std::optional<Day> due;  // the day the customer was told; none while nothing was promised
  double weight = 1;       // of a day late, > 0; the owner's judgement of the customer
  bool released = true;    // false: not to be started yet (unsigned, unpaid); it is left out
  double chance = 1;       // of coming at all, (0, 1]: below 1 for orders that nobody has agreed yet;
                           // drawn by the simulation, and only that is given such orders
};

/// Where work may be put down and taken up again later by the same person.
enum class Pause {
  kAnywhere,   // over breaks and nights: pulling cables, lacing
  kWithinDay,  // over a break, never overnight: a bleed
  kNever,      // one go between two breaks: a bond, a press fit with a setting time
};

struct Assignment {
  int person = 0;  // index into people
  int start = 0;   // minute
  std::uint64_t lending = 0;  // others who lend a hand, bits by index into people
};

/// Bit i stands for `PlanInput::people[i]`.
[[nodiscard]] inline std::uint64_t person_bit(int person) { return 1ULL << person; }

inline constexpr int kMostHands = 4;

/// One operation of one order.
struct Task {
  std::string id;               // "118 A-61"; unique; also the name of its random numbers
  int order = 0;                // index into orders
  int area = 0;                 // index into areas
  bool on_bike = true;          // the bike itself is on the stand; false for wheels, kits, harness
  double minutes = 0;           // hands-on, most likely; > 0; the plan uses this
  trade::Spread spread;         // hands-on minutes for the simulation; median 0 means `minutes`
  SkillSet any_of = 0;          // one of these is enough; at least one bit
  std::vector<int> after;       // tasks of the same order that must have ended, unattended time too
  std::vector<int> parts;       // arrivals that must be in hand
  Pause pause = Pause::kAnywhere;
  int hands = 1;  // pairs of hands that it takes all at once, 1 to kMostHands
  int unattended = 0;           // minutes by the wall clock after the work: charging, curing
  std::vector<int> not_by_doer_of;  // second person: nobody who did one of these tasks or lent a
                                    // hand at it; each must come before this one or be done
  std::optional<Assignment> previous;  // where the last plan had it
  bool pinned = false;          // keep `previous` whatever the day
  bool done = false;            // finished before now; takes no time and blocks nothing
  int done_by = -1;             // person who did it, for the second-person rule; -1 unknown
  std::uint64_t done_lending = 0;  // who lent a hand at it, for the same rule
};

/// What cannot be foreseen. The plan uses the middle, the simulation draws.
struct Disturbance {
  double sick = 0;           // probability that a person is out on a day of work, [0, 1); from
                             // tomorrow on, for who is out today is known
  double sick_days = 1;      // days on end, in the mean, 1 to 365; 1: each day by itself
  int leave_from = 56;       // days from the first; leave that begins sooner has been told
  double leave_days = 10;    // of untold leave on end, in the mean, 1 to 365
  double walk_in_least = 0;  // share of a person's day that walk-ins and repairs take: drawn evenly
  double walk_in_most = 0;   // between these two for each person and day; 0 <= least <= most < 1
};

/// Everything a plan or a promise needs.
///
/// One bike is in one place: of the tasks of one order that are `on_bike`, one runs at a time, and
/// it holds one stand of its area from its start to its end, nights included. Work off the bike
/// holds a stand of its area in the same way.
///
/// A task takes `minutes / (productive * (1 - walk-ins))` minutes of its person's hours.
///
/// A task of several pairs of hands has one who does it, with the skill, and others who lend a
/// hand: anybody with a skill. They are at work and at nothing else from its start to its end, and
/// it is done in one go whatever its pause says. Who lends a hand at work has touched it: for a
/// second person that counts as having done it.
///
/// Frozen is a task that is pinned, or whose previous start lies before `frozen_until`. It keeps
/// its person, start and who lends a hand; what it comes after must be done or frozen too, its
/// parts in hand.
struct PlanInput {
  Day first_day;
  int days = 0;          // the horizon, 1 to 1000
  int now = 0;           // nothing new starts before
  int frozen_until = 0;  // minute
  std::vector<std::string> skills;
  std::vector<Person> people;  // at most 64
  std::vector<Area> areas;
  std::vector<Arrival> arrivals;
  std::vector<Order> orders;
  std::vector<Task> tasks;
  std::vector<int> delivery_days;  // days since first_day on which a carrier comes, ascending
  int delivery_minute = 720;       // of the day: parts that arrive are in hand from then on
  Disturbance disturbance;
};

/// Why something did not happen sooner, for the words of a page.
enum class HoldKind {
  kArrival,     // key: index into arrivals
  kPeople,      // everybody with the skill was busy; key: the SkillSet asked for
  kStand,       // no stand free; key: index into areas
  kHours,       // nobody with the skill was at work; key: the SkillSet asked for
  kWork,        // the work itself, on this order; key 0
  kUnattended,  // charging, curing; key 0
  kFrozen,      // the frozen start; key 0
  kHands,       // not enough people free at once; key: the pairs of hands asked for
};

struct Hold {
  HoldKind kind = HoldKind::kWork;
  std::uint64_t key = 0;
  int minutes = 0;  // by the wall clock, nights included
};

/// "parts: rear hub, order 118", "a free wheelbuilder", "a stand in assembly".
[[nodiscard]] std::string in_words(const PlanInput& input, const Hold& hold);

[[nodiscard]] inline bool is_frozen(const PlanInput& input, const Task& task) {
  return !task.done && task.previous &&
         (task.pinned || task.previous->start < input.frozen_until);
}

/// Later than any minute of any horizon, with room to add to it.
inline constexpr int kNever = 1'000'000'000;

/// Working days within which an uncertain arrival is here with probability `p` in (0, 1); infinity
/// when its table does not reach so far.
[[nodiscard]] double days_at(const Arrival& arrival, double p);

/// Minute from which an uncertain arrival is in hand when it takes `working_days` days on which a
/// carrier comes, counted from the day after now (rounded up; 0 is now). A known day does not ask
/// for them. kNever when no such day is in the horizon.
[[nodiscard]] int in_hand_after(const PlanInput& input, const Arrival& arrival,
                                double working_days);

/// "wheelbuilder or senior"
[[nodiscard]] std::string skill_words(const PlanInput& input, SkillSet skills);

/// People who may do the task, as bits by index: those with one of its skills.
[[nodiscard]] std::uint64_t who_can(const PlanInput& input, const Task& task);

/// People who may lend a hand: those with any skill at all.
[[nodiscard]] std::uint64_t who_can_lend(const PlanInput& input);

/// Where it may be put down: nowhere, when it takes several pairs of hands.
[[nodiscard]] inline Pause pause_of(const Task& task) {
  return task.hands > 1 ? Pause::kNever : task.pause;
}

/// Whether as many lend a hand there as it takes beside the one who does it.
[[nodiscard]] inline bool has_its_hands(const Task& task, const Assignment& where) {
  return task.hands == 1 || (std::popcount(where.lending) == task.hands - 1 &&
                             (where.lending & person_bit(where.person)) == 0);
}

/// Who is at the task in that place, as bits by index.
[[nodiscard]] inline std::uint64_t people_at(const Task& task, const Assignment& where) {
  return person_bit(where.person) | (task.hands > 1 ? where.lending : 0);
}

/// To be planned: not done, and its order is released.
[[nodiscard]] inline bool is_open(const PlanInput& input, const Task& task) {
  return !task.done && input.orders[static_cast<std::size_t>(task.order)].released;
}

/// The input is one that can be planned at all.
///
/// Errors: kOutOfRange for a field outside its range or an index that points nowhere;
///         kContradiction for a loop among tasks, frozen tasks that clash, a frozen task before
///         what it comes after; kRefused when nobody has the skill, when work that must not be
///         left overnight is longer than any day of anybody who can do it, when so many pairs of
///         hands are never there together for as long as it takes, or when the second person does
///         not exist. Every sentence names the task and its order.
[[nodiscard]] Problems problems_of(const PlanInput& input);

}  // namespace rollwright::plan

#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "plan/critical_chain.hpp"
#include "plan/person_hours.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// How many stands of an area are taken, as a step function of time, kept day by day.
class StandsTaken {
 public:
  StandsTaken(int stands, int days);
  /// First minute from which a stand is free again after the first full minute in span, or -1.
  [[nodiscard]] int clash(const Window& span) const;
  void take(const Window& span);
  void give_back(const Window& span);  // of what was taken
  [[nodiscard]] bool full_at(int minute) const;

 private:
  struct Step {
    int from = 0;
    int taken = 0;
  };
  using Steps = std::vector<Step>;  // ascending; each holds until the next or the end of the day

  [[nodiscard]] static std::size_t step_at(const Steps& steps, int minute);
  static std::size_t split_at(Steps& steps, int minute);
  static void join_at(Steps& steps, std::size_t step);
  void change(const Window& span, int by);

  int stands_;
  std::vector<Steps> days_;  // each begins with its midnight
};

/// What stays the same over all rounds of one planning run.
struct Shopfloor {
  Shopfloor(const PlanInput& input_, double arrival_confidence);

  const PlanInput& input;
  std::vector<PersonHours> hours;
  std::vector<int> skill_count;             // per person: fewer is kept for simpler work
  std::vector<std::uint64_t> able;          // per task: people with the skill
  std::uint64_t lending = 0;                // people who may lend a hand
  std::vector<int> minutes;  // per task and person: minutes at work that it takes
  std::vector<int> parts_in_hand;           // per task: minute; at least now
  std::vector<int> last_part;               // per task: arrival that decides it, -1 none
  std::vector<std::vector<int>> witnesses;  // per task: tasks whose second person it must leave
  std::vector<std::vector<int>> of_order;   // per order: its open tasks
};

/// Where a task is, breaks and nights included.
struct Spot {
  int person = -1;  // -1: it has no place
  int start = -1;
  int end = -1;
  std::uint64_t lending = 0;  // who lends a hand all the while, bits by index
  friend bool operator==(const Spot&, const Spot&) = default;

  [[nodiscard]] Assignment where() const { return {person, start, lending}; }
  /// Who is at it; not asked of a spot without a person.
  [[nodiscard]] std::uint64_t people() const { return person_bit(person) | lending; }
};

/// One schedule in the making: tasks are put down one after another; what is put down stays where
/// it is until it is taken out by name.
///
/// Invariants: the spots of all tasks keep every rule of the input at any time, except that a task
///             whose predecessor has no place has none either only once `put` was asked for it.
/// Threads: one per thread; the shopfloor must outlive it. A copy is a schedule of its own.
class WorkPlacer {
 public:
  WorkPlacer(const Shopfloor& floor, int patience);

  /// Puts the task where it ends soonest; people with fewer skills, or the one who had it in the
  /// last plan, are preferred when they end it within `patience` minutes of that. Everything it
  /// comes after must have been put before. Leaves it out when there is no room. Nothing is begun
  /// sooner than `not_before`. Of those who could lend a hand, who did in the last plan goes first,
  /// then who has fewer skills.
  void put(int task, int not_before = 0);

  /// Puts the task exactly there. False, and nothing is done, when it has a place, what it comes
  /// after or its parts are later, its people are not there, or the place is taken. Where nobody is
  /// named who lends a hand, whoever is free does.
  bool put_at(int task, const Assignment& where);
  /// The same where the last plan had it, with the same hands; false when it had not.
  bool put_as_before(int task);
  /// With the person and on the day of the last plan, as soon as may be on it; else false.
  bool put_on_its_day(int task);

  /// Who would lend a hand if the task were put there: of those named, or of all. Nobody when not
  /// so many can, or when its person cannot do it there in one go.
  [[nodiscard]] std::uint64_t hands_at(int task, const Assignment& where) const;

  /// Puts it where it was, which must be free.
  void put_back(int task, const Spot& spot);

  /// Gives its person, stand and bike free. Nothing that comes after it may have a place, except
  /// when that is put down again as well before anybody looks.
  void take_out(int task);

  void be_patient(int minutes) { patience_ = minutes; }

  [[nodiscard]] const std::vector<Spot>& spots() const { return spots_; }
  [[nodiscard]] std::vector<PlannedTask> placed() const;
  /// What held each placed task, for the critical chain. Call once all are put.
  [[nodiscard]] std::vector<Ran> ran() const;

 private:
  struct Earliest {
    int minute = 0;
    int because = Ran::kNow;
  };
  [[nodiscard]] std::optional<Earliest> earliest(int task) const;
  [[nodiscard]] std::uint64_t allowed(int task) const;
  [[nodiscard]] Spot choose(int task, int from) const;
  struct Latest {
    int start = kNever;
    int end = kNever;
  };
  /// `only`: of these, when there are any, who lends a hand.
  [[nodiscard]] Spot fit(int task, int person, int from, const Latest& latest,
                         std::uint64_t only = 0) const;
  [[nodiscard]] std::uint64_t doers_before(int task) const;
  [[nodiscard]] int people_needed_for(int witness, int but) const;
  [[nodiscard]] Ran ran_of(int task) const;

  // Several pairs of hands: lend_hands.cpp.
  struct Lent {
    int free_again = -1;        // first minute at which enough of them could; -1: they can
    std::uint64_t people = 0;
  };
  [[nodiscard]] Lent lend(int task, int doer, const Window& span, std::uint64_t only) const;
  [[nodiscard]] std::uint64_t may_lend(int task, int doer) const;
  [[nodiscard]] std::uint64_t rather(int task, std::uint64_t free) const;
  [[nodiscard]] bool waits_for_hands(int task, int from) const;
  void find_wait(int task, Ran& ran) const;

  const Shopfloor* floor_;
  int patience_;
  std::vector<Spot> spots_;
  std::vector<Taken> people_;  // in minutes at work
  std::vector<Taken> bikes_;   // on the wall clock
  std::vector<StandsTaken> areas_;
};

}  // namespace rollwright::plan

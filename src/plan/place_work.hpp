#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "plan/critical_chain.hpp"
#include "plan/person_hours.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// Taken spans of something there is one of: a person, a bike.
class Taken {
 public:
  /// End of the first taken span that overlaps, or -1.
  [[nodiscard]] int clash(const Window& span) const;
  void take(const Window& span);
  [[nodiscard]] const std::vector<Window>& spans() const { return spans_; }

 private:
  std::vector<Window> spans_;  // ascending, apart
};

/// How many stands of an area are taken, as a step function of time.
class StandsTaken {
 public:
  explicit StandsTaken(int stands) : stands_(stands), steps_{{0, 0}} {}
  /// First minute from which a stand is free again after the first full minute in span, or -1.
  [[nodiscard]] int clash(const Window& span) const;
  void take(const Window& span);
  [[nodiscard]] bool full_at(int minute) const;

 private:
  struct Step {
    int from = 0;
    int taken = 0;
  };
  [[nodiscard]] std::size_t step_at(int minute) const;
  std::size_t split_at(int minute);

  int stands_;
  std::vector<Step> steps_;  // ascending; each holds until the next
};

/// What stays the same over all rounds of one planning run.
struct Shopfloor {
  Shopfloor(const PlanInput& input_, double arrival_confidence);

  const PlanInput& input;
  std::vector<PersonHours> hours;
  std::vector<int> skill_count;             // per person: fewer is kept for simpler work
  std::vector<std::uint64_t> able;          // per task: people with the skill
  std::vector<int> parts_in_hand;           // per task: minute; at least now
  std::vector<int> last_part;               // per task: arrival that decides it, -1 none
  std::vector<std::vector<int>> witnesses;  // per task: tasks whose second person it must leave
};

/// One schedule in the making: tasks are put down one after another, none is moved.
class WorkPlacer {
 public:
  WorkPlacer(const Shopfloor& floor, int patience);

  /// Puts the task where it ends soonest; people with fewer skills, or the one who had it in the
  /// last plan, are preferred when they end it within `patience` minutes of that. Everything it
  /// comes after must have been put before. Leaves it out when there is no room.
  void put(int task);

  [[nodiscard]] const std::vector<PlannedTask>& placed() const { return placed_; }
  /// What held each placed task, for the critical chain. Call once all are put.
  [[nodiscard]] std::vector<Ran> ran() const;

 private:
  struct Choice {
    int person = -1;
    PersonHours::Stay stay;
  };
  [[nodiscard]] bool set_earliest(int task, Ran& ran) const;
  [[nodiscard]] std::uint64_t allowed(int task) const;
  [[nodiscard]] Choice choose(int task, int from) const;
  [[nodiscard]] PersonHours::Stay fit(int task, int person, int from) const;
  [[nodiscard]] std::uint64_t doers_before(int task) const;
  void keep(int task, const Choice& choice);
  void find_wait(int task, Ran& ran) const;

  const Shopfloor& floor_;
  int patience_;
  std::vector<PlannedTask> placed_;
  std::vector<Ran> ran_;
  std::vector<Taken> people_;
  std::vector<Taken> bikes_;
  std::vector<StandsTaken> areas_;
};

}  // namespace rollwright::plan

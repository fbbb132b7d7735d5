#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/random.hpp"
#include "plan/calendar.hpp"
#include "plan/shop_plan.hpp"
#include "plan/workshop.hpp"

/// Invented workshops for the tests: one small and plain, to be worked by hand, and random ones.
namespace rollwright::plan::cases {

inline constexpr SkillSet kMechanic = 1;
inline constexpr SkillSet kSenior = 2;
inline constexpr SkillSet kWheels = 4;
inline constexpr SkillSet kDrive = 8;

/// Monday 4 January 2027.
inline Day monday() { return *parse_day("2027-01-04"); }

/// At a clock time of a day of the horizon.
inline int minute(int day, int hour, int of_hour = 0) {
  return day * kMinutesPerDay + hour * 60 + of_hour;
}

/// Monday to Friday 9:00-12:30 and 13:00-18:00: 210 and 300, 510 minutes a day.
inline std::vector<Window> plain_hours(int days) {
  return *working_windows(*parse_week("Mon-Fri", "9:00-12:30,13:00-18:00"), {}, {monday(), days});
}

/// Four weeks, no people, no orders, one area "assembly" with two stands; now is Monday 9:00.
inline PlanInput empty_shop(int days = 28) {
  PlanInput input;
  input.first_day = monday();
  input.days = days;
  input.now = minute(0, 9);
  input.skills = {"mechanic", "senior", "wheelbuilder", "drive"};
  input.areas = {{"assembly", 2}};
  input.delivery_days = carrier_days({monday(), days}, {});
  return input;
}

inline int add_person(PlanInput& input, std::string id, SkillSet skills, double productive = 1) {
  input.people.push_back({.id = std::move(id),
                          .skills = skills,
                          .hours = plain_hours(input.days),
                          .productive = productive});
  return static_cast<int>(input.people.size()) - 1;
}

inline int add_order(PlanInput& input, std::string id) {
  input.orders.push_back({.id = std::move(id)});
  return static_cast<int>(input.orders.size()) - 1;
}

/// A mechanic's task on the bike in the first area.
inline int add_task(PlanInput& input, int order, double minutes, std::vector<int> after = {}) {
  input.tasks.push_back(
      {.id = input.orders[static_cast<std::size_t>(order)].id + " " +
             std::to_string(input.tasks.size()),
       .order = order,
       .minutes = minutes,
       .any_of = kMechanic,
       .after = std::move(after)});
  return static_cast<int>(input.tasks.size()) - 1;
}

inline int add_arrival(PlanInput& input, std::string what, trade::Spread days) {
  input.arrivals.push_back({.what = std::move(what), .working_days = std::move(days)});
  return static_cast<int>(input.arrivals.size()) - 1;
}

/// Ada's morning begins with 100 minutes that do not move; the lift of another order takes two.
struct Lift {
  PlanInput input = empty_shop();
  int ada = add_person(input, "Ada", kMechanic);
  int kim = add_person(input, "Kim", kWheels);
  int before = add_task(input, add_order(input, "118"), 100);
  int lift = add_task(input, add_order(input, "119"), 20);
  Lift() {
    input.areas[0].stands = 3;
    input.tasks[static_cast<std::size_t>(lift)].hands = 2;
    input.tasks[static_cast<std::size_t>(before)].previous = {ada, minute(0, 9)};
    input.tasks[static_cast<std::size_t>(before)].pinned = true;
  }
  /// Those minutes are Kim's.
  void keep_kim_busy() {
    input.tasks[static_cast<std::size_t>(before)].any_of = kWheels;
    input.tasks[static_cast<std::size_t>(before)].previous->person = kim;
  }
};

struct Size {
  int orders = 4;
  int tasks_per_order = 8;
  int days = 60;
};

/// A workshop with something of everything: part-time people, several skills and areas, parts on
/// the road, bleeds and bonds, unattended time, second persons, promised days.
PlanInput random_workshop(Random& random, const Size& size);

/// Gives some tasks two to four pairs of hands, where that can be planned at all; how many.
int add_hands(Random& random, PlanInput& input);

/// The same shop with part of a plan of it frozen, as on the next morning.
PlanInput with_frozen_start(const PlanInput& input, const ShopPlan& plan, int frozen_days);

}  // namespace rollwright::plan::cases

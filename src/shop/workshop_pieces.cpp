#include "shop/workshop_pieces.hpp"

#include <algorithm>
#include <chrono>

#include "trade/skills.hpp"

namespace rollwright::shop {
namespace {

/// Who is ill is out for a working week in the mean, give or take (our own choice: trade notes and
/// owners tell the share of days only).
constexpr double kSickDays = 7;  // calendar days

/// Share of the days from Disturbance::leave_from on.
double untold_leave(const trade::Person& person, const plan::Horizon& horizon) {
  constexpr double kYear = 365;
  const Day from = horizon.first + std::chrono::days(plan::Disturbance{}.leave_from);
  const Day end = horizon.first + std::chrono::days(horizon.days);  // not included
  if (end <= from) return 0;
  const auto days = static_cast<double>((end - from).count());
  double told = 0;
  for (const auto& [first, last] : person.away) {
    const auto of_it = (std::min(last + std::chrono::days(1), end) - std::max(first, from)).count();
    told += static_cast<double>(std::max<std::int64_t>(0, of_it));
  }
  return std::max(0.0, kLeaveDays / kYear - told / days);
}

}  // namespace

bool is_planned(const trade::Operation& operation) { return operation.area != "handover"; }

plan::Task task_for(const trade::Operation& operation, const plan::LearnedMinutes& minutes) {
  plan::Task task;
  task.on_bike = operation.needs_bike_stand;
  task.minutes = (minutes.low + minutes.high) / 2;
  task.spread = {.least = 0,
                 .median = minutes.median,
                 .sigma = minutes.sigma,
                 .basis = minutes.times == 0 ? "range of the operation" : "times taken"};
  task.any_of = trade::skill_bit(operation.skill);
  task.pause = operation.may_pause_overnight ? plan::Pause::kAnywhere : plan::Pause::kWithinDay;
  task.unattended = static_cast<int>(operation.unattended_minutes);
  return task;
}

Result<std::vector<plan::Window>> windows_of(const trade::Person& person,
                                             const std::vector<Day>& closed,
                                             const plan::Horizon& horizon) {
  plan::WeeklyHours week;
  for (std::size_t day = 0; day < 7; ++day) {
    for (const auto& [from, to] : person.week[day]) week.monday_first[day].push_back({from, to});
  }
  std::vector<plan::Absence> away;
  for (const auto& [first, last] : person.away) away.push_back({.first = first, .last = last});
  for (const Day day : closed) away.push_back({.first = day, .last = day});
  return plan::working_windows(week, away, horizon);
}

Result<plan::Person> person_for(const trade::Person& person, const std::vector<Day>& closed,
                                const plan::Horizon& horizon) {
  auto hours = windows_of(person, closed, horizon);
  if (!hours) return std::unexpected(hours.error());
  return plan::Person{.id = person.id.text,
                      .skills = trade::skills_held(person.skills),
                      .hours = std::move(*hours),
                      .productive = person.productive,
                      .untold_leave = untold_leave(person, horizon)};
}

plan::Disturbance disturbance_for(const trade::ShopSettings& settings) {
  return {.sick = settings.absence_chance,
          .sick_days = kSickDays,
          .walk_in_least = settings.walk_in_share * 0.5,
          .walk_in_most = std::min(0.9, settings.walk_in_share * 1.5)};
}

}  // namespace rollwright::shop

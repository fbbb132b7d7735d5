#include "plan/load.hpp"

#include <algorithm>
#include <bit>
#include <limits>
#include <map>

#include <fmt/format.h>

#include "plan/calendar.hpp"

namespace rollwright::plan {
namespace {

constexpr std::size_t kMostSkillSets = 12;

/// Work by the skills asked for, hours by person.
struct Balance {
  std::vector<double> work;
  std::vector<double> hours;
};

Fullest fullest_of(const std::vector<SkillLoad>& rows, const Balance& balance) {
  Fullest fullest;
  const std::size_t groups = std::size_t{1} << rows.size();
  for (std::size_t group = 1; group < groups; ++group) {
    Fullest asked;
    for (std::size_t row = 0; row < rows.size(); ++row) {
      if ((group >> row & 1) == 0 || balance.work[row] <= 0) continue;
      asked.any_of.push_back(rows[row].any_of);
      asked.people |= rows[row].people;
      asked.work += balance.work[row];
    }
    for (std::size_t person = 0; person < balance.hours.size(); ++person) {
      if ((asked.people >> person & 1) != 0) asked.hours += balance.hours[person];
    }
    if (asked.work > 0 && asked.share() > fullest.share() * (1 + 1e-12)) fullest = std::move(asked);
  }
  return fullest;
}

class Weeks {
 public:
  Weeks(const PlanInput& input, const ShopPlan& plan) : input_(input), plan_(plan) {}

  Result<std::vector<WeekLoad>> load(int weeks) {
    if (weeks < 1 || weeks > 52) {
      return refuse(Code::kOutOfRange, fmt::format("{} weeks: 1 to 52 can be shown", weeks),
                    {.field = "weeks", .value = std::to_string(weeks)});
    }
    lay_out(weeks);
    add_rows();
    if (rows_.size() > kMostSkillSets) {
      return refuse(Code::kOutOfRange,
                    fmt::format("work asks for {} different sets of skills; at most {} can be "
                                "weighed against each other",
                                rows_.size(), kMostSkillSets),
                    {.field = "any_of"});
    }
    for (WeekLoad& week : weeks_) week.skills = rows_;
    add_hours();
    add_work();
    add_fullest();
    return std::move(weeks_);
  }

 private:
  void lay_out(int weeks) {
    const Day end = input_.first_day + std::chrono::days(input_.days);  // not included
    Day first = day_at(input_.first_day, input_.now);
    for (int i = 0; i < weeks && first < end; ++i) {
      const std::chrono::weekday day(first);
      const Day monday = first + std::chrono::days(8 - static_cast<int>(day.iso_encoding()));
      weeks_.push_back({.first = first, .last = std::min(monday, end) - std::chrono::days(1)});
      first = monday;
    }
  }

  /// One row for each set of skills that open work asks for.
  void add_rows() {
    std::map<SkillSet, SkillLoad> rows;
    for (const Task& task : input_.tasks) {
      if (!is_open(input_, task)) continue;
      rows.try_emplace(task.any_of,
                       SkillLoad{.any_of = task.any_of, .people = who_can(input_, task)});
      if (task.hands == 1) continue;
      rows.try_emplace(anybody(), SkillLoad{.any_of = anybody(), .people = who_can_lend(input_)});
    }
    for (const auto& [any_of, row] : rows) rows_.push_back(row);
  }

  SkillSet anybody() const {
    return input_.skills.size() == 64 ? ~SkillSet{0} : (SkillSet{1} << input_.skills.size()) - 1;
  }

  std::size_t row_of(SkillSet any_of) const {
    return static_cast<std::size_t>(
        std::ranges::lower_bound(rows_, any_of, {}, &SkillLoad::any_of) - rows_.begin());
  }

  Window minutes_of(const WeekLoad& week) const {
    return {std::max(input_.now, minute_at(input_.first_day, week.first)),
            minute_at(input_.first_day, week.last) + kMinutesPerDay};
  }

  static int shared(const Window& a, const Window& b) {
    return std::max(0, std::min(a.to, b.to) - std::max(a.from, b.from));
  }

  void add_hours() {
    const double own =
        1 - (input_.disturbance.walk_in_least + input_.disturbance.walk_in_most) / 2;
    for (WeekLoad& week : weeks_) {
      const Window span = minutes_of(week);
      for (const Person& person : input_.people) {
        int at_work = 0;
        for (const Window& window : person.hours) at_work += shared(window, span);
        week.there.push_back(at_work * person.productive * own / 60);
      }
      week.planned.assign(input_.people.size(), 0);
    }
  }

  void add_work() {
    for (const PlannedTask& planned : plan_.tasks) {
      const Task& task = input_.tasks[static_cast<std::size_t>(planned.task)];
      if (!is_open(input_, task)) continue;
      const std::size_t row = row_of(task.any_of);
      const std::optional<Day> due = input_.orders[static_cast<std::size_t>(task.order)].due;
      double all = 0;
      for (const Window& segment : planned.segments) all += segment.to - segment.from;
      for (WeekLoad& week : weeks_) {
        if (due && *due <= week.last) add_due(week, task, row);
        double inside = 0;
        for (const Window& segment : planned.segments) inside += shared(segment, minutes_of(week));
        if (inside == 0) continue;
        const double hours = task.minutes / 60 * inside / all;
        week.skills[row].planned += hours;
        week.planned[static_cast<std::size_t>(planned.person)] += hours;
        if (planned.lending != 0) add_lending(week, planned.lending, hours);
      }
    }
  }

  void add_due(WeekLoad& week, const Task& task, std::size_t row) const {
    week.skills[row].due += task.minutes / 60;
    if (task.hands > 1) week.skills[row_of(anybody())].due += (task.hands - 1) * task.minutes / 60;
  }

  void add_lending(WeekLoad& week, std::uint64_t people, double hours) const {
    SkillLoad& row = week.skills[row_of(anybody())];
    for (; people != 0; people &= people - 1) {
      row.planned += hours;
      week.planned[static_cast<std::size_t>(std::countr_zero(people))] += hours;
    }
  }

  void add_fullest() {
    std::vector<double> until(input_.people.size(), 0);
    for (WeekLoad& week : weeks_) {
      Balance planned{.work = {}, .hours = week.there};
      Balance due;
      for (const SkillLoad& row : week.skills) {
        planned.work.push_back(row.planned);
        due.work.push_back(row.due);
      }
      for (std::size_t i = 0; i < until.size(); ++i) until[i] += week.there[i];
      due.hours = until;
      week.planned_fullest = fullest_of(rows_, planned);
      week.due_fullest = fullest_of(rows_, due);
    }
  }

  const PlanInput& input_;
  const ShopPlan& plan_;
  std::vector<SkillLoad> rows_;  // ascending by any_of
  std::vector<WeekLoad> weeks_;
};

}  // namespace

double Fullest::share() const {
  if (work <= 0) return 0;
  return hours > 0 ? work / hours : std::numeric_limits<double>::infinity();
}

Result<std::vector<WeekLoad>> load_by_week(const PlanInput& input, const ShopPlan& plan,
                                           int weeks) {
  return Weeks(input, plan).load(weeks);
}

}  // namespace rollwright::plan

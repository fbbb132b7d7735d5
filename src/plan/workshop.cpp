#include "plan/workshop.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/calendar.hpp"

namespace rollwright::plan {

std::string skill_words(const PlanInput& input, SkillSet skills) {
  std::string words;
  for (std::size_t bit = 0; bit < input.skills.size(); ++bit) {
    if ((skills >> bit & 1) == 0) continue;
    if (!words.empty()) words += " or ";
    words += input.skills[bit];
  }
  return words.empty() ? "nobody" : words;
}

std::string in_words(const PlanInput& input, const Hold& hold) {
  switch (hold.kind) {
    case HoldKind::kArrival:
      return "parts: " + input.arrivals[static_cast<std::size_t>(hold.key)].what;
    case HoldKind::kPeople:
      return "somebody free: " + skill_words(input, hold.key);
    case HoldKind::kStand:
      return "a free stand: " + input.areas[static_cast<std::size_t>(hold.key)].id;
    case HoldKind::kHours:
      return "hours of work: " + skill_words(input, hold.key);
    case HoldKind::kWork:
      return "the work itself";
    case HoldKind::kUnattended:
      return "charging and curing";
    case HoldKind::kFrozen:
      return "the frozen start";
    case HoldKind::kHands:
      return hold.key == 2 ? "a second pair of hands"
                           : std::to_string(hold.key) + " pairs of hands at once";
  }
  return {};
}

std::uint64_t who_can(const PlanInput& input, const Task& task) {
  std::uint64_t able = 0;
  for (std::size_t at = 0; at < input.people.size(); ++at) {
    if ((input.people[at].skills & task.any_of) != 0) able |= 1ULL << at;
  }
  return able;
}

std::uint64_t who_can_lend(const PlanInput& input) {
  std::uint64_t able = 0;
  for (std::size_t at = 0; at < input.people.size(); ++at) {
    if (input.people[at].skills != 0) able |= 1ULL << at;
  }
  return able;
}

double days_at(const Arrival& arrival, double p) {
  if (!arrival.by) return trade::quantile(arrival.working_days, p);
  const auto reached = std::ranges::lower_bound(*arrival.by, p);
  if (reached == arrival.by->end()) return std::numeric_limits<double>::infinity();
  return static_cast<double>(reached - arrival.by->begin());
}

int in_hand_after(const PlanInput& input, const Arrival& arrival, double working_days) {
  if (arrival.known) return minute_at(input.first_day, *arrival.known) + input.delivery_minute;
  // The allowance keeps a certain "5 days" from becoming 6 by the last binary place.
  const double count = std::ceil(working_days - 1e-9);
  if (!(count > 0)) return input.now;
  const auto tomorrow =
      std::ranges::upper_bound(input.delivery_days, input.now / kMinutesPerDay);
  const auto left = static_cast<double>(input.delivery_days.end() - tomorrow);
  if (count > left) return kNever;
  return tomorrow[static_cast<long>(count) - 1] * kMinutesPerDay + input.delivery_minute;
}

}  // namespace rollwright::plan

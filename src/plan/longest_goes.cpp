#include "plan/longest_goes.hpp"

#include <algorithm>

namespace rollwright::plan {
namespace {

int longest_go(const Person& person, Pause pause, int from) {
  int most = 0;
  int go = 0;
  int day = -1;
  for (const Window& window : person.hours) {
    if (window.to <= from) continue;
    const bool same_day = window.from / kMinutesPerDay == day;
    const bool goes_on =
        pause == Pause::kAnywhere || (pause == Pause::kWithinDay && same_day);
    day = window.from / kMinutesPerDay;
    go = (goes_on ? go : 0) + window.to - std::max(window.from, from);
    most = std::max(most, go);
  }
  return most;
}

/// Longest from a start in the person's window at which `others` people are there for as long. The
/// best start is that of a window of one of them.
int longest_from(const PlanInput& input, std::size_t person, const Window& own, int start,
                 std::size_t others) {
  std::vector<int> until;
  for (std::size_t other = 0; other < input.people.size(); ++other) {
    if (other == person || input.people[other].skills == 0) continue;
    const std::vector<Window>& hours = input.people[other].hours;
    const auto there = std::ranges::upper_bound(hours, start, {}, &Window::to);
    if (there != hours.end() && there->from <= start) until.push_back(there->to);
  }
  if (until.size() < others) return 0;
  std::ranges::sort(until, std::ranges::greater{});
  return std::min(own.to, until[others - 1]) - start;
}

int longest_together(const PlanInput& input, std::size_t person, int hands) {
  int most = 0;
  for (const Window& own : input.people[person].hours) {
    const int from = std::max(own.from, input.now);
    if (own.to - from <= most) continue;
    const auto others = static_cast<std::size_t>(hands - 1);
    most = std::max(most, longest_from(input, person, own, from, others));
    for (const Person& other : input.people) {
      auto next = std::ranges::upper_bound(other.hours, from, {}, &Window::from);
      for (; next != other.hours.end() && next->from < own.to; ++next) {
        most = std::max(most, longest_from(input, person, own, next->from, others));
      }
    }
  }
  return most;
}

}  // namespace

LongestGoes::LongestGoes(const PlanInput& input) {
  for (const Person& person : input.people) {
    for (const Pause pause : {Pause::kAnywhere, Pause::kWithinDay, Pause::kNever}) {
      minutes_.push_back(longest_go(person, pause, input.now));
    }
  }
  for (const Task& task : input.tasks) {
    std::vector<int>& together = together_[static_cast<std::size_t>(task.hands)];
    if (task.hands == 1 || !together.empty()) continue;
    for (std::size_t person = 0; person < input.people.size(); ++person) {
      together.push_back(longest_together(input, person, task.hands));
    }
  }
}

}  // namespace rollwright::plan

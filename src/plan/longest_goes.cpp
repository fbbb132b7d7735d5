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

}  // namespace

LongestGoes::LongestGoes(const PlanInput& input) {
  for (const Person& person : input.people) {
    for (const Pause pause : {Pause::kAnywhere, Pause::kWithinDay, Pause::kNever}) {
      minutes_.push_back(longest_go(person, pause, input.now));
    }
  }
}

}  // namespace rollwright::plan

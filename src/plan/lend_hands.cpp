#include <algorithm>
#include <array>
#include <bit>
#include <tuple>

#include "base/index.hpp"
#include "plan/place_work.hpp"

/// Who lends a hand at work of several pairs of hands.
namespace rollwright::plan {

/// Anybody with a skill, but for whom a second person's task will need. Cautious where several lend
/// a hand: of the people left for that task none does, unless enough would be left if all did.
std::uint64_t WorkPlacer::may_lend(int task, int doer) const {
  std::uint64_t people = floor_->lending & ~person_bit(doer);
  const int lending = floor_->input.tasks[at(task)].hands - 1;
  for (const int witness : floor_->witnesses[at(task)]) {
    if (!is_open(floor_->input, floor_->input.tasks[at(witness)])) continue;
    if (const int own = spots_[at(witness)].person; own >= 0) people &= ~person_bit(own);
    const std::uint64_t left =
        floor_->able[at(witness)] & ~doers_before(witness) & ~person_bit(doer);
    if (std::popcount(left) < people_needed_for(witness, task) + lending) people &= ~left;
  }
  return people;
}

/// Of those who are free, as many as it takes: who did in the last plan first, then fewer skills.
std::uint64_t WorkPlacer::rather(int task, std::uint64_t free) const {
  const Task& what = floor_->input.tasks[at(task)];
  const std::uint64_t before = what.previous ? what.previous->lending : 0;
  std::uint64_t taken = 0;
  for (int wanted = what.hands - 1; wanted > 0; --wanted) {
    int best = -1;
    auto best_rank = std::tuple(true, 0);
    for (std::uint64_t left = free & ~taken; left != 0; left &= left - 1) {
      const int person = std::countr_zero(left);
      const auto rank =
          std::tuple((before >> person & 1) == 0, floor_->skill_count[at(person)]);
      if (best >= 0 && best_rank <= rank) continue;
      best = person;
      best_rank = rank;
    }
    taken |= person_bit(best);
  }
  return taken;
}

/// Each of them could from some minute on for as long as it takes. So many can together no sooner
/// than the last of the so many who can soonest.
WorkPlacer::Lent WorkPlacer::lend(int task, int doer, const Window& span,
                                  std::uint64_t only) const {
  std::uint64_t people = may_lend(task, doer);
  if (only != 0) people &= only;
  const auto wanted = static_cast<long>(floor_->input.tasks[at(task)].hands - 1);
  std::array<int, 64> could;
  long count = 0;
  std::uint64_t free = 0;
  for (; people != 0; people &= people - 1) {
    const int person = std::countr_zero(people);
    const auto stay = floor_->hours[at(person)].earliest(span.from, span.to - span.from,
                                                         Pause::kNever, people_[at(person)]);
    if (stay.start < 0) continue;
    if (stay.start == span.from) free |= person_bit(person);
    could[at(static_cast<int>(count++))] = stay.start;
  }
  if (std::popcount(free) >= wanted) return {.people = rather(task, free)};
  if (count < wanted) return {.free_again = kNever};
  std::nth_element(could.begin(), could.begin() + wanted - 1, could.begin() + count);
  return {.free_again = could[at(static_cast<int>(wanted - 1))]};
}

std::uint64_t WorkPlacer::hands_at(int task, const Assignment& where) const {
  const int minutes = floor_->minutes[at(task) * people_.size() + at(where.person)];
  const auto stay = floor_->hours[at(where.person)].earliest(where.start, minutes, Pause::kNever);
  if (stay.start != where.start) return 0;
  const Lent lent = lend(task, where.person, {stay.start, stay.end}, where.lending);
  return lent.free_again < 0 ? lent.people : 0;
}

/// The one who does it could have begun sooner alone.
bool WorkPlacer::waits_for_hands(int task, int from) const {
  const Spot& spot = spots_[at(task)];
  const auto alone = floor_->hours[at(spot.person)].earliest(
      from, spot.end - spot.start, Pause::kNever, people_[at(spot.person)]);
  return alone.start >= 0 && alone.start < spot.start;
}

}  // namespace rollwright::plan

#include "plan/improve_project.hpp"

#include <algorithm>
#include <limits>

#include "plan/project_bound.hpp"

namespace rollwright::plan {
namespace {

/// One evaluation: the list itself, pushed late, pushed early.
constexpr long long kSchedulesPerList = 3;

/// FNV-1a over the starts (Fowler, Noll and Vo; constants from memory). A clash would only make the
/// search overlook one schedule.
std::uint64_t mark_of(const Starts& starts) {
  std::uint64_t mark = 0xcbf29ce484222325ULL;
  for (const int start : starts) {
    mark = (mark ^ static_cast<std::uint64_t>(start)) * 0x100000001b3ULL;
  }
  return mark;
}

}  // namespace

ProjectImprover::ProjectImprover(const Project& project, std::uint64_t seed,
                                 ImproveSettings settings)
    : project_(&project),
      settings_(settings),
      random_(seed),
      scheduler_(project),
      justifier_(project),
      tails_(surroundings_of(project).tails),
      lower_bound_(bounds_of(project).best()),
      waits_(tails_.size()),
      listed_(tails_.size()) {
  ROLLWRIGHT_PROMISE(settings_.population >= 2);
}

void ProjectImprover::run_to(long long budget) {
  while (!started_ || (!proved() && schedules() + kSchedulesPerList <= budget)) {
    if (schedules() - moved_at_ > settings_.patience) {
      members_.clear();
      moved_at_ = schedules();
    }
    if (members_.size() < static_cast<std::size_t>(settings_.population)) {
      draw_list();
    } else {
      breed_list();
      mutate_list();
    }
    admit(evaluate_list());
  }
}

// Each activity that may come next gets one lot, and one more for each time unit by which its tail
// exceeds the shortest of theirs.
std::size_t ProjectImprover::draw_eligible() {
  int shortest = std::numeric_limits<int>::max();
  std::uint64_t lots = 0;
  for (const int i : eligible_) {
    const int tail = tails_[static_cast<std::size_t>(i)];
    shortest = std::min(shortest, tail);
    lots += static_cast<std::uint64_t>(tail) + 1;
  }
  lots -= static_cast<std::uint64_t>(shortest) * eligible_.size();
  std::uint64_t drawn = random_.below(lots);
  for (std::size_t e = 0;; ++e) {
    const int tail = tails_[static_cast<std::size_t>(eligible_[e])];
    const auto own = static_cast<std::uint64_t>(tail - shortest) + 1;
    if (drawn < own) return e;
    drawn -= own;
  }
}

void ProjectImprover::draw_list() {
  list_.clear();
  eligible_.clear();
  for (int i = 0; i < project_->size(); ++i) {
    const std::size_t waits = project_->predecessors(i).size();
    waits_[static_cast<std::size_t>(i)] = static_cast<int>(waits);
    if (waits == 0) eligible_.push_back(i);
  }
  while (!eligible_.empty()) {
    const std::size_t drawn = draw_eligible();
    const int activity = eligible_[drawn];
    eligible_[drawn] = eligible_.back();
    eligible_.pop_back();
    list_.push_back(activity);
    for (const int next : project_->successors(activity)) {
      if (--waits_[static_cast<std::size_t>(next)] == 0) eligible_.push_back(next);
    }
  }
}

const ProjectImprover::Member& ProjectImprover::pick_parent() {
  const Member& one = members_[random_.below(members_.size())];
  const Member& other = members_[random_.below(members_.size())];
  return other.makespan < one.makespan ? other : one;
}

// Two-point crossover: the ends follow the mother's order, the middle the father's. What both have
// in order stays in order, so no activity comes before its predecessors.
void ProjectImprover::breed_list() {
  const Member& mother = pick_parent();
  const Member& father = pick_parent();
  const std::size_t size = mother.list.size();
  const std::size_t one = random_.below(size + 1);
  const std::size_t other = random_.below(size + 1);
  list_.clear();
  listed_.assign(size, false);
  const auto take_up_to = [&](std::size_t length, const ActivityList& parent) {
    for (std::size_t at = 0; list_.size() < length && at < size; ++at) {
      const auto activity = static_cast<std::size_t>(parent[at]);
      if (listed_[activity]) continue;
      listed_[activity] = true;
      list_.push_back(parent[at]);
    }
  };
  take_up_to(std::min(one, other), mother.list);
  take_up_to(std::max(one, other), father.list);
  take_up_to(size, mother.list);
}

void ProjectImprover::mutate_list() {
  for (std::size_t at = 0; at + 1 < list_.size(); ++at) {
    if (random_.uniform() >= settings_.mutation) continue;
    const std::span<const int> after = project_->successors(list_[at]);
    if (std::binary_search(after.begin(), after.end(), list_[at + 1])) continue;
    std::swap(list_[at], list_[at + 1]);
  }
}

ProjectImprover::Member ProjectImprover::evaluate_list() {
  scheduler_.forward(list_, schedule_);
  justifier_.justify_twice(scheduler_, schedule_);
  if (!started_ || schedule_.makespan < best_.makespan) best_ = schedule_;
  started_ = true;
  Member member{.makespan = schedule_.makespan, .mark = mark_of(schedule_.starts)};
  justifier_.list_by_start(schedule_, member.list);
  return member;
}

// A newcomer takes the place of any one of the longest, if it is no longer and no twin of another.
void ProjectImprover::admit(Member newcomer) {
  int longest = 0;
  std::size_t how_many = 0;
  for (const Member& member : members_) {
    if (member.mark == newcomer.mark) return;
    if (member.makespan > longest) how_many = 0;
    longest = std::max(longest, member.makespan);
    how_many += member.makespan == longest ? 1 : 0;
  }
  if (members_.size() < static_cast<std::size_t>(settings_.population)) {
    members_.push_back(std::move(newcomer));
    moved_at_ = schedules();
    return;
  }
  if (newcomer.makespan > longest) return;
  if (newcomer.makespan < longest) moved_at_ = schedules();
  std::size_t leaves = random_.below(how_many);
  for (Member& member : members_) {
    if (member.makespan != longest || leaves-- > 0) continue;
    member = std::move(newcomer);
    return;
  }
}

ImprovedProject improve_project(const Project& project, std::uint64_t seed, long long budget) {
  ProjectImprover improver(project, seed);
  improver.run_to(budget);
  return {improver.best(), improver.lower_bound(), improver.schedules()};
}

}  // namespace rollwright::plan

#include "plan/improve_project.hpp"

#include <algorithm>
#include <limits>

#include "plan/project_bound.hpp"

namespace rollwright::plan {
namespace {

/// One evaluation: the list itself, pushed late, pushed early.
constexpr long long kSchedulesPerList = 3;
/// Activities of a block to shuffle: from the least, as many lengths as the spread.
constexpr std::size_t kLeastShuffled = 4;
constexpr std::uint64_t kShuffledSpread = 30;
/// Populations whose best come together in the next.
constexpr std::size_t kChampions = 3;
/// Schedules remembered, so that memory stays bounded; beyond, all are forgotten.
constexpr std::size_t kMostMet = 1'000'000;

std::vector<double> loads_of(const Project& project) {
  std::vector<double> loads(static_cast<std::size_t>(project.size()), 0);
  for (int i = 0; i < project.size(); ++i) {
    for (int k = 0; k < project.resources(); ++k) {
      if (project.demand(i, k) == 0) continue;
      const double share = static_cast<double>(project.demand(i, k)) / project.capacity(k);
      loads[static_cast<std::size_t>(i)] += share * project.duration(i);
    }
  }
  return loads;
}

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
      loads_(loads_of(project)),
      lower_bound_(bounds_of(project).best()),
      waits_(tails_.size()),
      listed_(tails_.size()) {
  ROLLWRIGHT_PROMISE(settings_.population >= 2);
}

bool ProjectImprover::is_full() const {
  return members_.size() >= static_cast<std::size_t>(settings_.population);
}

void ProjectImprover::run_to(long long budget) {
  while (!started_ || (!proved() && schedules() + kSchedulesPerList <= budget)) {
    if (schedules() - moved_at_ > settings_.patience) start_anew();
    make_list();
    if (auto member = evaluate_list()) admit(*std::move(member));
  }
}

void ProjectImprover::start_anew() {
  moved_at_ = schedules();
  if (members_.empty()) return;
  const bool mixed = champions_.size() == kChampions;
  const auto best = std::min_element(
      members_.begin(), members_.end(),
      [](const Member& a, const Member& b) { return a.makespan < b.makespan; });
  Member champion = std::move(*best);
  members_.clear();
  if (mixed) champions_.clear();
  champions_.push_back(std::move(champion));
  if (champions_.size() < kChampions) return;
  for (const Member& each : champions_) admit(each);
}

void ProjectImprover::make_list() {
  if (!is_full()) return draw_list();
  if (random_.uniform() < settings_.reshuffle) return reshuffle_list();
  breed_list();
  swap_neighbours();
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

ProjectImprover::Block ProjectImprover::draw_block(std::size_t size, std::size_t length) {
  const std::size_t first = random_.below(size - length + 1);
  return {first, first + length};
}

/// Work of the block over the time from its first start to its last end.
double ProjectImprover::busyness(const Member& member, Block block) const {
  double load = 0;
  int end = 0;
  int start = member.makespan;
  for (std::size_t at = block.first; at < block.end; ++at) {
    const auto activity = static_cast<std::size_t>(member.list[at]);
    load += loads_[activity];
    start = std::min(start, member.starts[activity]);
    end = std::max(end, member.starts[activity] + project_->duration(member.list[at]));
  }
  return load / std::max(1, end - start);
}

// A quarter to three quarters of the list; the busiest of three draws.
ProjectImprover::Block ProjectImprover::draw_busy_block(const Member& member) {
  const std::size_t size = member.list.size();
  const std::size_t drawn = size / 4 + random_.below(size / 2 + 1);
  const std::size_t length = std::clamp<std::size_t>(drawn, 1, size);
  Block busiest = draw_block(size, length);
  for (int draw = 1; draw < 3; ++draw) {
    const Block other = draw_block(size, length);
    if (busyness(member, other) > busyness(member, busiest)) busiest = other;
  }
  return busiest;
}

// A busy block of the mother is handed down as it is, since where resources are used well the order
// is worth keeping; what came before it and what comes after follow the father's order. Both
// parents have each activity after its predecessors, and so has the child.
void ProjectImprover::breed_list() {
  const Member& mother = pick_parent();
  const Member& father = pick_parent();
  const Block block = draw_busy_block(mother);
  list_.clear();
  listed_.assign(mother.list.size(), true);
  const auto mark_free = [&](std::size_t first, std::size_t end) {
    for (std::size_t at = first; at < end; ++at) {
      listed_[static_cast<std::size_t>(mother.list[at])] = false;
    }
  };
  const auto take_free_from = [&](const ActivityList& parent) {
    for (const int activity : parent) {
      if (listed_[static_cast<std::size_t>(activity)]) continue;
      listed_[static_cast<std::size_t>(activity)] = true;
      list_.push_back(activity);
    }
  };
  mark_free(0, block.first);
  take_free_from(father.list);
  mark_free(block.first, block.end);
  take_free_from(mother.list);
  mark_free(block.end, mother.list.size());
  take_free_from(father.list);
}

void ProjectImprover::swap_neighbours() {
  for (std::size_t at = 0; at + 1 < list_.size(); ++at) {
    if (random_.uniform() >= settings_.mutation) continue;
    const std::span<const int> after = project_->successors(list_[at]);
    if (std::binary_search(after.begin(), after.end(), list_[at + 1])) continue;
    std::swap(list_[at], list_[at + 1]);
  }
}

// Takes a block out of a parent's list and puts it back in another order, each place drawn from
// what may come there.
void ProjectImprover::reshuffle_list() {
  list_ = pick_parent().list;
  const std::size_t length =
      std::min<std::size_t>(kLeastShuffled + random_.below(kShuffledSpread), list_.size());
  const Block block = draw_block(list_.size(), length);
  listed_.assign(list_.size(), true);
  for (std::size_t at = block.first; at < block.end; ++at) {
    listed_[static_cast<std::size_t>(list_[at])] = false;
  }
  const auto is_listed = [this](int i) { return listed_[static_cast<std::size_t>(i)]; };
  for (std::size_t at = block.first; at < block.end; ++at) {
    eligible_.clear();
    for (std::size_t other = at; other < block.end; ++other) {
      const std::span<const int> before = project_->predecessors(list_[other]);
      const bool may_come = std::all_of(before.begin(), before.end(), is_listed);
      if (may_come) eligible_.push_back(static_cast<int>(other));
    }
    const auto drawn = static_cast<std::size_t>(eligible_[random_.below(eligible_.size())]);
    std::swap(list_[at], list_[drawn]);
    listed_[static_cast<std::size_t>(list_[at])] = true;
  }
}

std::optional<ProjectImprover::Member> ProjectImprover::evaluate_list() {
  if (is_full()) {
    from_end_.assign(list_.rbegin(), list_.rend());
    scheduler_.backward(from_end_, schedule_);
    if (met_.size() >= kMostMet) met_.clear();
    if (!met_.insert(mark_of(schedule_.starts)).second) return std::nullopt;
    justifier_.justify_left(scheduler_, schedule_);
  } else {
    scheduler_.forward(list_, schedule_);
    justifier_.justify_twice(scheduler_, schedule_);
  }
  if (!started_ || schedule_.makespan < best_.makespan) best_ = schedule_;
  started_ = true;
  Member member{.starts = schedule_.starts,
                .makespan = schedule_.makespan,
                .mark = mark_of(schedule_.starts)};
  justifier_.list_by_end(schedule_, member.list);
  std::reverse(member.list.begin(), member.list.end());
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
  if (!is_full()) {
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

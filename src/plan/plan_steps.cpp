#include <algorithm>
#include <array>

#include "base/index.hpp"
#include "plan/plan_search.hpp"

/// What a step of the search takes out.
namespace rollwright::plan {

void PlanSearch::choose(Reach reach) {
  chosen_.clear();
  chosen_at_.clear();
  switch (reach) {
    case Reach::kFew: choose_few(); break;
    case Reach::kStretch:
      has_last_plan_ ? choose_stretch(4, 16) : choose_stretch(10, 40);
      break;
    case Reach::kRest: choose_stretch(movable_.size(), movable_.size()); break;
    case Reach::kRoom: choose_room(); break;
    case Reach::kHome: choose_home(); break;
  }
}

/// Days late of each order if it had the shop to itself: what no turn can mend.
void PlanSearch::find_days_late_alone() {
  late_alone_.assign(floor_->input.orders.size(), 0);
  WorkPlacer alone(*floor_, 0);
  for (const int order : movable_) {
    for (const int task : facts_->tasks[at(order)]) alone.put(task);
    late_alone_[at(order)] = outcome_of(floor_->input, floor_->of_order[at(order)],
                                        floor_->input.orders[at(order)], alone.spots())
                                 .days_late;
    for (const int task : facts_->tasks[at(order)]) alone.take_out(task);
    placements_ += static_cast<std::int64_t>(facts_->tasks[at(order)].size());
  }
}

bool PlanSearch::could_be_sooner(int order) const {
  return outcomes_[at(order)].days_late > late_alone_[at(order)];
}

/// Turn of any order, half of the time of one that is later than it must be.
std::size_t PlanSearch::choose_middle() {
  if (random_.below(2) == 0) {
    std::vector<std::size_t> late;
    for (std::size_t turn = 0; turn < movable_.size(); ++turn) {
      if (could_be_sooner(movable_[turn])) late.push_back(turn);
    }
    if (!late.empty()) return late[random_.below(late.size())];
  }
  return random_.below(movable_.size());
}

/// A few orders of about the same turn.
void PlanSearch::choose_few() {
  const std::size_t middle = choose_middle();
  constexpr std::size_t kNear = 12;
  const std::size_t from = middle > kNear ? middle - kNear : 0;
  const std::size_t to = std::min(movable_.size(), middle + kNear / 2 + 1);
  chosen_at_ = {middle};
  for (std::size_t more = 1 + random_.below(7); more > 0; --more) {
    const std::size_t turn = from + random_.below(to - from);
    if (std::ranges::find(chosen_at_, turn) == chosen_at_.end()) chosen_at_.push_back(turn);
  }
  for (const std::size_t turn : chosen_at_) chosen_.push_back({movable_[turn], 0});
  turn_few();
  std::ranges::sort(chosen_at_);
}

/// All orders of a stretch of turns, with one of them moved to the other end of it.
void PlanSearch::choose_stretch(std::size_t least, std::size_t most) {
  constexpr std::size_t kFarthest = 40;  // turns that one order is moved
  const std::size_t count = movable_.size();
  const std::size_t moved = choose_middle();
  const std::size_t length = least + random_.below(most - least + 1);
  const std::size_t hop = 1 + random_.below(std::min(kFarthest, length));
  const bool earlier = could_be_sooner(movable_[moved]) || random_.below(2) == 0;
  const std::size_t from = earlier ? moved - std::min(moved, hop) : moved;
  const std::size_t to = std::min(count, std::max(moved + 1, from + std::max(length, hop + 1)));
  for (std::size_t turn = from; turn < to; ++turn) {
    chosen_at_.push_back(turn);
    chosen_.push_back({movable_[turn], 0});
  }
  const auto first = chosen_.begin();
  if (earlier) {
    const auto own = first + static_cast<long>(moved - from);
    std::rotate(first, own, own + 1);
  } else {
    std::rotate(first, first + 1, first + static_cast<long>(std::min(hop + 1, chosen_.size())));
  }
}

/// The first stays first, or they go by due day, by complete parts, by work left, or anyhow.
void PlanSearch::turn_few() {
  const auto by = [&](const std::vector<double>& key, std::size_t from) {
    std::ranges::stable_sort(chosen_.begin() + static_cast<long>(from), chosen_.end(), {},
                             [&](const Piece& piece) { return key[at(piece.order)]; });
  };
  switch (random_.below(5)) {
    case 0: by(facts_->due, 1); break;
    case 1: by(facts_->due, 0); break;
    case 2: by(facts_->kit, 0); break;
    case 3: by(facts_->work, 0); break;
    default:
      for (std::size_t left = chosen_.size(); left > 1; --left) {
        std::swap(chosen_[left - 1], chosen_[random_.below(left)]);
      }
  }
}

/// A minute from now until the order was ready.
int PlanSearch::drawn_start(int order) {
  const int now = floor_->input.now;
  const int ready = outcomes_[at(order)].ready.value_or(now);
  return now + static_cast<int>(random_.below(at(std::max(1, ready - now))));
}

/// Minute of the first task of the order that is not frozen and has a place; never when none has.
int PlanSearch::start_of(int order) const {
  int start = kNever;
  for (const int task : facts_->tasks[at(order)]) {
    if (has_place(task)) start = std::min(start, placer_.spots()[at(task)].start);
  }
  return start;
}

bool PlanSearch::is_moved(int task) const {
  const auto& previous = floor_->input.tasks[at(task)].previous;
  const Spot& spot = placer_.spots()[at(task)];
  return previous && (spot.person != previous->person ||
                      spot.start / kMinutesPerDay != previous->start / kMinutesPerDay);
}

void PlanSearch::add_piece(const Piece& piece) {
  const auto known = std::ranges::find(chosen_, piece.order, &Piece::order);
  if (known == chosen_.end()) {
    chosen_.push_back(piece);
  } else {
    known->from = std::min(known->from, piece.from);
  }
}

/// An order later than it must be, the more often the more that costs; -1 when there is none.
int PlanSearch::choose_late() {
  const auto pain = [&](int order) {
    return floor_->input.orders[at(order)].weight *
           std::max(0, outcomes_[at(order)].days_late - late_alone_[at(order)]);
  };
  double all = 0;
  for (const int order : movable_) all += pain(order);
  double left = random_.uniform() * all;
  for (const int order : movable_) {
    left -= pain(order);
    if (left < 0) return order;
  }
  return -1;
}

/// Of one order or a few that are worked on within the span, and keep their places so far, the one
/// with most time to spare.
int PlanSearch::choose_in_the_way(const Window& span) {
  int found = -1;
  double most = -kNever;
  for (std::size_t look = 1 + random_.below(4); look > 0; --look) {
    const int order = movable_[random_.below(movable_.size())];
    const int ready = outcomes_[at(order)].ready.value_or(kNever);
    if (ready <= span.from || start_of(order) >= span.to) continue;
    const double spare = (facts_->due[at(order)] - ready) / floor_->input.orders[at(order)].weight;
    if (found >= 0 && spare <= most) continue;
    if (std::ranges::find(chosen_, order, &Piece::order) != chosen_.end()) continue;
    found = order;
    most = spare;
  }
  return found;
}

/// An order later than it must be; who makes room for it is found while it is laid out.
void PlanSearch::choose_room() {
  const int late = choose_late();
  add_piece({late >= 0 ? late : movable_[random_.below(movable_.size())], 0});
}

/// As long as the order is later than it must be, another makes room for it; then that one is laid
/// out in the same way, as long as it would be later than it was.
void PlanSearch::lay_out_with_room() {
  std::size_t others = 1 + random_.below(8);
  bool near = random_.below(3) == 0;
  for (std::size_t index = 0; index < chosen_.size(); ++index) {
    const int order = chosen_[index].order;
    const int in_time = index == 0 ? late_alone_[at(order)] : outcomes_[at(order)].days_late;
    const std::size_t from = chosen_[index].out_from;
    const std::size_t to = index + 1 < chosen_.size() ? chosen_[index + 1].out_from : out_.size();
    lay_out_piece({out_.data() + from, to - from}, index > 0, near);
    judge(order);
    while (others > 0 && outcomes_[at(order)].days_late > in_time) {
      const int begin = std::max(chosen_[index].from, static_cast<int>(facts_->kit[at(order)]));
      const int other = choose_in_the_way({begin, outcomes_[at(order)].ready.value_or(kNever)});
      --others;
      if (other < 0) continue;
      for (std::size_t out = from; out < to; ++out) placer_.take_out(out_[out].task);
      chosen_.push_back({other, begin, out_.size()});
      take_out_piece(chosen_.back());
      lay_out_piece({out_.data() + from, to - from}, index > 0, near);
      judge(order);
    }
    near = true;
  }
}

/// A task with another person or day than in the last plan; -1 when there is none.
int PlanSearch::choose_moved() {
  std::uint64_t all = 0;
  for (const int order : movable_) all += at(outcomes_[at(order)].moved);
  if (all == 0) return -1;
  std::uint64_t left = random_.below(all);
  for (const int order : movable_) {
    if (left >= at(outcomes_[at(order)].moved)) {
      left -= at(outcomes_[at(order)].moved);
      continue;
    }
    for (const int task : facts_->tasks[at(order)]) {
      if (is_moved(task) && left-- == 0) return task;
    }
    return -1;
  }
  return -1;
}

/// The rest of an order from a moved task on, and the rest of a few that are where it was.
void PlanSearch::choose_home() {
  const int task = choose_moved();
  if (task < 0) return choose_few();
  const Task& what = floor_->input.tasks[at(task)];
  const int here = has_place(task) ? placer_.spots()[at(task)].start : kNever;
  const Piece piece{what.order, std::min(here, what.previous->start)};
  add_piece(piece);
  find_in_its_home(piece);
  for (std::size_t more = random_.below(4); more > 0 && !in_its_home_.empty(); --more) {
    add_piece(in_its_home_[random_.below(in_its_home_.size())]);
  }
}

/// Others that do something where the last plan had a moved task of the piece.
void PlanSearch::find_in_its_home(const Piece& piece) {
  in_its_home_.clear();
  homes_.clear();
  std::uint64_t people = 0;
  for (const int task : facts_->tasks[at(piece.order)]) {
    const auto& previous = floor_->input.tasks[at(task)].previous;
    if (!previous || previous->start < piece.from || !is_moved(task)) continue;
    const int minutes =
        floor_->minutes[at(task) * floor_->input.people.size() + at(previous->person)];
    const Task& what = floor_->input.tasks[at(task)];
    const auto stay = floor_->hours[at(previous->person)].earliest(previous->start, minutes,
                                                                   pause_of(what));
    if (stay.start < 0) continue;
    homes_.push_back({previous->person, stay.start, stay.end,
                      people_at(what, *previous) & ~person_bit(previous->person)});
    people |= homes_.back().people();
  }
  for (const int order : movable_) {
    if (order == piece.order) continue;
    for (const int task : facts_->tasks[at(order)]) {
      const Spot& spot = placer_.spots()[at(task)];
      if (spot.person < 0 || (people & spot.people()) == 0) continue;
      const bool is_there = std::ranges::any_of(homes_, [&](const Spot& home) {
        return (home.people() & spot.people()) != 0 && spot.start < home.end &&
               home.start < spot.end;
      });
      if (is_there) in_its_home_.push_back({order, spot.start});
    }
  }
}

}  // namespace rollwright::plan

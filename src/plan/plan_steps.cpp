#include <algorithm>
#include <array>
#include <limits>

#include "base/index.hpp"
#include "plan/plan_search.hpp"

/// What a step of the search takes out.
namespace rollwright::plan {

void PlanSearch::choose(Reach reach) {
  chosen_.clear();
  chosen_at_.clear();
  hands_.clear();
  wanted_.clear();
  switch (reach) {
    case Reach::kFew: choose_few(); break;
    case Reach::kStretch: choose_stretch(10, 40); break;
    case Reach::kRest: choose_stretch(movable_.size(), movable_.size()); break;
    case Reach::kRoom: choose_room(); break;
    case Reach::kHome: choose_home(); break;
    case Reach::kHands: choose_hands(); break;
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

/// Of a few orders that are worked on within the span, the one with most time to spare.
int PlanSearch::choose_in_the_way(const Window& span) {
  constexpr int kLookedAt = 4;
  int found = -1;
  double most = -kNever;
  for (int look = 0; look < kLookedAt; ++look) {
    const int order = movable_[random_.below(movable_.size())];
    const int ready = outcomes_[at(order)].ready.value_or(kNever);
    if (start_of(order) >= span.to || ready <= span.from) continue;
    const double spare = (facts_->due[at(order)] - ready) / floor_->input.orders[at(order)].weight;
    if (found >= 0 && spare <= most) continue;
    found = order;
    most = spare;
  }
  return found;
}

/// An order later than it must be, what stands where it would be without the others, and sometimes
/// a few more that are worked on by then.
void PlanSearch::choose_room() {
  const int late = choose_late();
  const int order = late >= 0 ? late : movable_[random_.below(movable_.size())];
  add_piece({order, 0});
  want_room(order);
  if (wanted_.empty()) return;
  add_what_stands_there(order);
  const int begin = wanted_.front().spot.start;
  int end = begin + 1;
  for (const TakenOut& wanted : wanted_) end = std::max(end, wanted.spot.end);
  for (std::size_t more = random_.below(4); more > 0; --more) {
    const int other = choose_in_the_way({begin, end});
    if (other >= 0 && other != order) {
      add_piece({other, begin + static_cast<int>(random_.below(at(end - begin)))});
    }
  }
}

/// The order alone, half of the time held back: between now and where it is.
void PlanSearch::want_room(int order) {
  constexpr std::array<int, 4> kPatience = {0, 60, 240, 480};
  alone_.be_patient(kPatience[random_.below(kPatience.size())]);
  const int not_before = random_.below(2) == 0 ? drawn_start(order) : 0;
  for (const int task : facts_->tasks[at(order)]) {
    ++placements_;
    alone_.put(task, not_before);
    const Spot& spot = alone_.spots()[at(task)];
    if (spot.person >= 0) wanted_.push_back({task, spot});
  }
  for (const TakenOut& wanted : wanted_) alone_.take_out(wanted.task);
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

/// The rest of an order from a moved task on, and the rest of those that are where it was.
void PlanSearch::choose_home() {
  const int task = choose_moved();
  if (task < 0) return choose_few();
  const Task& what = floor_->input.tasks[at(task)];
  const int here = has_place(task) ? placer_.spots()[at(task)].start : kNever;
  const Piece piece{what.order, std::min(here, what.previous->start)};
  add_piece(piece);
  want_home(piece);
  add_what_stands_there(piece.order);
}

void PlanSearch::want_home(const Piece& piece) {
  for (const int task : facts_->tasks[at(piece.order)]) {
    const auto& previous = floor_->input.tasks[at(task)].previous;
    if (!previous || previous->start < piece.from || !is_moved(task)) continue;
    const int minutes =
        floor_->minutes[at(task) * floor_->input.people.size() + at(previous->person)];
    const auto stay = floor_->hours[at(previous->person)].earliest(
        previous->start, minutes, floor_->input.tasks[at(task)].pause);
    if (stay.start >= 0) wanted_.push_back({task, {previous->person, stay.start, stay.end}});
  }
}

/// From what stands where something is wanted on, the rest of its order.
void PlanSearch::add_what_stands_there(int but_order) {
  std::array<std::vector<Window>, 64> spans;
  std::uint64_t people = 0;
  for (const TakenOut& wanted : wanted_) {
    spans[at(wanted.spot.person)].push_back({wanted.spot.start, wanted.spot.end});
    people |= 1ULL << wanted.spot.person;
  }
  for (const int order : movable_) {
    if (order == but_order) continue;
    for (const int task : facts_->tasks[at(order)]) {
      const Spot& spot = placer_.spots()[at(task)];
      if (spot.person < 0 || (people >> spot.person & 1) == 0) continue;
      const bool stands_there = std::ranges::any_of(spans[at(spot.person)], [&](const Window& span) {
        return spot.start < span.to && span.from < spot.end;
      });
      if (stands_there) add_piece({order, spot.start});
    }
  }
}

/// A few operations near one another: of a moved one's old person, or of anybody.
void PlanSearch::choose_hands() {
  const int moved = random_.below(2) == 0 ? choose_moved() : -1;
  int first = moved;
  if (first < 0) {
    const auto& tasks = facts_->tasks[at(movable_[random_.below(movable_.size())])];
    first = tasks[random_.below(tasks.size())];
  }
  hands_.push_back(first);
  const Spot& spot = placer_.spots()[at(first)];
  const int middle = moved >= 0 ? floor_->input.tasks[at(first)].previous->start : spot.start;
  const int person = moved >= 0 ? floor_->input.tasks[at(first)].previous->person : spot.person;
  const int around = 60 + static_cast<int>(random_.below(240));
  for (const int order : movable_) {
    for (const int task : facts_->tasks[at(order)]) {
      const Spot& other = placer_.spots()[at(task)];
      if (task == first || other.person != person) continue;
      if (std::abs(other.start - middle) <= around && random_.below(2) == 0) hands_.push_back(task);
    }
  }
  // What comes first must be put first: longest chain first within an order.
  for (std::size_t left = hands_.size(); left > 1; --left) {
    std::swap(hands_[left - 1], hands_[random_.below(left)]);
  }
  std::ranges::stable_sort(hands_, {}, [&](int task) { return placer_.spots()[at(task)].start; });
}

}  // namespace rollwright::plan

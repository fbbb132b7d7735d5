#include "plan/plan_search.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "base/index.hpp"

namespace rollwright::plan {
namespace {

constexpr int kUsualPatience = 120;
constexpr double kNearRecord = 0.0005;  // worse than the best by this share is still taken

}  // namespace

PlanSearch::PlanSearch(const Shopfloor& floor, const OrderFacts& facts,
                       const PlanWeights& weights, Random random)
    : floor_(&floor),
      facts_(&facts),
      weights_(weights),
      random_(random),
      placer_(floor, kUsualPatience),
      load_(floor),
      best_cost_(std::numeric_limits<double>::infinity()) {
  for (std::size_t order = 0; order < facts.tasks.size(); ++order) {
    if (!facts.tasks[order].empty()) movable_.push_back(static_cast<int>(order));
    for (const int task : facts.tasks[order]) {
      has_last_plan_ |= floor.input.tasks[at(task)].previous.has_value();
    }
  }
}

void PlanSearch::put(int task, bool as_before, int not_before) {
  ++placements_;
  if (as_before) {
    if (placer_.put_as_before(task)) return;
    not_before = std::max(not_before, day_before(task));
  }
  placer_.put(task, not_before);
}

/// Start of the day on which the last plan had the task, 0 when it had not.
int PlanSearch::day_before(int task) const {
  const auto& previous = floor_->input.tasks[at(task)].previous;
  return previous ? previous->start / kMinutesPerDay * kMinutesPerDay : 0;
}

void PlanSearch::lay_out(const std::vector<int>& orders) {
  placer_ = WorkPlacer(*floor_, kUsualPatience);
  follow(orders);
  for (const int order : orders) {
    for (const int task : facts_->tasks[at(order)]) put(task, false, 0);
  }
  judge_all();
}

std::vector<int> PlanSearch::in_last_plan() const {
  std::vector<int> had_place;
  for (const int order : movable_) {
    for (const int task : facts_->tasks[at(order)]) {
      if (floor_->input.tasks[at(task)].previous) had_place.push_back(task);
    }
  }
  std::ranges::stable_sort(had_place, {}, [&](int task) {
    return floor_->input.tasks[at(task)].previous->start;
  });
  return had_place;
}

void PlanSearch::mend_last_plan(const std::vector<int>& orders) {
  placer_ = WorkPlacer(*floor_, kUsualPatience);
  follow(orders);
  for (const int task : in_last_plan()) {
    ++placements_;
    placer_.put_as_before(task);
  }
  put_rest();
  judge_all();
}

/// What has no place yet, orders in turn.
void PlanSearch::put_rest() {
  for (const int order : movable_) {
    for (const int task : facts_->tasks[at(order)]) {
      if (placer_.spots()[at(task)].person < 0) put(task, true, 0);
    }
  }
}

void PlanSearch::follow(const std::vector<int>& orders) {
  movable_.clear();
  for (const int order : orders) {
    if (!facts_->tasks[at(order)].empty()) movable_.push_back(order);
  }
}

void PlanSearch::adopt(const PlanSearch& other) {
  placer_ = WorkPlacer(*floor_, kUsualPatience);
  movable_ = other.best_turn_;
  for (const int order : movable_) {
    for (const int task : facts_->tasks[at(order)]) {
      const Spot& spot = other.best_[at(task)];
      if (spot.person >= 0) placer_.put_back(task, spot);
    }
  }
  judge_all();
}

void PlanSearch::judge(int order) {
  outcomes_[at(order)] = outcome_of(floor_->input, floor_->of_order[at(order)],
                                    floor_->input.orders[at(order)], placer_.spots());
}

void PlanSearch::judge_all() {
  outcomes_.resize(floor_->input.orders.size());
  load_ = WeeklyLoad(*floor_);
  for (std::size_t order = 0; order < outcomes_.size(); ++order) {
    judge(static_cast<int>(order));
    for (const int task : floor_->of_order[order]) load_.add(task, placer_.spots()[at(task)]);
  }
  cost_ = cost();
  if (cost_ < best_cost_) note_best();
}

double PlanSearch::cost() {
  score_ = score_of(floor_->input, *facts_, outcomes_, load_);
  return cost_of(score_, weights_);
}

void PlanSearch::note_best() {
  best_ = placer_.spots();
  best_turn_ = movable_;
  best_score_ = score_;
  best_cost_ = cost_;
}

void PlanSearch::run(std::int64_t placements) {
  if (movable_.empty()) return;
  const std::int64_t until = placements_ + placements;
  if (late_alone_.empty()) find_days_late_alone();
  while (placements_ < until) step();
}

void PlanSearch::step() {
  const std::int64_t before = placements_;
  const double best_before = best_cost_;
  const Reach reach = choose_reach();
  switch (reach) {
    case Reach::kFew: choose_few(); break;
    case Reach::kStretch: choose_stretch(10, 40); break;
    case Reach::kRest: choose_stretch(movable_.size(), movable_.size()); break;
  }
  take_out_chosen();
  lay_out_chosen();
  const double tried = cost();
  if (tried <= cost_ || tried < best_cost_ * (1 + kNearRecord)) {
    cost_ = tried;
    keep_turn();
    if (cost_ < best_cost_) note_best();
  } else {
    restore_chosen();
  }
  const double gained = best_before - best_cost_;
  note_yield(reach, gained, placements_ - before);
}

/// A reach that has brought more per placement lately is taken more often; each keeps a twentieth.
PlanSearch::Reach PlanSearch::choose_reach() {
  std::array<double, kReaches> chance;
  double sum = 0;
  for (std::size_t reach = 0; reach < kReaches; ++reach) {
    const Yield& yield = yields_[reach];
    chance[reach] = (yield.gained + 1e-9) / (yield.placements + 1);
    sum += chance[reach];
  }
  const double drawn = random_.uniform();
  double so_far = 0;
  for (std::size_t reach = 0; reach < kReaches; ++reach) {
    so_far += 0.05 + (1 - 0.05 * kReaches) * chance[reach] / sum;
    if (drawn < so_far) return static_cast<Reach>(reach);
  }
  return Reach::kRest;
}

void PlanSearch::note_yield(Reach reach, double gained, std::int64_t placements) {
  Yield& yield = yields_[static_cast<std::size_t>(reach)];
  constexpr double kForgotten = 0.98;
  yield.gained = yield.gained * kForgotten + gained;
  yield.placements = yield.placements * kForgotten + static_cast<double>(placements);
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
  chosen_.clear();
  for (const std::size_t turn : chosen_at_) chosen_.push_back(movable_[turn]);
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
  chosen_at_.clear();
  for (std::size_t turn = from; turn < to; ++turn) chosen_at_.push_back(turn);
  chosen_.assign(movable_.begin() + static_cast<long>(from),
                 movable_.begin() + static_cast<long>(to));
  const auto first = chosen_.begin();
  if (earlier) {
    const auto own = first + static_cast<long>(moved - from);
    std::rotate(first, own, own + 1);
  } else {
    std::rotate(first, first + 1, first + static_cast<long>(std::min(hop + 1, chosen_.size())));
  }
}

void PlanSearch::keep_turn() {
  for (std::size_t index = 0; index < chosen_.size(); ++index) {
    movable_[chosen_at_[index]] = chosen_[index];
  }
}

void PlanSearch::take_out_chosen() {
  out_.clear();
  for (const int order : chosen_) {
    for (const int task : facts_->tasks[at(order)]) {
      const Spot spot = placer_.spots()[at(task)];
      out_.push_back({task, spot});
      load_.take_away(task, spot);
      placer_.take_out(task);
    }
  }
}

/// The first stays first, or they go by due day, by complete parts, by work left, or anyhow.
void PlanSearch::turn_few() {
  const auto by = [&](const std::vector<double>& key, std::size_t from) {
    std::ranges::stable_sort(chosen_.begin() + static_cast<long>(from), chosen_.end(), {},
                             [&](int order) { return key[at(order)]; });
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

void PlanSearch::lay_out_chosen() {
  constexpr std::array<int, 6> kPatience = {0, 60, 120, 120, 240, 480};
  placer_.be_patient(kPatience[random_.below(kPatience.size())]);
  const bool as_before = has_last_plan_ && random_.below(2) == 0;
  // To begin at the soonest is not always best: now and then one of them is held back.
  const bool holds = random_.below(4) == 0;
  const int held = holds ? chosen_[random_.below(chosen_.size())] : -1;
  if (as_before) keep_what_can_stay();
  for (const int order : chosen_) {
    const int not_before = order == held ? drawn_start(order) : 0;
    for (const int task : facts_->tasks[at(order)]) {
      if (placer_.spots()[at(task)].person < 0) put(task, as_before, not_before);
      load_.add(task, placer_.spots()[at(task)]);
    }
    judge(order);
  }
}

/// The first order goes where it ends soonest; of the others what can then stay where the last plan
/// had it stays, so that one order makes room for another and not all of them move on.
void PlanSearch::keep_what_can_stay() {
  for (const int task : facts_->tasks[at(chosen_.front())]) put(task, false, 0);
  for (const int order : chosen_) {
    for (const int task : facts_->tasks[at(order)]) {
      if (placer_.spots()[at(task)].person >= 0) continue;
      ++placements_;
      placer_.put_as_before(task);
    }
  }
}

/// A minute from now until the order was ready.
int PlanSearch::drawn_start(int order) {
  const int now = floor_->input.now;
  const int ready = outcomes_[at(order)].ready.value_or(now);
  return now + static_cast<int>(random_.below(at(std::max(1, ready - now))));
}

void PlanSearch::restore_chosen() {
  for (const TakenOut& out : out_) {
    load_.take_away(out.task, placer_.spots()[at(out.task)]);
    placer_.take_out(out.task);
  }
  for (const TakenOut& out : out_) {
    load_.add(out.task, out.spot);
    if (out.spot.person >= 0) placer_.put_back(out.task, out.spot);
  }
  for (const int order : chosen_) judge(order);
}

}  // namespace rollwright::plan

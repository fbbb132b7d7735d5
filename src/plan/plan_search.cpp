#include "plan/plan_search.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <span>

#include "base/index.hpp"

namespace rollwright::plan {
namespace {

constexpr int kUsualPatience = 120;
// Worse than the best by this share is still taken; more where the ways to go are rugged.
constexpr double kNearRecordAtFirst = 0.0005;
constexpr double kNearRecord = 0.002;
constexpr double kLeastShareAtFirst = 0.05;
constexpr double kLeastShare = 0.12;    // of the placements, for each reach
constexpr double kUsualStep = 100;      // placements

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

void PlanSearch::put(int task, int not_before) {
  ++placements_;
  placer_.put(task, not_before);
}

/// Where the last plan had it, else on that day with that person, else as soon as may be from that
/// day on.
void PlanSearch::put_near(int task) {
  ++placements_;
  if (placer_.put_as_before(task) || placer_.put_on_its_day(task)) return;
  placer_.put(task, day_before(task));
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
    for (const int task : facts_->tasks[at(order)]) put(task, 0);
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
      if (placer_.spots()[at(task)].person < 0) put_near(task);
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
  choose(reach);
  take_out_chosen();
  lay_out_chosen(reach);
  const double tried = cost();
  const double near = has_last_plan_ ? kNearRecord : kNearRecordAtFirst;
  if (tried <= cost_ || tried < best_cost_ * (1 + near)) {
    cost_ = tried;
    keep_turn();
    if (cost_ < best_cost_) note_best();
  } else {
    restore_chosen();
  }
  note_yield(reach, best_before - best_cost_, placements_ - before);
}

/// What has brought more per placement lately is done more; each reach keeps a small share. Without
/// a last plan nothing was moved and the first three do: the shares are of steps, so that most work
/// goes into the widest reach. With one the shares are of placements.
PlanSearch::Reach PlanSearch::choose_reach() {
  const std::size_t reaches = has_last_plan_ ? kReaches : kReachesAtFirst;
  const double least = has_last_plan_ ? kLeastShare : kLeastShareAtFirst;
  std::array<double, kReaches> chance{};
  double sum = 0;
  for (std::size_t reach = 0; reach < reaches; ++reach) {
    chance[reach] = (yields_[reach].gained + 1e-9) / (yields_[reach].placements + 1);
    sum += chance[reach];
  }
  double all = 0;
  for (std::size_t reach = 0; reach < reaches; ++reach) {
    const Yield& yield = yields_[reach];
    chance[reach] = least + (1 - least * static_cast<double>(reaches)) * chance[reach] / sum;
    if (has_last_plan_) chance[reach] *= (yield.steps + 1) / (yield.placements + kUsualStep);
    all += chance[reach];
  }
  double left = random_.uniform() * all;
  for (std::size_t reach = 0; reach < reaches; ++reach) {
    left -= chance[reach];
    if (left < 0) return static_cast<Reach>(reach);
  }
  return Reach::kRest;
}

void PlanSearch::note_yield(Reach reach, double gained, std::int64_t placements) {
  Yield& yield = yields_[static_cast<std::size_t>(reach)];
  constexpr double kForgotten = 0.98;
  yield.gained = yield.gained * kForgotten + gained;
  yield.placements = yield.placements * kForgotten + static_cast<double>(placements);
  yield.steps = yield.steps * kForgotten + 1;
}

void PlanSearch::keep_turn() {
  for (std::size_t index = 0; index < chosen_at_.size(); ++index) {
    movable_[chosen_at_[index]] = chosen_[index].order;
  }
}

void PlanSearch::take_out(int task) {
  const Spot spot = placer_.spots()[at(task)];
  out_.push_back({task, spot});
  load_.take_away(task, spot);
  placer_.take_out(task);
}

void PlanSearch::take_out_chosen() {
  out_.clear();
  for (Piece& piece : chosen_) {
    piece.out_from = out_.size();
    take_out_piece(piece);
  }
}

void PlanSearch::take_out_piece(const Piece& piece) {
  for (const int task : facts_->tasks[at(piece.order)]) {
    if (!has_place(task) || placer_.spots()[at(task)].start >= piece.from) take_out(task);
  }
}

void PlanSearch::lay_out_chosen(Reach reach) {
  constexpr std::array<int, 6> kPatience = {0, 60, 120, 120, 240, 480};
  placer_.be_patient(kPatience[random_.below(kPatience.size())]);
  switch (reach) {
    case Reach::kRoom: lay_out_with_room(); break;
    case Reach::kHome: lay_out_around_first(true); break;
    default: lay_out_orders();
  }
  for (const TakenOut& out : out_) load_.add(out.task, placer_.spots()[at(out.task)]);
  for (const Piece& piece : chosen_) judge(piece.order);
}

void PlanSearch::lay_out_orders() {
  // All anew would move nearly everything, and the search would not find home from there.
  if (has_last_plan_) return lay_out_around_first(random_.below(2) == 0);
  // To begin at the soonest is not always best: now and then one of them is held back.
  const bool holds = random_.below(4) == 0;
  const int held = holds ? chosen_[random_.below(chosen_.size())].order : -1;
  const int not_before = holds ? drawn_start(held) : 0;
  for (const TakenOut& out : out_) {
    const bool is_held = floor_->input.tasks[at(out.task)].order == held;
    put(out.task, is_held ? not_before : 0);
  }
}

/// The first order goes near its old places or where it ends soonest; the others make room for it.
void PlanSearch::lay_out_around_first(bool near) {
  const std::size_t first = chosen_.size() > 1 ? chosen_[1].out_from : out_.size();
  lay_out_piece({out_.data(), first}, false, near);
  lay_out_piece({out_.data() + first, out_.size() - first}, true, true);
}

/// If it is to stay, what can stay where the last plan had it, or where it was just now, stays, so
/// that not everything moves on. The rest goes near its old places or where it ends soonest.
void PlanSearch::lay_out_piece(std::span<const TakenOut> outs, bool stays, bool near) {
  for (const TakenOut& out : outs) {
    if (!stays) break;
    if (has_place(out.task)) continue;
    ++placements_;
    if (placer_.put_as_before(out.task)) continue;
    if (out.spot.person >= 0) placer_.put_at(out.task, {out.spot.person, out.spot.start});
  }
  for (const TakenOut& out : outs) {
    if (has_place(out.task)) continue;
    if (near) {
      put_near(out.task);
    } else {
      put(out.task, 0);
    }
  }
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
  for (const Piece& piece : chosen_) judge(piece.order);
}

}  // namespace rollwright::plan

#include "plan/plan_search.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <span>

#include "base/index.hpp"

namespace rollwright::plan {
namespace {

constexpr int kUsualPatience = 120;
constexpr double kNearRecord = 0.0005;  // worse than the best by this share is still taken
constexpr double kLeastShare = 0.04;    // of the placements, for each reach
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
      best_cost_(std::numeric_limits<double>::infinity()),
      alone_(floor, kUsualPatience) {
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

static long dn[6], dk[6], dp[6]; static double dg[6];
void PlanSearch::step() {
  const std::int64_t before = placements_;
  const double best_before = best_cost_;
  const Reach reach = choose_reach();
  choose(reach);
  take_out_chosen();
  const bool all_placed = lay_out_chosen(reach);
  const double tried = cost();
  if (all_placed && (tried <= cost_ || tried < best_cost_ * (1 + kNearRecord))) {
    cost_ = tried;
    keep_turn();
    if (cost_ < best_cost_) note_best();
  } else {
    restore_chosen();
  }
  auto r = (size_t)reach; dn[r]++; dg[r] += best_before - best_cost_; dp[r] += placements_ - before; dk[r] += best_cost_ < best_before;
  note_yield(reach, best_before - best_cost_, placements_ - before);
}

/// The placements are shared out by what each reach has brought per placement lately; each keeps a
/// small share of them.
PlanSearch::Reach PlanSearch::choose_reach() {
  std::array<double, kReaches> rate;
  double sum = 0;
  for (std::size_t reach = 0; reach < kReaches; ++reach) {
    rate[reach] = (yields_[reach].gained + 1e-9) / (yields_[reach].placements + 1);
    sum += rate[reach];
  }
  std::array<double, kReaches> chance;
  double all = 0;
  for (std::size_t reach = 0; reach < kReaches; ++reach) {
    const double share = kLeastShare + (1 - kLeastShare * kReaches) * rate[reach] / sum;
    chance[reach] = share * (yields_[reach].steps + 1) / (yields_[reach].placements + kUsualStep);
    all += chance[reach];
  }
  double left = random_.uniform() * all;
  for (std::size_t reach = 0; reach < kReaches; ++reach) {
    left -= chance[reach];
    if (left < 0) return static_cast<Reach>(reach);
  }
  return Reach::kFew;
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
  for (const Piece& piece : chosen_) {
    for (const int task : facts_->tasks[at(piece.order)]) {
      if (!has_place(task) || placer_.spots()[at(task)].start >= piece.from) take_out(task);
    }
    if (&piece == &chosen_.front()) out_of_first_ = out_.size();
  }
  for (const int task : hands_) take_out(task);
}

/// False when something that must not is left without a place.
bool PlanSearch::lay_out_chosen(Reach reach) {
  constexpr std::array<int, 6> kPatience = {0, 60, 120, 120, 240, 480};
  placer_.be_patient(kPatience[random_.below(kPatience.size())]);
  bool all_placed = true;
  switch (reach) {
    case Reach::kRoom:
    case Reach::kHome: lay_out_around_first(); break;
    case Reach::kHands: all_placed = lay_out_hands(); break;
    default: lay_out_orders();
  }
  for (const TakenOut& out : out_) load_.add(out.task, placer_.spots()[at(out.task)]);
  for (const Piece& piece : chosen_) judge(piece.order);
  for (const int task : hands_) judge(floor_->input.tasks[at(task)].order);
  return all_placed;
}

void PlanSearch::lay_out_orders() {
  if (has_last_plan_ && random_.below(2) == 0) return lay_out_around_first();
  // To begin at the soonest is not always best: now and then one of them is held back.
  const bool holds = random_.below(4) == 0;
  const int held = holds ? chosen_[random_.below(chosen_.size())].order : -1;
  const int not_before = holds ? drawn_start(held) : 0;
  for (const TakenOut& out : out_) {
    const bool is_held = floor_->input.tasks[at(out.task)].order == held;
    put(out.task, is_held ? not_before : 0);
  }
}

/// The first order goes where it is wanted or ends soonest; of the others what can then stay where
/// the last plan had it, or where it was just now, stays, so that one order makes room for another
/// and not all of them move on.
void PlanSearch::lay_out_around_first() {
  const std::span<const TakenOut> all = out_;
  for (const TakenOut& out : all.first(out_of_first_)) {
    ++placements_;
    const auto wanted = std::ranges::find(wanted_, out.task, &TakenOut::task);
    if (wanted != wanted_.end() &&
        placer_.put_at(out.task, {wanted->spot.person, wanted->spot.start})) {
      continue;
    }
    if (wanted_.empty() || wanted != wanted_.end()) {
      placer_.put(out.task);
    } else {
      put_near(out.task);
    }
  }
  for (const TakenOut& out : all.subspan(out_of_first_)) {
    ++placements_;
    if (placer_.put_as_before(out.task)) continue;
    if (out.spot.person >= 0) placer_.put_at(out.task, {out.spot.person, out.spot.start});
  }
  for (const TakenOut& out : all.subspan(out_of_first_)) {
    if (!has_place(out.task)) put_near(out.task);
  }
}

/// Half of the time each goes home if it can; else to whoever ends it soonest.
bool PlanSearch::lay_out_hands() {
  const bool home = random_.below(2) == 0;
  bool all_placed = true;
  for (const TakenOut& out : out_) {
    if (home) {
      put_near(out.task);
    } else {
      put(out.task, 0);
    }
    all_placed &= has_place(out.task);
  }
  return all_placed;
}

void PlanSearch::debug() const { if (late_alone_.empty()) return;
  for (int order : movable_) {
    auto& o = outcomes_[at(order)];
    if (o.days_late > late_alone_[at(order)]) {
      fprintf(stderr, "order %d late %d alone %d w %.0f ready %d kit %.1f moved %d:", order, o.days_late, late_alone_[at(order)], floor_->input.orders[at(order)].weight, o.ready.value_or(-1)/1440, facts_->kit[at(order)]/1440, o.moved);
      for (int task : facts_->tasks[at(order)]) fprintf(stderr, " %s[%d]%.1f/%.1f", floor_->input.tasks[at(task)].id.c_str()+5, placer_.spots()[at(task)].person, placer_.spots()[at(task)].start/1440.0, floor_->input.tasks[at(task)].previous ? floor_->input.tasks[at(task)].previous->start/1440.0 : -1);
      fprintf(stderr, "\n");
    }
  }
  const char* names[] = {"few","stretch","rest","room","home","hands"};
  for (size_t i = 0; i < kReaches; ++i) fprintf(stderr, "%s steps %ld kept %ld gained %.0f placements %ld\n", names[i], dn[i], dk[i], dg[i], dp[i]);
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
  for (const int task : hands_) judge(floor_->input.tasks[at(task)].order);
}

}  // namespace rollwright::plan

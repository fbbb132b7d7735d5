#include "plan/promise_draw.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

#include "plan/longest_goes.hpp"
#include "plan/quick_luck.hpp"

namespace rollwright::plan {
namespace {

/// FNV-1a over kind and name.
std::uint64_t named(char kind, std::string_view name) {
  std::uint64_t hash = 0xcbf29ce484222325ULL;
  const auto take = [&hash](char letter) {
    hash = (hash ^ static_cast<unsigned char>(letter)) * 0x100000001b3ULL;
  };
  take(kind);
  for (const char letter : name) take(letter);
  return mixed(hash);
}

double below_normal(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double drawn(const trade::Spread& spread, double p) {
  return spread.sigma > 0 ? trade::at_normal(spread, quick_inverse_normal(p))
                          : spread.least + spread.median;
}

double most_minutes(const PlanInput& input, const LongestGoes& goes, const Task& task) {
  constexpr double kMost = 1e6;
  if (pause_of(task) == Pause::kAnywhere) return kMost;
  const std::uint64_t able = who_can(input, task);
  double most = task.minutes;
  for (std::size_t at = 0; at < input.people.size(); ++at) {
    if ((able >> at & 1) == 0) continue;
    const double share = input.people[at].productive * (1 - input.disturbance.walk_in_most);
    // A minute less, for whole minutes and 1024ths are rounded.
    most = std::max(most, (goes.minutes(at, task) - 1) * share);
  }
  return most;
}

/// Whole work units, at least one.
int whole_units(double units) { return std::max(1, static_cast<int>(units + 0.5)); }

}  // namespace

DrawSource::DrawSource(const PlanInput& input, std::uint64_t seed) : input_(input), seed_(seed) {
  add_work();
  for (const Order& order : input.orders) order_names_.push_back(named('o', order.id));
  for (const Arrival& arrival : input.arrivals) {
    arrival_names_.push_back(named('a', arrival.what));
    together_names_.push_back(named('s', arrival.together));
  }
  const Disturbance& odds = input.disturbance;
  const int today = input.now / kMinutesPerDay;
  for (const Person& person : input.people) {
    person_names_.push_back(named('p', person.id));
    ill_.push_back(spells(odds.sick, odds.sick_days, today + 1));
    leave_.push_back(spells(person.untold_leave, odds.leave_days, odds.leave_from));
  }
}

/// What is certain is the same in every draw.
void DrawSource::add_work() {
  const LongestGoes goes(input_);
  sure_work_.assign(input_.tasks.size(), 1);
  for (std::size_t index = 0; index < input_.tasks.size(); ++index) {
    const Task& task = input_.tasks[index];
    if (!is_open(input_, task)) continue;
    const trade::Spread& spread = task.spread;
    const double most = most_minutes(input_, goes, task);
    if (spread.median > 0 && spread.sigma > 0) {
      uncertain_work_.add(named('t', task.id), spread, most, kWorkUnit);
      uncertain_.push_back(static_cast<int>(index));
    } else {
      const double minutes = spread.median > 0 ? spread.least + spread.median : task.minutes;
      sure_work_[index] = whole_units(std::min(minutes, most) * kWorkUnit);
    }
  }
}

DrawSource::Spells DrawSource::spells(double share, double days, int from) {
  // At the least, a day follows another by chance.
  const double stays = std::max(share, 1 - 1 / days);
  const auto scaled = [](double chance) { return static_cast<std::uint64_t>(chance * 0x1.0p52); };
  return {scaled(share * (1 - stays) / (1 - share)), scaled(stays), from};
}

void DrawSource::sample_people(Draw& out) const {
  const auto days = static_cast<std::size_t>(input_.days);
  out.out.assign(input_.people.size() * days, 0);
  const auto add = [&](std::size_t person, const Spells& spells, bool is_out, std::uint64_t key) {
    if (spells.begins == 0 && !is_out) return;
    for (auto day = static_cast<std::size_t>(spells.from); day < days; ++day) {
      const std::uint64_t luck = mixed(key + day) >> 12;
      is_out = luck < (is_out ? spells.stays : spells.begins);
      if (is_out) out.out[person * days + day] = 1;
    }
  };
  for (std::size_t person = 0; person < input_.people.size(); ++person) {
    const std::uint64_t key = mixed(out.key ^ person_names_[person]);
    add(person, ill_[person], input_.people[person].out, key);
    add(person, leave_[person], false, mixed(key));
  }
}

void DrawSource::sample_work(Draw& out) const {
  out.work = sure_work_;
  out.drawn.resize(uncertain_work_.size());
  uncertain_work_.draw(out.key, out.drawn);
  for (std::size_t at = 0; at < uncertain_.size(); ++at) {
    out.work[static_cast<std::size_t>(uncertain_[at])] = out.drawn[at];
  }
}

double DrawSource::days_until(std::size_t at, std::uint64_t key) const {
  const Arrival& arrival = input_.arrivals[at];
  if (arrival.known) return 0;
  const double own = uniform(mixed(key ^ arrival_names_[at]));
  if (arrival.correlation == 0 || arrival.together.empty()) {
    return arrival.by ? days_at(arrival, own) : drawn(arrival.working_days, own);
  }
  const double shared = quick_inverse_normal(uniform(mixed(key ^ together_names_[at])));
  const double z = std::sqrt(arrival.correlation) * shared +
                   std::sqrt(1 - arrival.correlation) * quick_inverse_normal(own);
  return arrival.by ? days_at(arrival, below_normal(z)) : trade::at_normal(arrival.working_days, z);
}

void DrawSource::sample(int draw, Draw& out) const {
  out.key = mixed(mixed(seed_) + static_cast<std::uint64_t>(draw));
  out.in_hand.resize(input_.arrivals.size());
  out.comes.assign(input_.orders.size(), 1);
  for (std::size_t at = 0; at < input_.orders.size(); ++at) {
    const double chance = input_.orders[at].chance;
    if (chance < 1) out.comes[at] = uniform(mixed(out.key ^ order_names_[at])) < chance ? 1 : 0;
  }
  sample_people(out);
  sample_work(out);
  for (std::size_t at = 0; at < input_.arrivals.size(); ++at) {
    const double days = days_until(at, out.key);
    out.in_hand[at] = in_hand_after(input_, input_.arrivals[at], days);
  }
}

int DrawSource::rate(const Draw& draw, int person, int day) const {
  const auto who = static_cast<std::size_t>(person);
  const Disturbance& odds = input_.disturbance;
  const auto days = static_cast<std::size_t>(input_.days);
  if (draw.out[who * days + static_cast<std::size_t>(day)] != 0) return 0;
  const std::uint64_t luck =
      mixed(draw.key ^ mixed(person_names_[who] + static_cast<std::uint64_t>(day)));
  const double taken =
      odds.walk_in_least + (odds.walk_in_most - odds.walk_in_least) * uniform(mixed(luck));
  const double share = input_.people[who].productive * (1 - taken);
  return std::max(1, static_cast<int>(std::lround(share * kWorkUnit)));
}

}  // namespace rollwright::plan

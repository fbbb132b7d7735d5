#include "plan/promise_draw.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>

namespace rollwright::plan {
namespace {

/// Finalizer of splitmix64: every bit of the result depends on every bit given.
std::uint64_t mixed(std::uint64_t z) {
  z += 0x9e3779b97f4a7c15ULL;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31);
}

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

/// Inside (0, 1), never on an end.
double uniform(std::uint64_t bits) { return (static_cast<double>(bits >> 12) + 0.5) * 0x1.0p-52; }

double below_normal(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double drawn(const trade::Spread& spread, double p) {
  return spread.sigma > 0 ? trade::at_normal(spread, quick_inverse_normal(p))
                          : spread.least + spread.median;
}

double most_minutes(const PlanInput& input, const Task& task) {
  constexpr double kMost = 1e6;
  if (task.pause == Pause::kAnywhere) return kMost;
  const std::uint64_t able = who_can(input, task);
  double most = task.minutes;
  for (std::size_t at = 0; at < input.people.size(); ++at) {
    if ((able >> at & 1) == 0) continue;
    const Person& person = input.people[at];
    const double share = person.productive * (1 - input.disturbance.walk_in_most);
    // A minute less, for whole minutes and 1024ths are rounded.
    most = std::max(most, (longest_go(person, task.pause, input.now) - 1) * share);
  }
  return most;
}

}  // namespace

DrawSource::DrawSource(const PlanInput& input, std::uint64_t seed) : input_(input), seed_(seed) {
  for (const Task& task : input.tasks) {
    task_names_.push_back(named('t', task.id));
    most_minutes_.push_back(is_open(input, task) ? most_minutes(input, task) : 0);
  }
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
  out.work.assign(input_.tasks.size(), 1);
  out.in_hand.resize(input_.arrivals.size());
  out.comes.assign(input_.orders.size(), 1);
  for (std::size_t at = 0; at < input_.orders.size(); ++at) {
    const double chance = input_.orders[at].chance;
    if (chance < 1) out.comes[at] = uniform(mixed(out.key ^ order_names_[at])) < chance ? 1 : 0;
  }
  sample_people(out);
  for (std::size_t at = 0; at < input_.tasks.size(); ++at) {
    const Task& task = input_.tasks[at];
    if (!is_open(input_, task)) continue;
    const double minutes = task.spread.median > 0
                               ? drawn(task.spread, uniform(mixed(out.key ^ task_names_[at])))
                               : task.minutes;
    const double units = std::min(minutes, most_minutes_[at]) * kWorkUnit;
    out.work[at] = std::max(1, static_cast<int>(std::lround(units)));
  }
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

double quick_inverse_normal(double p) {
  const double q = p - 0.5;
  if (std::abs(q) <= 0.425) {
    const double r = 0.180625 - q * q;
    return q * (((59.109374720 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179) /
           (((67.187563600 * r + 78.757757664) * r + 17.895169469) * r + 1);
  }
  double r = std::sqrt(-std::log(q < 0 ? p : 1 - p));
  double z = 0;
  if (r <= 5) {
    r -= 1.6;
    z = (((0.17023821103 * r + 1.3067284816) * r + 2.7568153900) * r + 1.4234372777) /
        ((0.12021132975 * r + 0.73700164250) * r + 1);
  } else {
    r -= 5;
    z = (((0.017337203997 * r + 0.42868294337) * r + 3.0812263860) * r + 6.6579051150) /
        ((0.012258202635 * r + 0.24197894225) * r + 1);
  }
  return q < 0 ? -z : z;
}

}  // namespace rollwright::plan

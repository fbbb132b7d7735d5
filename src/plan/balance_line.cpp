#include "plan/balance_line.hpp"

#include <algorithm>
#include <memory>
#include <optional>

#include <fmt/format.h>

#include "plan/line_bound.hpp"
#include "plan/line_search.hpp"

namespace rollwright::plan {
namespace {

/// Efforts of one round after another; the last goes on as long as it may.
constexpr LineEffort kEfforts[] = {
    {20'000, 200, 100'000},
    {100'000, 2'000, 1'000'000},
    {400'000, 50'000, 5'000'000},
    {1'500'000, 10'000'000, 25'000'000},
    {4'000'000, 1'000'000'000, 1'000'000'000},
};

struct Counted {
  Stations station_of;
  int stations = 0;
};

/// Fills station after station with the open task that has most work behind it and still fits.
Counted by_rule(const Line& line, int takt) {
  std::vector<long long> weights = work_behind(line, takt);
  for (int i = 0; i < line.size(); ++i) weights[static_cast<std::size_t>(i)] += line.time(i);
  Counted balance{Stations(static_cast<std::size_t>(line.size()), -1), 0};
  std::vector<std::size_t> waits;
  for (int i = 0; i < line.size(); ++i) waits.push_back(line.predecessors(i).size());
  long long free = 0;
  for (int placed = 0; placed < line.size();) {
    int best = -1;
    for (int i = 0; i < line.size(); ++i) {
      const auto index = static_cast<std::size_t>(i);
      if (balance.station_of[index] >= 0 || waits[index] > 0 || line.time(i) > free) continue;
      if (best < 0 || weights[index] > weights[static_cast<std::size_t>(best)]) best = i;
    }
    if (best < 0 || balance.stations == 0) {
      ++balance.stations;
      free = takt;
      continue;
    }
    balance.station_of[static_cast<std::size_t>(best)] = balance.stations - 1;
    free -= line.time(best);
    ++placed;
    for (const int next : line.successors(best)) --waits[static_cast<std::size_t>(next)];
  }
  return balance;
}

Counted turned(Counted balance) {
  for (int& station : balance.station_of) station = balance.stations - 1 - station;
  return balance;
}

/// Both ends of a line, and what is spent on them.
struct Work {
  const Line* line;
  Line end_first;
  const BalanceLimits* limits;
  long long steps = 0;

  Work(const Line& of, const BalanceLimits& with)
      : line(&of), end_first(of.reversed()), limits(&with) {}
  [[nodiscard]] bool over() const {
    return steps >= limits->most_steps || (limits->stop && limits->stop());
  }
};

struct Answer {
  LineSearch::Outcome outcome = LineSearch::Outcome::kGaveUp;
  Counted balance;
};

/// Whether `stations` suffice for the takt.
Answer ask(Work& work, int takt, int stations) {
  for (LineEffort effort : kEfforts) {
    for (const bool from_end : {false, true}) {
      if (work.over()) return {};
      effort.most_steps = std::min(effort.most_steps, work.limits->most_steps - work.steps);
      effort.stop = &work.limits->stop;
      LineSearch search(from_end ? work.end_first : *work.line, takt, stations);
      const auto outcome = search.run(effort);
      work.steps += search.steps();
      if (outcome == LineSearch::Outcome::kGaveUp) continue;
      Counted balance{search.found(), stations};
      if (from_end && outcome == LineSearch::Outcome::kFound) balance = turned(std::move(balance));
      return {outcome, std::move(balance)};
    }
  }
  return {};
}

/// As few stations as are used, from 0, none of them empty in between.
void close_gaps(Counted& balance) {
  std::vector<int> number(static_cast<std::size_t>(balance.stations), 0);
  for (const int station : balance.station_of) number[static_cast<std::size_t>(station)] = 1;
  int used = 0;
  for (int& n : number) n = n == 1 ? used++ : -1;
  for (int& station : balance.station_of) station = number[static_cast<std::size_t>(station)];
  balance.stations = used;
}

int most_work(const Line& line, const Counted& balance) {
  std::vector<long long> load(static_cast<std::size_t>(balance.stations) + 1, 0);
  for (int i = 0; i < line.size(); ++i) {
    load[static_cast<std::size_t>(balance.station_of[static_cast<std::size_t>(i)])] += line.time(i);
  }
  return static_cast<int>(*std::max_element(load.begin(), load.end()));
}

}  // namespace

Result<LineBalance> fewest_stations(const Line& line, int takt, const BalanceLimits& limits) {
  if (takt < 1) {
    return refuse(Code::kOutOfRange, "A takt is 1 time unit or more.",
                  {.field = "takt", .value = std::to_string(takt)});
  }
  if (line.longest_time() > takt) {
    return refuse(Code::kContradiction,
                  fmt::format("One task takes {} time units, so that it fits on no station.",
                              line.longest_time()),
                  {.field = "takt", .value = std::to_string(takt)});
  }
  Work work(line, limits);
  Counted best = by_rule(line, takt);
  Counted other = turned(by_rule(work.end_first, takt));
  if (other.stations < best.stations) best = std::move(other);
  close_gaps(best);
  int least = least_stations(line, takt);
  while (best.stations > least) {
    Answer answer = ask(work, takt, best.stations - 1);
    if (answer.outcome == LineSearch::Outcome::kGaveUp) break;
    if (answer.outcome == LineSearch::Outcome::kNone) least = best.stations;
    if (answer.outcome == LineSearch::Outcome::kFound) {
      best = std::move(answer.balance);
      close_gaps(best);
    }
  }
  return LineBalance{.station_of = std::move(best.station_of),
                     .stations = best.stations,
                     .takt = takt,
                     .lower_bound = least,
                     .steps = work.steps,
                     .proved = least == best.stations};
}

Result<LineBalance> shortest_takt(const Line& line, int stations, const BalanceLimits& limits) {
  if (stations < 1 || stations > kMostLineTasks) {
    return refuse(Code::kOutOfRange, fmt::format("A line has 1 to {} stations.", kMostLineTasks),
                  {.field = "stations", .value = std::to_string(stations)});
  }
  Work work(line, limits);
  const long long even = (line.total_time() + stations - 1) / stations;
  long long least = std::max<long long>({even, line.longest_time(), 1});
  if (line.total_time() > kMostTaskTime) {
    return refuse(Code::kTooLarge, "All tasks together take too long; a coarser time unit fits.");
  }
  // One station for everything always suffices.
  Counted best{Stations(static_cast<std::size_t>(line.size()), 0), 1};
  long long shortest = std::max(line.total_time(), least);
  bool sure = true;  // everything below `least` is shown not to suffice
  long long ask_from = least;
  while (ask_from < shortest) {
    const long long takt = ask_from + (shortest - ask_from) / 8;
    Counted rule = by_rule(line, static_cast<int>(takt));
    Answer answer{LineSearch::Outcome::kFound, rule};
    if (rule.stations > stations) answer = ask(work, static_cast<int>(takt), stations);
    if (answer.outcome == LineSearch::Outcome::kFound) {
      best = std::move(answer.balance);
      close_gaps(best);
      shortest = std::max<long long>(most_work(line, best), least);
      continue;
    }
    sure = sure && answer.outcome == LineSearch::Outcome::kNone;
    ask_from = takt + 1;
    if (sure) least = ask_from;
    if (work.over()) break;
  }
  return LineBalance{.station_of = std::move(best.station_of),
                     .stations = stations,
                     .takt = static_cast<int>(shortest),
                     .lower_bound = static_cast<int>(least),
                     .steps = work.steps,
                     .proved = least == shortest};
}

}  // namespace rollwright::plan

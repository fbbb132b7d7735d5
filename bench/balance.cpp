// Balances lines for a takt, each within a second of CPU time: classic pairs of a line and a takt,
// and lines of 20 tasks. Says how many numbers of stations were proved to be the fewest, and
// whether any contradicts what is published. Every balance is checked by code that shares nothing
// with what balances.
//
// Data: Scholl 1993; Otto, Otto and Scholl, EJOR 228 (2013).

#include <algorithm>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "plan/balance_line.hpp"
#include "plan/check_line.hpp"
#include "plan/read_line.hpp"
#include "plan_instances.hpp"

namespace {

using namespace rollwright;

constexpr double kLeastShareOfClassic = 0.95;  // the aims this house has set itself
constexpr double kLeastShareOfSmall = 1.0;

struct Pair {
  std::string name;
  std::string file;
  int takt = 0;
  int least = 0;         // published; no balance has fewer stations
  int known = 1 << 30;   // published; some balance has so few
};

struct Tally {
  int instances = 0;
  int proved = 0;
  int contradictions = 0;
  double seconds = 0;
  double longest_s = 0;
};

/// Pairs of a list whose first column names a file, by the list's takt and bounds.
Result<std::vector<Pair>> listed_pairs(const std::string& list, const std::string& folder,
                                       const std::string& ending) {
  const auto text = read_file(list);
  if (!text) return std::unexpected(text.error());
  const auto csv = parse_csv(*text, list);
  if (!csv) return std::unexpected(csv.error());
  const int takt = csv->column("cycle_time");
  const int least = csv->column("stations_lb");
  const int known = csv->column("stations_ub");
  if (takt < 0 || least < 0 || known < 0) {
    return refuse(Code::kBadInput, "The list wants cycle_time, stations_lb and stations_ub.",
                  {.file = list, .line = 1});
  }
  std::vector<Pair> pairs;
  for (const CsvRow& row : csv->rows) {
    const auto whole = [&](int column) {
      return to_whole(row.cells[static_cast<std::size_t>(column)]).value_or(-1);
    };
    if (std::min({whole(takt), whole(least), whole(known)}) < 0) {
      return refuse(Code::kBadInput, "Takt and stations are whole numbers.",
                    {.file = list, .line = row.line});
    }
    pairs.push_back({row.cells[0], folder + "/" + row.cells[0] + ending,
                     static_cast<int>(whole(takt)), static_cast<int>(whole(least)),
                     static_cast<int>(whole(known))});
  }
  return pairs;
}

Result<void> balance(const Pair& pair, double most_seconds, Tally& tally) {
  const auto text = read_file(pair.file);
  if (!text) return std::unexpected(text.error());
  const auto file = plan::read_line_file(*text, pair.file);
  if (!file) return std::unexpected(file.error());
  const double begin = bench::cpu_seconds();
  const auto spent = [begin] { return bench::cpu_seconds() - begin; };
  plan::BalanceLimits limits{.most_steps = 1LL << 50};
  limits.stop = [&] { return spent() > 0.95 * most_seconds; };
  const auto found = plan::fewest_stations(file->line, pair.takt, limits);
  const double seconds = spent();
  if (!found) return std::unexpected(found.error());
  const auto wrong =
      plan::check_line(file->line, found->station_of, found->stations, pair.takt);
  const bool contradicts = !wrong.empty() || found->stations < pair.least ||
                           found->lower_bound > pair.known;
  const bool proved = found->proved && seconds <= most_seconds;
  ++tally.instances;
  tally.proved += proved ? 1 : 0;
  tally.contradictions += contradicts ? 1 : 0;
  tally.seconds += seconds;
  tally.longest_s = std::max(tally.longest_s, seconds);
  for (const std::string& sentence : wrong) fmt::print("{}: {}\n", pair.name, sentence);
  if (!proved || contradicts) {
    fmt::print("{}, takt {}: {} to {} stations, published {} to {}.\n", pair.name, pair.takt,
               found->lower_bound, found->stations, pair.least, pair.known);
  }
  return {};
}

Result<Tally> balance_all(const std::vector<Pair>& pairs, double most_seconds) {
  Tally tally;
  for (const Pair& pair : pairs) {
    if (auto done = balance(pair, most_seconds, tally); !done) {
      return std::unexpected(done.error());
    }
  }
  return tally;
}

Result<bool> run(const std::string& data, double most_seconds) {
  const std::string folder = data + "/reference/planning/salbp/";
  const auto classic = listed_pairs(folder + "scholl-optima.csv", folder + "scholl", ".IN2");
  if (!classic) return std::unexpected(classic.error());
  const bench::TemporaryFolder unpacked;
  if (auto done = bench::unpack(folder + "otto-n20.alb.tar.xz", unpacked.path()); !done) {
    return std::unexpected(done.error());
  }
  const auto small =
      listed_pairs(folder + "otto-n20-optima.csv", unpacked.path() + "/otto-n20", ".alb");
  if (!small) return std::unexpected(small.error());
  const auto first = balance_all(*classic, most_seconds);
  if (!first) return std::unexpected(first.error());
  const auto second = balance_all(*small, most_seconds);
  if (!second) return std::unexpected(second.error());
  const int wrong = first->contradictions + second->contradictions;
  const bool holds = wrong == 0 && first->proved >= kLeastShareOfClassic * first->instances &&
                     second->proved >= kLeastShareOfSmall * second->instances;
  fmt::print("Proved: {} of {} classic pairs, {} of {} lines of 20 tasks; {} contradictions.\n",
             first->proved, first->instances, second->proved, second->instances, wrong);
  fmt::print(
      "{{\"name\":\"balance\",\"holds\":{},\"figures\":{{\"proved\":{},\"instances\":{},"
      "\"contradictions\":{},\"classic_proved\":{},\"classic\":{},\"n20_proved\":{},\"n20\":{},"
      "\"seconds\":{:.3f},\"longest_s\":{:.3f}}}}}\n",
      holds, first->proved + second->proved, first->instances + second->instances, wrong,
      first->proved, first->instances, second->proved, second->instances,
      first->seconds + second->seconds, std::max(first->longest_s, second->longest_s));
  return holds;
}

}  // namespace

int main(int argc, char** argv) {
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  double most_seconds = 1;
  CLI::App app{"Balances benchmark lines, each within a second of CPU time."};
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  app.add_option("--seconds", most_seconds, "CPU time for each")->check(CLI::Range(0.01, 1e5));
  CLI11_PARSE(app, argc, argv);
  const auto holds = run(data, most_seconds);
  if (!holds) {
    fmt::print(stderr, "{}\n", holds.error().full());
    return 3;
  }
  return *holds ? 0 : 1;
}

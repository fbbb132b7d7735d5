// What promises are worth: two years of an invented shop whose luck follows other laws than those
// the promise reckons with (simulated_luck.hpp), several times over. Every order is promised on the
// evening it is agreed. The share of promises that were kept is set beside what was said, and beside
// what a sum of middles, and the same with two weeks on top, would have kept.

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <future>
#include <map>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "simulated_shop.hpp"

namespace {

using namespace rollwright;

constexpr double kLeast = 87;
constexpr double kMost = 93;
constexpr std::chrono::days kSlack{14};
constexpr int kSaid[] = {10, 25, 50, 75, 80, 90, 95};  // percent

double percent(double part, double all) { return all > 0 ? 100 * part / all : 0; }

struct Tally {
  int orders = 0;
  std::map<int, int> kept;  // by percent said
  std::map<int, int> kept_simulated;  // had the day of the simulation alone been told
  int point = 0;
  int slack = 0;
  double days_told = 0;     // from agreeing to the day told at 90 %
  double days_simulated = 0;
  double days_point = 0;
  std::vector<double> after_point;  // days from the sum of middles to ready
  std::array<int, 10> kit_places{};
  int kits = 0;
  double bench_said = 0;    // days from the middle of the kit to that of the bike
  double bench_took = 0;    // from kit to ready
  int benches = 0;
  std::array<int, 10> bench_places{};
  std::map<std::string, int> held;  // late bikes by what held them

  void add(const bench::Outcome& order) {
    if (!order.counted || !order.promise) return;
    ++orders;
    const Day ready = order.ready.value_or(Day::max());
    const double before = order.ready ? plan::said_before(order.promise->curve, ready) : 1;
    const double simulated = order.ready ? plan::said_before(order.simulated->curve, ready) : 1;
    for (const int said : kSaid) {
      kept[said] += before < said / 100.0 ? 1 : 0;
      kept_simulated[said] += simulated < said / 100.0 ? 1 : 0;
    }
    days_simulated += static_cast<double>(
        (order.simulated->day_90.value_or(order.told) - order.agreed).count());
    if (ready <= order.by_medians) ++point;
    if (ready <= order.by_medians + kSlack) ++slack;
    days_told += static_cast<double>((order.told - order.agreed).count());
    days_point += static_cast<double>((order.by_medians - order.agreed).count());
    after_point.push_back(order.ready ? static_cast<double>((ready - order.by_medians).count())
                                      : bench::kPromiseHorizon);
    if (order.kit_place >= 0) {
      ++kits;
      ++kit_places[std::min<std::size_t>(9, static_cast<std::size_t>(order.kit_place * 10))];
    }
    if (order.kit && order.ready && order.promise->day_50) {
      ++benches;
      bench_said += static_cast<double>((*order.promise->day_50 - order.kit_middle).count());
      bench_took += static_cast<double>((ready - *order.kit).count());
    }
    if (order.at_kit && order.ready) {
      const auto& curve = order.at_kit->curve;
      const double at = (plan::said_before(curve, ready) +
                         plan::said_before(curve, ready + std::chrono::days(1))) / 2;
      ++bench_places[std::min<std::size_t>(9, static_cast<std::size_t>(at * 10))];
    }
    if (!order.kept()) ++held[why_late(order)];
  }

  static std::string why_late(const bench::Outcome& order) {
    if (!order.ready) return "not ready when the shop was left";
    if (order.kit_place < 0.9) return "the bench: its kit was there as early as foreseen";
    if (order.sent_again) return "its last part came wrong or damaged";
    if (order.in_trouble) return "its last part's supplier was in trouble";
    return "its last part took long";
  }

  void add(const Tally& other) {
    orders += other.orders;
    for (const auto& [said, count] : other.kept) kept[said] += count;
    for (const auto& [said, count] : other.kept_simulated) kept_simulated[said] += count;
    days_simulated += other.days_simulated;
    point += other.point;
    slack += other.slack;
    days_told += other.days_told;
    days_point += other.days_point;
    after_point.insert(after_point.end(), other.after_point.begin(), other.after_point.end());
    bench_said += other.bench_said;
    bench_took += other.bench_took;
    benches += other.benches;
    kits += other.kits;
    for (std::size_t i = 0; i < 10; ++i) {
      kit_places[i] += other.kit_places[i];
      bench_places[i] += other.bench_places[i];
    }
    for (const auto& [why, count] : other.held) held[why] += count;
  }

  /// The slack on the sum of middles that would have kept as many, had one known it beforehand.
  double slack_in_hindsight() const {
    std::vector<double> days = after_point;
    std::ranges::sort(days);
    const auto kept_90 = static_cast<std::size_t>(kept.at(90));
    return kept_90 == 0 ? 0 : days[kept_90 - 1];
  }

  double kept_percent(int said) const {
    return kept.contains(said) ? percent(kept.at(said), orders) : 0;
  }
};

void print_words(const Tally& tally) {
  fmt::print("\nsaid      kept  by the simulation alone\n");
  for (const auto& [said, count] : tally.kept) {
    fmt::print("{:>4} %  {:5.1f} %  {:5.1f} %\n", said, percent(count, tally.orders),
               percent(tally.kept_simulated.at(said), tally.orders));
  }
  fmt::print("\nDay told at 90 %: {:.1f} days after agreeing in the mean, {:.1f} by the simulation "
             "alone; sum of middles {:.1f}.\n",
             tally.days_told / tally.orders, tally.days_simulated / tally.orders,
             tally.days_point / tally.orders);
  const double slack = tally.slack_in_hindsight();
  fmt::print("To keep as many, the sum of middles wants {:.0f} days on top, known only afterwards: "
             "{:.1f} days in the mean.\n",
             slack, tally.days_point / tally.orders + slack);
  fmt::print("Kits by tenths of the luck foreseen (even would be a tenth each):");
  for (const int count : tally.kit_places) fmt::print(" {:.0f}", percent(count, tally.kits));
  fmt::print("\nFrom kit to ready: {:.1f} days, foreseen {:.1f}.", tally.bench_took / tally.benches,
             tally.bench_said / tally.benches);
  fmt::print("\nBikes by tenths of the luck foreseen once the kit is there (--again):");
  for (const int count : tally.bench_places) fmt::print(" {}", count);
  fmt::print("\nWhat held the late bikes:\n");
  for (const auto& [why, count] : tally.held) fmt::print("  {:>4}  {}\n", count, why);
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("share of promises kept over two years of a simulated shop");
  std::string data;
  std::string root = ROLLWRIGHT_ROOT;
  bench::Running running;
  std::vector<std::uint64_t> seeds = {11, 12, 13};
  app.add_option("--data", data, "not needed here");
  app.add_option("--root", root, "folder that holds data/trade and data/demo");
  app.add_option("--seeds", seeds, "each a shop of its own luck")->delimiter(',');
  app.add_option("--draws", running.draws,
                 "of each promise; of n draws the day of 90 % keeps ceil(0.9 n) / (n + 1)");
  app.add_option("--days", running.days_counted, "in which orders are counted");
  app.add_option("--orders", running.orders_a_week, "agreed in a week");
  app.add_flag("--again", running.again_at_kit, "promise once more when the kit is there");
  app.add_flag("--as-foreseen", running.turns.longest_chain,
               "who works takes up bikes and jobs in the promise's own order");
  app.add_flag("!--no-record", running.means.record, "odds are not set right by the record");
  app.add_flag("!--none-to-come", running.means.to_come, "orders to come are not reckoned with");
  app.add_flag("!--last-turn", running.means.in_turn, "what is asked about goes last");
  app.add_option_function<std::vector<std::string>>(
         "--without",
         [&](const std::vector<std::string>& names) {
           for (const std::string& name : names) {
             if (bench::leave_out(running.laws, name)) continue;
             throw CLI::ValidationError("--without", name + " is no law of the simulated shop");
           }
         },
         "laws left out: trouble, not-good, astray, own-ways, spells, holidays, seasons")
      ->delimiter(',');
  CLI11_PARSE(app, argc, argv);

  running.turns.spare_seniors = running.turns.longest_chain;
  const auto catalogue = bench::read_catalogue(root);
  if (!catalogue) {
    fmt::print(stderr, "calibration: {}\n", catalogue.error().full());
    return 3;
  }
  struct Shop {
    Tally tally;
    double busy = 0;
    double seconds = 0;
  };
  std::vector<std::future<Shop>> shops;
  for (const std::uint64_t seed : seeds) {
    shops.push_back(std::async(std::launch::async, [&catalogue, &running, seed] {
      const auto started = std::chrono::steady_clock::now();
      const bench::Course course = bench::run_shop(*catalogue, seed, running);
      Shop shop{.tally = {}, .busy = course.busy};
      for (const bench::Outcome& order : course.orders) shop.tally.add(order);
      const std::chrono::duration<double> took = std::chrono::steady_clock::now() - started;
      shop.seconds = took.count();
      return shop;
    }));
  }
  Tally all;
  for (std::size_t at = 0; at < seeds.size(); ++at) {
    Shop shop = shops[at].get();
    fmt::print("shop {}: {} promises; kept at 50, 80, 90, 95 %: {:.1f} {:.1f} {:.1f} {:.1f} "
               "(90 % by the simulation alone: {:.1f}); people busy {:.2f}; {:.0f} s\n",
               seeds[at], shop.tally.orders, shop.tally.kept_percent(50),
               shop.tally.kept_percent(80), shop.tally.kept_percent(90),
               shop.tally.kept_percent(95),
               percent(shop.tally.kept_simulated[90], shop.tally.orders), shop.busy, shop.seconds);
    std::fflush(stdout);
    all.add(shop.tally);
  }
  if (all.orders == 0) {
    fmt::print(stderr, "calibration: no order was agreed in that time\n");
    return 3;
  }
  print_words(all);
  const double at_90 = all.kept_percent(90);
  const bool holds = kLeast <= at_90 && at_90 <= kMost;
  fmt::print(R"({{"name":"calibration","holds":{},"figures":{{"promises":{},)"
             R"("kept_at_90_percent":{:.1f},"kept_at_50_percent":{:.1f},)"
             R"("kept_at_80_percent":{:.1f},"kept_at_95_percent":{:.1f},)"
             R"("point_estimate_kept_percent":{:.1f},"fixed_slack_kept_percent":{:.1f},)"
             R"("shops":{},"draws":{}}}}})"
             "\n",
             holds, all.orders, at_90, all.kept_percent(50), all.kept_percent(80),
             all.kept_percent(95), percent(all.point, all.orders), percent(all.slack, all.orders),
             seeds.size(), running.draws);
  return holds ? 0 : 1;
}

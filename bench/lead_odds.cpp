// How well learned lead times keep their odds: receipts are gone through month by month, each
// judged by what the receipts before its month had taught. Of the demo's receipts, which are invented, or
// of a shop's own folder (read with --shop). Says what share of deliveries fell inside the middle
// 50, 80 and 90 in 100, and how much better the odds are than the rows of lead_times.csv alone.

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/random.hpp"
#include "supply/replay.hpp"
#include "trade/load_trade.hpp"
#include "trade/shop_files.hpp"

namespace {

using namespace rollwright;

/// Seasons, which the model ignores, cost a few in 100 of the coverage.
constexpr double kNear = 0.07;

struct Score {
  int count = 0;
  std::array<int, 3> inside{};
  double log_score = 0;  // mean logarithm of the chance given to the day on which it came

  void add(double below, double chance, Random& random) {
    const double place = below + random.uniform() * chance;
    const std::array<double, 3> ranges = {0.5, 0.8, 0.9};
    for (std::size_t i = 0; i < 3; ++i) {
      if (std::abs(place - 0.5) <= ranges[i] / 2) ++inside[i];
    }
    log_score += std::log(std::max(chance, 1e-9));
    ++count;
  }
  double share(std::size_t i) const { return static_cast<double>(inside[i]) / count; }
};

/// Learned lead times against the rows alone, over all receipts.
struct Backtest {
  Backtest(const trade::Trade& trade, const trade::ShopFiles& files) {
    const auto group_of = supply::lead_time_groups(trade, files.parts);
    const supply::LeadTimes rows(trade.lead_times, group_of, {}, files.offers);
    std::map<std::pair<trade::SupplierId, trade::PartId>, supply::DayOdds> by_row;
    for (const trade::Offer& offer : files.offers) {
      by_row[{offer.supplier, offer.part}] = rows.delivery(offer);
    }
    Random random(1);
    for (const supply::ReplayedDelivery& one : supply::replay_deliveries(
             trade.lead_times, group_of, files.receipts, files.offers)) {
      learned.add(one.below, one.on_day, random);
      const supply::DayOdds& odds = by_row.at({one.receipt->supplier, one.receipt->part});
      const double below = supply::within(odds, one.days - 1);
      row.add(below, supply::within(odds, one.days) - below, random);
    }
  }

  Score learned;
  Score row;
};

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("how well learned lead times keep their odds");
  std::string data;
  std::string shop = ROLLWRIGHT_ROOT "/data/demo";
  app.add_option("--data", data, "not needed here");
  app.add_option("--shop", shop, "folder with parts, offers.csv and receipts.csv");
  CLI11_PARSE(app, argc, argv);
  const trade::LoadedTrade loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  const trade::ReadShopFiles read = trade::read_shop_files(loaded.trade, shop);
  if (!loaded.problems.empty() || !read.problems.empty()) {
    const Error& first = loaded.problems.empty() ? read.problems[0] : loaded.problems[0];
    fmt::print(stderr, "lead-odds: {}\n", first.full());
    return 3;
  }
  const Backtest test(loaded.trade, read.files);
  if (test.learned.count == 0) {
    fmt::print(stderr, "lead-odds: no receipt of a part that its supplier offers\n");
    return 3;
  }
  const double gain = (test.learned.log_score - test.row.log_score) / test.learned.count;
  const auto near = [&](std::size_t i, double wanted) {
    return std::abs(test.learned.share(i) - wanted) <= kNear;
  };
  const bool holds = near(0, 0.5) && near(1, 0.8) && near(2, 0.9) && gain > 0;
  fmt::print("{} deliveries; the rows alone cover {:.3f}, {:.3f} and {:.3f}\n",
             test.learned.count, test.row.share(0), test.row.share(1), test.row.share(2));
  fmt::print(R"({{"name":"lead-odds","holds":{},"figures":{{"deliveries":{},"inside_50":{:.3f},)"
             R"("inside_80":{:.3f},"inside_90":{:.3f},"gain_over_rows":{:.3f}}}}})"
             "\n",
             holds, test.learned.count, test.learned.share(0), test.learned.share(1),
             test.learned.share(2), gain);
  return holds ? 0 : 1;
}

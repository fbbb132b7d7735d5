// How well learned lead times keep their odds: receipts are gone through month by month, each
// judged by what the receipts before its month had taught. Of the demo's receipts, which are invented, or
// of a shop's own folder (read with --shop). Says what share of deliveries fell inside the middle
// 50, 80 and 90 in 100, and how much better the odds are than the rows of lead_times.csv alone.

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <string>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/random.hpp"
#include "base/working_days.hpp"
#include "supply/lead_time.hpp"
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

  void add(const supply::DayOdds& odds, int days, Random& random) {
    const double below = supply::within(odds, days - 1);
    const double chance = supply::within(odds, days) - below;
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

int month_of(Day day) {
  const std::chrono::year_month_day date(day);
  return static_cast<int>(date.year()) * 12 + static_cast<int>(unsigned{date.month()});
}

/// Receipts by the month in which they were ordered.
class Backtest {
 public:
  Backtest(const trade::Trade& trade, const trade::ShopFiles& files)
      : trade_(trade), files_(files) {
    for (const trade::Part& part : files.parts) {
      const auto kind = trade.kinds.find(part.kind);
      if (kind != trade.kinds.end()) group_of_[part.id] = kind->second.lead_time_group;
    }
    for (const trade::Offer& offer : files.offers) offers_[{offer.supplier, offer.part}] = &offer;
  }

  void run() {
    std::map<int, std::vector<const trade::Receipt*>> months;
    for (const trade::Receipt& receipt : files_.receipts) {
      months[month_of(receipt.ordered)].push_back(&receipt);
    }
    const supply::LeadTimes rows(trade_.lead_times, group_of_, {}, files_.offers);
    Random random(1);
    for (const auto& [month, receipts] : months) {
      const supply::LeadTimes lead_times(trade_.lead_times, group_of_, before(month),
                                         files_.offers);
      for (const trade::Receipt* receipt : receipts) {
        const auto offer = offers_.find({receipt->supplier, receipt->part});
        if (offer == offers_.end() || receipt->received < receipt->ordered) continue;
        const int days =
            std::max(1, working_days_between(receipt->ordered, receipt->received));
        learned.add(lead_times.delivery(*offer->second), days, random);
        row.add(rows.delivery(*offer->second), days, random);
      }
    }
  }

  Score learned;
  Score row;

 private:
  std::vector<trade::Receipt> before(int month) const {
    std::vector<trade::Receipt> past;
    for (const trade::Receipt& receipt : files_.receipts) {
      if (month_of(receipt.received) < month) past.push_back(receipt);
    }
    return past;
  }

  const trade::Trade& trade_;
  const trade::ShopFiles& files_;
  std::map<trade::PartId, std::string> group_of_;
  std::map<std::pair<trade::SupplierId, trade::PartId>, const trade::Offer*> offers_;
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
  Backtest test(loaded.trade, read.files);
  test.run();
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

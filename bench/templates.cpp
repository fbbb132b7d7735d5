// Compares the hands-on minutes and the longest chain of five usual builds, as the trade data give
// them for bikes of the invented demo shop, with totals worked out by hand from the same process
// table (derived; the minutes themselves are common practice).

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/text.hpp"
#include "build/applicable.hpp"
#include "build/facts.hpp"
#include "build/traits.hpp"
#include "trade/order_facts.hpp"
#include "trade/load_trade.hpp"
#include "trade/shop_files.hpp"

namespace {

using namespace rollwright;

/// Totals as published beside the table: sums in minutes, the chain's middle in hours, one decimal.
struct Reference {
  std::string_view build;
  int operations;
  double low;
  double high;
  double chain_hours;
};
constexpr Reference kReferences[] = {
    {"B1", 64, 647, 1260, 6.7}, {"B2", 58, 568, 1088, 6.5}, {"B3", 68, 727, 1420, 6.9},
    {"B4", 46, 435, 865, 6.6},  {"B5", 18, 198, 425, 3.9},
};

struct Figures {
  std::string order;
  int operations = 0;
  double low = 0;
  double high = 0;
  double chain_hours = 0;  // one decimal
};

/// Largest difference of the two sums, in percent of the reference.
double minutes_difference(const Figures& ours, const Reference& reference) {
  return 100 * std::max(std::abs(ours.low - reference.low) / reference.low,
                        std::abs(ours.high - reference.high) / reference.high);
}

bool agrees(const Figures& ours, const Reference& reference) {
  return ours.operations == reference.operations && ours.low == reference.low &&
         ours.high == reference.high && ours.chain_hours == reference.chain_hours;
}

struct Demo {
  trade::Trade trade;
  trade::ShopFiles files;
  std::map<trade::PartId, const trade::Part*> parts;
};

Result<Figures> figures_of(const Demo& demo, const trade::Order& order) {
  build::BikeFacts bike{.build = &demo.trade.templates.at(order.build),
                        .order = trade::order_facts(order),
                        .rider = trade::rider_facts(order)};
  for (const auto& [slot, id] : order.choices) {
    const auto found = demo.parts.find(id);
    if (found != demo.parts.end()) bike.parts[slot] = found->second;
  }
  const build::BikeTraits traits = build::traits_of(demo.trade, bike);
  const auto operations = build::applicable_operations(demo.trade.operations, traits.holding);
  if (!operations) return std::unexpected(operations.error());
  return Figures{.order = order.id.text,
                 .operations = static_cast<int>(operations->steps.size()),
                 .low = operations->minutes_low,
                 .high = operations->minutes_high,
                 .chain_hours = std::round(operations->chain.middle / 6) / 10};
}

/// Orders of one build, nearest to the reference first: the build's totals are those of one bike of
/// the sort, and orders differ in what the customer left out or had added.
Result<std::vector<Figures>> orders_of(const Demo& demo, const Reference& reference) {
  std::vector<Figures> all;
  for (const trade::Order& order : demo.files.orders) {
    if (order.build != reference.build) continue;
    const auto figures = figures_of(demo, order);
    if (!figures) return std::unexpected(figures.error());
    all.push_back(*figures);
  }
  std::ranges::stable_sort(all, {}, [&reference](const Figures& figures) {
    return std::pair(minutes_difference(figures, reference),
                     std::abs(figures.chain_hours - reference.chain_hours));
  });
  return all;
}

void print_row(const Reference& reference, const std::vector<Figures>& orders) {
  const Figures& ours = orders.front();
  fmt::print("{:<5} {:<7} {:>4} {:>4}   {:>9} {:>9}   {:>4} {:>4}   {}\n", reference.build,
             ours.order, ours.operations, reference.operations,
             fmt::format("{}-{}", plain(ours.low), plain(ours.high)),
             fmt::format("{}-{}", plain(reference.low), plain(reference.high)),
             plain(ours.chain_hours), plain(reference.chain_hours),
             agrees(ours, reference) ? "same" : "differs");
  for (const Figures& other : orders) {
    fmt::print("        order {}: {} operations, {}-{} min, chain {} h\n", other.order,
               other.operations, plain(other.low), plain(other.high), plain(other.chain_hours));
  }
}

int print_problems(const Problems& problems) {
  for (const Error& problem : problems) fmt::print(stderr, "{}\n", problem.full());
  return EXIT_FAILURE;
}

int compare(const Demo& demo) {
  double worst_minutes = 0;
  double worst_chain = 0;
  int worst_operations = 0;
  int same = 0;
  fmt::print("build order   operations     minutes by hand   chain, h   \n");
  fmt::print("              ours  ref       ours       ref   ours  ref\n");
  for (const Reference& reference : kReferences) {
    const auto orders = orders_of(demo, reference);
    if (!orders) return print_problems({orders.error()});
    if (orders->empty()) {
      fmt::print(stderr, "The demo shop has no order for {}.\n", reference.build);
      return EXIT_FAILURE;
    }
    print_row(reference, *orders);
    const Figures& ours = orders->front();
    same += agrees(ours, reference) ? 1 : 0;
    worst_minutes = std::max(worst_minutes, minutes_difference(ours, reference));
    worst_chain = std::max(worst_chain, std::abs(ours.chain_hours - reference.chain_hours));
    worst_operations =
        std::max(worst_operations, std::abs(ours.operations - reference.operations));
  }
  const bool holds = same == static_cast<int>(std::size(kReferences));
  fmt::print("{{\"name\":\"templates\",\"holds\":{},\"figures\":{{\"builds\":{},\"same\":{},"
             "\"worst_minutes_difference_percent\":{},\"worst_chain_difference_hours\":{},"
             "\"worst_operations_difference\":{}}}}}\n",
             holds, std::size(kReferences), same, rounded(worst_minutes, 2),
             rounded(worst_chain, 2), worst_operations);
  return holds ? EXIT_SUCCESS : EXIT_FAILURE;
}

}  // namespace

int main(int argc, char** argv) {
  std::string root = ROLLWRIGHT_ROOT;
  std::string data;
  CLI::App app{"Compares the minutes of five usual builds with totals worked out by hand."};
  app.add_option("--root", root, "folder that holds data/trade and data/demo");
  app.add_option("--data", data, "not needed here");
  CLI11_PARSE(app, argc, argv);

  trade::LoadedTrade loaded = trade::load_trade(root + "/data/trade");
  if (!loaded.problems.empty()) return print_problems(loaded.problems);
  Demo demo{.trade = std::move(loaded.trade)};
  trade::ReadShopFiles read = trade::read_shop_files(demo.trade, root + "/data/demo");
  if (!read.problems.empty()) return print_problems(read.problems);
  demo.files = std::move(read.files);
  for (const trade::Part& part : demo.files.parts) demo.parts[part.id] = &part;
  return compare(demo);
}

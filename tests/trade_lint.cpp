// Reads data/trade, and a shop's own files when a second folder is named, and prints every problem
// as the shop would see it. Exit code 0: nothing to mend.

#include <cstdio>

#include <fmt/format.h>

#include "trade/load_trade.hpp"
#include "trade/shop_files.hpp"

namespace {

using namespace rollwright;

void print(const Problems& problems) {
  for (const Error& problem : problems) fmt::print("{}\n", problem.full());
}

void print_counts(const trade::Trade& trade) {
  fmt::print("{} attributes, {} kinds, {} slots, {} builds, {} tables, {} rules, {} traits\n",
             trade.attributes.size(), trade.kinds.size(), trade.slots.size(),
             trade.templates.size(), trade.tables.size(), trade.rules.size(), trade.traits.size());
  fmt::print("{} operations, {} readings, {} check lines, {} cautions, {} lead-time groups\n",
             trade.operations.size(), trade.readings.size(), trade.check_lines.size(),
             trade.cautions.size(), trade.lead_times.size());
}

void print_counts(const trade::ShopFiles& files) {
  fmt::print("{} areas, {} people, {} suppliers, {} parts, {} offers, {} stock lines\n",
             files.areas.size(), files.people.size(), files.suppliers.size(), files.parts.size(),
             files.offers.size(), files.stock.size());
  fmt::print("{} purchases, {} receipts, {} orders, {} routes\n", files.purchases.size(),
             files.receipts.size(), files.orders.size(), files.routes.size());
}

}  // namespace

int main(int count, char** words) {
  if (count < 2 || count > 3) {
    fmt::print(stderr, "trade_lint TRADE_FOLDER [SHOP_FOLDER]\n");
    return 2;
  }
  const trade::LoadedTrade loaded = trade::load_trade(words[1]);
  print(loaded.problems);
  print_counts(loaded.trade);
  std::size_t problems = loaded.problems.size();
  if (count == 3) {
    const trade::ReadShopFiles read = trade::read_shop_files(loaded.trade, words[2]);
    print(read.problems);
    print_counts(read.files);
    problems += read.problems.size();
  }
  fmt::print("{} problems\n", problems);
  return problems == 0 ? 0 : 1;
}

// Reads data/trade and prints every problem as the shop would see it. Exit code 0: nothing to mend.

#include <cstdio>

#include <fmt/format.h>

#include "trade/load_trade.hpp"

namespace {

using namespace rollwright;

void print(const Problems& problems) {
  for (const Error& problem : problems) fmt::print("{}\n", problem.full());
}

void print_counts(const trade::Trade& trade) {
  fmt::print("{} attributes, {} kinds, {} slots, {} builds, {} tables, {} rules, {} traits\n",
             trade.attributes.size(), trade.kinds.size(), trade.slots.size(),
             trade.templates.size(), trade.tables.size(), trade.rules.size(),
             trade.traits.size());
  fmt::print("{} operations, {} readings, {} check lines, {} cautions, {} lead-time groups\n",
             trade.operations.size(), trade.readings.size(), trade.check_lines.size(),
             trade.cautions.size(), trade.lead_times.size());
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) {
    fmt::print(stderr, "trade_lint TRADE_FOLDER\n");
    return 2;
  }
  const trade::LoadedTrade loaded = trade::load_trade(words[1]);
  print(loaded.problems);
  print_counts(loaded.trade);
  const std::size_t problems = loaded.problems.size();
  fmt::print("{} problems\n", problems);
  return problems == 0 ? 0 : 1;
}

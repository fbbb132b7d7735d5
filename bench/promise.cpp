// Seconds that the odds of one order take among 200 of an invented shop, by where it stands in the
// queue, and how many operations a second are placed.

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "plan/promise.hpp"
#include "replan_shop.hpp"

int main(int argc, char** argv) {
  using namespace rollwright;
  CLI::App app("times a promise among the orders of an invented shop");
  std::string data;
  int orders = 200;
  int draws = 2000;
  int threads = 2;
  int runs = 5;
  app.add_option("--data", data, "not needed here");
  app.add_option("--orders", orders)->check(CLI::Range(4, 2000));
  app.add_option("--draws", draws);
  app.add_option("--threads", threads);
  app.add_option("--runs", runs)->check(CLI::Range(1, 100));
  CLI11_PARSE(app, argc, argv);

  const plan::PlanInput input = bench::invented_shop(orders, 1);
  double worst_s = 0;
  double per_second = 0;
  for (const int quarter : {1, 2, 3, 4}) {
    const int order = orders * quarter / 4 - 1;
    std::vector<double> seconds;
    std::int64_t placements = 0;
    for (int run = 0; run < runs; ++run) {
      const auto begin = std::chrono::steady_clock::now();
      const auto promise = plan::promise(input, order, {.draws = draws, .threads = threads});
      const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - begin;
      if (!promise) {
        fmt::print("{}\n", promise.error().sentence);
        return 3;
      }
      seconds.push_back(taken.count());
      placements = promise->placements;
    }
    std::ranges::sort(seconds);
    const double middle = seconds[seconds.size() / 2];
    fmt::print("order {} of {}: {:.3f} s ({:.3f} to {:.3f}), {} placements\n", order + 1, orders,
               middle, seconds.front(), seconds.back(), placements);
    if (middle <= worst_s) continue;
    worst_s = middle;
    per_second = static_cast<double>(placements) / middle;
  }
  fmt::print(R"({{"name":"promise","holds":{},"figures":{{"orders":{},"operations":{},"draws":{},)"
             R"("seconds":{:.3f},"placements_per_second":{:.0f},"per_second_and_thread":{:.0f},)"
             R"("threads":{}}}}})"
             "\n",
             worst_s <= 1, orders, input.tasks.size(), draws, worst_s, per_second,
             per_second / threads, threads);
  return worst_s <= 1 ? 0 : 1;
}

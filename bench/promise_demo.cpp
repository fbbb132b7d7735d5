// Seconds that one promise takes among the open orders of the demo, and how many tasks a second the
// simulation places. Best and worst of several runs in one process, so that the machine's other work
// is seen.

#include <algorithm>
#include <filesystem>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "shop/shop.hpp"

int main(int argc, char** argv) {
  using namespace rollwright;
  CLI::App app("times a promise among the demo's orders");
  std::string data;
  std::string order = "2022";
  int draws = 2000;
  int runs = 5;
  int threads = 2;
  app.add_option("--data", data, "not needed here");
  app.add_option("--order", order);
  app.add_option("--draws", draws);
  app.add_option("--runs", runs);
  app.add_option("--threads", threads);
  CLI11_PARSE(app, argc, argv);

  const FixedClock clock(parse_instant("2026-11-25T07:45:00Z").value());
  auto shop = shop::Shop::open({.trade_folder = ROLLWRIGHT_ROOT "/data/trade", .book = ":memory:"},
                               clock, true);
  if (!shop) {
    fmt::print(stderr, "promise-demo: {}\n", shop.error().full());
    return 3;
  }
  const auto imported = (*shop)->import(ROLLWRIGHT_ROOT "/data/demo", "owner");
  if (!imported || !imported->imported) {
    fmt::print(stderr, "promise-demo: the demo cannot be imported\n");
    return 3;
  }
  std::vector<shop::PromiseView> promises;
  for (int i = 0; i < runs; ++i) {
    // One draw more each time: the same question would be answered from memory.
    auto promise = (*shop)->promise(order, draws + i, threads);
    if (!promise) {
      fmt::print(stderr, "promise-demo: {}\n", promise.error().full());
      return 3;
    }
    fmt::print("run {}: {:.3f} s, {} placements\n", i + 1, promise->seconds, promise->placements);
    promises.push_back(std::move(*promise));
  }
  const auto faster = [](const auto& a, const auto& b) { return a.seconds < b.seconds; };
  std::sort(promises.begin(), promises.end(), faster);
  const shop::PromiseView& middle = promises[promises.size() / 2];
  fmt::print("{}\n", middle.sentence);
  const double rate = static_cast<double>(middle.placements) / middle.seconds;
  fmt::print(R"({{"name":"promise-demo","holds":{},"figures":{{"seconds":{:.3f},)"
             R"("seconds_worst":{:.3f},"draws":{},"placements_per_second":{:.0f},"threads":{}}}}})"
             "\n",
             middle.seconds < 1.0, middle.seconds, promises.back().seconds, draws, rate,
             threads);
  return middle.seconds < 1.0 ? 0 : 1;
}

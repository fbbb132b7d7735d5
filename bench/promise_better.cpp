// What should only help a bike: one of its parts a week sooner, one more pair of hands, another
// order due three weeks later. Does it ever make the day told later? Every case is counted. One that
// is gone once the bike has the shop to itself comes from the queue: work of other orders was taken
// up differently, and then stood in the way (Graham's anomaly). What is left then comes from the
// bike's own work in the same way, and is told by name. Holds when nothing is left.

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <string_view>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/index.hpp"
#include "base/random.hpp"
#include "plan/promise.hpp"
#include "replan_shop.hpp"

namespace {

using namespace rollwright;
using namespace rollwright::plan;

struct Count {
  std::string_view what;
  int tried = 0;
  int sooner = 0;
  int later = 0;
  int most_days = 0;  // that one became later
  int by_queue = 0;   // of the later
  int left = 0;
};

/// All other orders are taken off the floor.
PlanInput alone(PlanInput input, int order) {
  for (std::size_t other = 0; other < input.orders.size(); ++other) {
    input.orders[other].released = static_cast<int>(other) == order;
  }
  return input;
}

int days_later(const PlanInput& as_is, const PlanInput& better, int order,
               const PromiseOptions& options) {
  const auto before = promise(as_is, order, options);
  const auto after = promise(better, order, options);
  if (!before || !after) {
    fmt::print(stderr, "{}\n", (before ? after : before).error().sentence);
    std::exit(3);
  }
  if (!before->day_90 || !after->day_90) return after->day_90 || !before->day_90 ? 0 : as_is.days;
  return static_cast<int>((*after->day_90 - *before->day_90).count());
}

void weigh(Count& count, const PlanInput& as_is, const PlanInput& better, int order,
           const PromiseOptions& options, std::uint64_t shop) {
  ++count.tried;
  const int later = days_later(as_is, better, order, options);
  if (later < 0) ++count.sooner;
  if (later <= 0) return;
  ++count.later;
  count.most_days = std::max(count.most_days, later);
  const int own = days_later(alone(as_is, order), alone(better, order), order, options);
  if (own <= 0) {
    ++count.by_queue;
  } else {
    ++count.left;
    fmt::print("shop {}, order {}, {}: {} days later, {} of them by itself\n", shop,
               as_is.orders[at(order)].id, count.what, later, own);
  }
}

/// A part of the order a week sooner; false when it has none on the way.
bool hasten_a_part(PlanInput& input, int order, Random& random) {
  std::vector<int> parts;
  for (const Task& task : input.tasks) {
    if (task.order == order) parts.insert(parts.end(), task.parts.begin(), task.parts.end());
  }
  if (parts.empty()) return false;
  Arrival& arrival = input.arrivals[at(parts[random.below(parts.size())])];
  if (arrival.known) {
    *arrival.known -= std::chrono::days(7);
  } else {
    arrival.working_days.median = std::max(0.5, arrival.working_days.median - 5);
  }
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("what should only help a bike, and whether it ever makes its day later");
  std::string data;
  int orders = 60;
  int shops = 10;
  int asked = 12;
  PromiseOptions options{.draws = 400, .threads = 2};
  app.add_option("--data", data, "not needed here");
  app.add_option("--orders", orders)->check(CLI::Range(2, 2000));
  app.add_option("--shops", shops)->check(CLI::Range(1, 1000));
  app.add_option("--asked", asked, "orders of each shop")->check(CLI::Range(1, 1000));
  app.add_option("--draws", options.draws)->check(CLI::Range(1, 1'000'000));
  CLI11_PARSE(app, argc, argv);

  Count part{.what = "a part a week sooner"};
  Count hands{.what = "one more pair of hands"};
  Count due{.what = "another order due later"};
  for (std::uint64_t shop = 1; shop <= static_cast<std::uint64_t>(shops); ++shop) {
    const PlanInput input = bench::invented_shop(orders, shop);
    Random random(shop);
    for (int turn = 0; turn < asked; ++turn) {
      const int order = static_cast<int>(random.below(at(orders)));
      PlanInput better = input;
      if (hasten_a_part(better, order, random)) weigh(part, input, better, order, options, shop);
      better = input;
      better.people.push_back(better.people[random.below(better.people.size())]);
      better.people.back().id = "one more";
      weigh(hands, input, better, order, options, shop);
      better = input;
      Order& other = better.orders[random.below(better.orders.size())];
      if (other.id == better.orders[at(order)].id || !other.due) continue;
      *other.due += std::chrono::days(21);
      weigh(due, input, better, order, options, shop);
    }
  }
  int left = 0;
  for (const Count& count : {part, hands, due}) {
    fmt::print("{}: {} tried, {} sooner, {} later (most by {} days), of these {} by the queue, "
               "{} left\n",
               count.what, count.tried, count.sooner, count.later, count.most_days,
               count.by_queue, count.left);
    left += count.left;
  }
  const int tried = part.tried + hands.tried + due.tried;
  const int later = part.later + hands.later + due.later;
  fmt::print(R"({{"name":"promise-better","holds":{},"figures":{{"tried":{},"later":{},)"
             R"("by_queue":{},"left":{},"part_later":{},"hands_later":{},"due_later":{}}}}})"
             "\n",
             left == 0, tried, later, later - left, left, part.later, hands.later, due.later);
  return left == 0 ? 0 : 1;
}

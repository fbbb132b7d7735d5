#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "plan/promise.hpp"
#include "simulated_bench.hpp"
#include "simulated_knowledge.hpp"
#include "simulated_luck.hpp"

namespace rollwright::bench {

/// How the shop is run.
struct Running {
  Laws laws;
  Means means;
  Turns turns;
  bool buy_at_once = true;       // else on the last day at `kit_confidence`
  double kit_confidence = 0.97;  // of all parts of a bike still to buy
  int draws = 99;                // of a promise
  double orders_a_week = 4;
  bool again_at_kit = false;     // a second promise on the evening on which the kit is complete
  bool look_ahead = false;       // every morning, for Course::moved_per_week
  bool plan = false;             // by plan::make_plan every morning, the last plan kept to
  int days_before = 91;   // in which receipts and a queue build up; their orders are not counted
  int days_counted = 730;
  /// Days told to the customers by an earlier run; empty: each is promised by src/plan.
  std::map<std::string, Day> told;
};

/// One order, what was said of it on the evening it was agreed, and what became of it.
struct Outcome {
  std::string id;
  std::string build;
  Day agreed = {};
  bool counted = false;
  Day told = {};                    // nine times in ten, or as an earlier run told
  std::optional<plan::Promise> promise;
  std::optional<plan::Promise> simulated;  // before the record was asked
  std::optional<plan::Promise> at_kit;  // if asked for
  Day by_medians = {};              // latest of the middle days of its parts, and usual work
  double kit_place = -1;            // share of luck with which its kit was to come before it came
  Day kit_middle = {};              // day by which its kit was to come half the time
  std::optional<Day> kit;           // all parts without which the build cannot start
  std::optional<Day> ready;
  std::string last_part;            // that came: its group and supplier
  bool sent_again = false;          // that one came wrong or damaged at first
  bool in_trouble = false;          // its supplier was
  int kit_wait_days = 0;            // from the kit to its first operation

  [[nodiscard]] bool kept() const { return ready && *ready <= told; }
};

/// What a run of the shop gave.
struct Course {
  std::vector<Outcome> orders;
  double shelf_euros = 0;   // parts bought and here whose bike is not ready: mean over counted days
  double busy = 0;          // share of the time between walk-ins in which people had work
  double moved_per_week = 0;  // jobs told for the coming days that got another person or day
  std::int64_t placements = 0;
};

/// Years of an invented shop, day by day: parts come, people work, orders are agreed in the evening
/// and promised from what the shop knows then: receipts so far, what is on order, the state of
/// every bike, the hours of its people and holidays already told.
[[nodiscard]] Course run_shop(const Catalogue& catalogue, std::uint64_t seed,
                              const Running& running);

}  // namespace rollwright::bench

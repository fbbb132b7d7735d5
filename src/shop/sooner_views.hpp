#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What the use case Shop::sooner answers; the JSON of --json and the HTTP API has the same names.
namespace rollwright::shop {

/// What a way does to the promise of another order.
struct OtherPromiseView {
  std::string order;
  std::string rider;
  Day promised = {};
  double chance_before = 0;  // of keeping it
  double chance_after = 0;
};

/// One thing the shop could do so that a bike is ready sooner.
struct WayView {
  std::string kind;   // other supplier, other part, borrow, longer days, first, freight
  std::string what;   // "Buy Hub gear, 8 speeds again, from Quay Parts"
  std::string note;   // what has to be minded when it is taken; may be empty
  std::int64_t price_cents = 0;  // more (or, negative, less) than as it is
  bool price_is_most = false;    // that much at most
  std::optional<Day> day_50;     // empty: beyond the horizon
  std::optional<Day> day_90;
  std::optional<int> days_50;    // sooner than as it is; negative: later
  std::optional<int> days_90;
  double mean_days = 0;          // sooner, over the draws
  double share_sooner = 0;       // of the draws in which its day is sooner
  std::optional<double> chance_kept;  // of the order's own promised day
  std::vector<OtherPromiseView> others;  // promises that it moves by 2 in 100 or more, worst first
  std::string slot;   // where there is a part to change: the slot and the part to put there
  std::string part;
};

/// Ways taken one on top of the other, each the one that then wins most.
struct TogetherView {
  WayView way;        // its figures are those of all ways so far, against as it is
  int place = 0;      // 1, 2, ...
};

struct SoonerView {
  std::string order;
  std::string sentence;
  std::optional<Day> promised;
  std::optional<double> chance_kept;
  Day day_50 = {};
  Day day_90 = {};
  std::vector<WayView> ways;      // those that win something: cheapest day first
  std::vector<WayView> no_help;   // looked at, and not sooner
  std::vector<TogetherView> together;
  int draws = 0;
  int runs = 0;                   // shops simulated for the answer
  double seconds = 0;
};

}  // namespace rollwright::shop

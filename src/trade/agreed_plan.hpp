#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "trade/order.hpp"

/// The plan that the shop has agreed: who does what, where and when. It stays as it was agreed
/// until another is; what has become impossible meanwhile is told, never mended in silence.
namespace rollwright::trade {

/// A minute of the shop's own wall clock.
struct WallTime {
  Day day = {};
  int minute = 0;  // of the day, 0 to 1439
  friend auto operator<=>(const WallTime&, const WallTime&) = default;
};

/// One operation of one order.
struct PlannedWork {
  std::string operation;  // "A-20"
  PersonId person;
  std::string area;       // "assembly"
  int stand = 0;          // of the area, counted from 1; 0: it changes stands on the way
  WallTime start;
  WallTime end;           // of the hands-on work
  std::string pinned_by;  // who put it there by hand; empty: the plan did
  std::vector<PersonId> lending;  // who lends a hand from start to end, ascending
  friend bool operator==(const PlannedWork&, const PlannedWork&) = default;
};

/// What the plan says of one order. Without work the plan does not know the order.
struct OrderPlan {
  OrderId order;
  std::vector<PlannedWork> work;  // by operation
};

struct AgreedPlan {
  std::int64_t number = 0;  // grows by one with each plan agreed; who agrees over an old one is refused
  Instant agreed = {};
  std::string who;
};

/// How the shop wants to plan. The weights stand in the order in which a plan is judged: promises
/// kept, little change, kits not waiting, an early end, people busy evenly. Each from 0 to 1e9.
/// Frozen work has no weight: it never moves.
struct PlanSettings {
  int frozen_days = 1;     // working days after today in which nothing planned moves, 0 to 30
  double day_late = 100;   // of one promised order
  double moved = 5;        // an operation with another person or day than agreed
  double kit_day = 1;      // a day that a complete kit waits until its bike is ready
  double last_day = 1;     // a day until everything is ready
  double uneven_hour = 0.1;  // an hour that would have to change hands for even weeks
};

}  // namespace rollwright::trade

#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What the buying page answers.
namespace rollwright::shop {

struct BuyLine {
  std::string part;
  std::string name;
  std::string article;         // the supplier's own number; may be empty
  int quantity = 0;            // in packs; more than needed where a price break pays for it
  int needed = 0;
  std::vector<std::string> orders;
  Day order_by = {};           // last day on which it still comes in time
  Day buy_on = {};             // when it is best bought
  Day needed_by = {};
  bool too_late = false;       // even bought at once it comes too seldom in time
  double in_time = 0;          // chance of being there by needed_by, 0 to 1
  std::int64_t unit_cost_cents = 0;
  std::int64_t total_cents = 0;
  int lead_days_50 = 0;        // working days to a good part in hand
  int lead_days_90 = 0;
  std::string why;             // of pieces for the shelf: their levels; else empty
  std::string basis;           // which receipts
};
struct BuyGroup {              // one order to one supplier
  std::string supplier;
  std::string name;
  Day day = {};
  std::string cut_off;         // "14:00"
  Day dispatch = {};           // on which an order placed now leaves the supplier
  int minutes_left = 0;        // to today's cut-off; 0 when nothing leaves today any more
  std::string clock;           // "order within 1 h 25 min to make today's dispatch"
  std::vector<BuyLine> lines;
  std::int64_t goods_cents = 0;
  std::int64_t freight_cents = 0;
  std::int64_t surcharge_cents = 0;
  std::string note;            // "38 more and freight is free"
};
struct KitView {
  std::string order;
  Day day = {};                // on which it has to be complete
  int to_buy = 0;
  int under_way = 0;
  double complete = 0;         // chance on that day, 0 to 1
  std::string weakest;         // the part least likely to be there
  std::string weakest_name;
  double weakest_there = 0;
};
struct BuyView {
  std::string sentence;
  std::vector<BuyGroup> groups;       // by day
  std::vector<KitView> kits;          // not all in hand, by day
  std::vector<std::string> loans;     // pieces one order could lend another, with its replacement
  std::vector<std::string> no_offer;  // parts nobody sells us
  std::int64_t cost_cents = 0;        // of all groups, freight and charges too
  std::int64_t when_needed_cents = 0; // the same with each line bought by itself when needed
  bool proven = false;                // nothing costs less
};

}  // namespace rollwright::shop

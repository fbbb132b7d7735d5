#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "build/freeze.hpp"
#include "units/money.hpp"

/// What a change after signing costs, and what is paid back on cancelling, before anybody agrees.
namespace rollwright::build {

/// One part given up for another; either may be none.
struct PartChange {
  std::string slot;           // its name: "rear hub"
  std::string from;           // names; empty: none
  std::string to;
  Freeze freeze = Freeze::kPrice;  // of the part given up
  Money from_price;           // as signed, all pieces
  Money to_price;             // of today, all pieces
  std::optional<int> restocking_percent;  // of what the supplier asked; none: not known
  Money from_cost;            // what the supplier asked for it
  Money freight_back;         // to send it back
  double minutes_out = 0;     // hands-on, of work that is done and has to be undone
  double minutes_in = 0;      // to fit the other
  double minutes_checks = 0;  // of checks that are done and follow from it
};

struct MoneyLine {
  std::string what;  // "rear hub: restocking"
  Money amount;      // negative: the customer gets it
  std::string why;   // "15 % of 200 that the supplier asked"
};
struct ChangePrice {
  Freeze furthest = Freeze::kFree;
  std::vector<MoneyLine> lines;
  Money parts;        // difference in price of the parts alone
  Money beside;       // what it costs beside them
  Money total;        // parts + beside
  std::string sentence;
};

/// Method:   difference of the parts' prices; at F2 restocking and freight back; from F3 the price of
///           the part given up; from F4 labour out, in and the checks that follow, at the hourly rate.
///           Checks are counted once, whatever the number of parts: the longest of them.
/// Source:   common practice, docs/formats.md; the supplier's own terms go first.
/// Errors:   kRefused when restocking is not known for a part at F2; kBadInput without changes.
[[nodiscard]] Result<ChangePrice> price_of_change(const std::vector<PartChange>& changes,
                                                  Money hourly_rate);

/// What an order that is cancelled has cost so far.
struct Settlement {
  std::vector<MoneyLine> lines;  // the deposit first; what is kept is negative
  Money back;                    // to the customer; negative: the deposit did not cover it
  std::string law;               // what comes before all this
  std::string sentence;
};
struct CancelledOrder {
  Money deposit;
  std::vector<PartChange> parts;  // chosen parts: `to` is none
  double minutes_done = 0;        // hands-on, of operations that are done
  Money hourly_rate;
};
/// Method:   deposit, less restocking and freight (F2), less what cannot be returned (F3 and later),
///           less labour done. Source: common practice; law first.
/// Errors:   kRefused when restocking is not known for a part at F2.
[[nodiscard]] Result<Settlement> settlement_of(const CancelledOrder& order);

}  // namespace rollwright::build

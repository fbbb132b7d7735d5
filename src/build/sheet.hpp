#pragma once

#include <map>
#include <optional>

#include "base/result.hpp"
#include "trade/order_facts.hpp"
#include "trade/sheet.hpp"
#include "trade/trade.hpp"

namespace rollwright::build {

struct SheetRequest {
  const trade::Trade* trade = nullptr;
  const trade::Order* order = nullptr;
  /// The part of every slot that the order chose; not owned.
  std::map<trade::SlotId, const trade::Part*> parts;
  /// What the order's route comes to; empty when it names none or that is not known.
  std::optional<trade::RideFacts> ride = {};
  /// The bike is in care: all of building counts as done, and what a visit may ask for stands behind it.
  bool care = false;
};

/// The bench sheet of one bike: its operations in working order with their values, limits, cautions
/// and checks. Whatever rests on a fact that is not known stands among the open questions, with the
/// part and the fact, and has no value: a bike may not be released while there are any.
///
/// Errors: kNotFound when the order's build is not in the trade, or a choice has no part in
/// `parts`; those of applicable_operations.
[[nodiscard]] Result<trade::Sheet> make_sheet(const SheetRequest& request);

}  // namespace rollwright::build

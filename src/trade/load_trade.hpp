#pragma once

#include <string>

#include "base/result.hpp"
#include "trade/trade.hpp"

namespace rollwright::trade {

struct LoadedTrade {
  Trade trade;
  Problems problems;  // the trade may be used only when this is empty
};

/// Reads the folder data/trade (docs/formats.md). Refuses, each with file, line, field, value and
/// what would be right: unknown keys, kinds, attributes, slots, traits, tables, operations; units
/// that do not fit the attribute; rules that compare different dimensions or name attributes that
/// no kind of the slot has; loops among predecessors; ids that are there twice.
[[nodiscard]] LoadedTrade load_trade(const std::string& folder);

}  // namespace rollwright::trade

#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "trade/column_mapping.hpp"
#include "trade/supplier.hpp"

namespace rollwright::trade {

/// A fact as a list states it.
struct StatedFact {
  Value value;
  /// Of a number, in its own unit: half of the last digit that the list prints. A measurement within
  /// that does not contradict the list.
  double half_digit = 0;
};

/// One row of a supplier's list, read with its mapping. What the list leaves empty is absent.
struct SheetRow {
  int line = 0;
  std::string article;
  KindId kind;
  std::string name;
  std::string maker;
  std::optional<Money> price;      // what the customer pays
  std::vector<PriceBreak> breaks;  // rising quantities
  std::optional<int> pack;
  std::optional<std::string> availability;
  std::map<std::string, StatedFact> facts;
  std::vector<std::string> notes;  // what was left out, and why
  Problems problems;               // each with file, line, column and value
};

/// Reads every row. The mapping must have passed `check_mapping` on this list.
[[nodiscard]] std::vector<SheetRow> read_sheet_rows(const Trade& trade, const SupplierSheet& sheet,
                                                    const ColumnMapping& mapping,
                                                    const std::string& currency);

}  // namespace rollwright::trade

#pragma once

#include <optional>
#include <vector>

#include "trade/written_rule.hpp"

namespace rollwright::trade {

/// The operands of a rule, read.
struct RuleSides {
  std::vector<ReadOperand> left;
  std::vector<ReadOperand> terms;
  std::optional<ReadOperand> right;
  std::optional<ReadOperand> low;
  std::optional<ReadOperand> high;
  double offset = 0;  // own unit of what is compared
  double tolerance = 0;
  double share = 1;
};

/// Refuses rules that compare what cannot be compared, each shape after its own fashion. Gives
/// literals without a unit the unit of the fact beside them, and works out offset and tolerance.
/// The fields that the shape needs must be there and read.
void check_shape(TradeLoading& loading, const WrittenRule& written, RuleSides& sides);

}  // namespace rollwright::trade

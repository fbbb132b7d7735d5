#pragma once

#include "trade/written_rule.hpp"

namespace rollwright::trade {

/// Refuses braces in a rule's sentence that name nothing: {left}, {right}, {low}, {high},
/// {answer}, {sum} where the shape has them, {slot.attribute} and {part:slot} are filled in.
void check_sentence(TradeLoading& loading, const WrittenRule& written);

}  // namespace rollwright::trade

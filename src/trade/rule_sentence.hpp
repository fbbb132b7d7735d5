#pragma once

#include "trade/written_rule.hpp"

namespace rollwright::trade {

/// Refuses braces in a rule's sentence that name nothing: {left}, {right}, {slot.attribute} and
/// {part:slot} are filled in for people.
void check_sentence(TradeLoading& loading, const WrittenRule& written);

}  // namespace rollwright::trade

#pragma once

#include "trade/sheet.hpp"

namespace rollwright::build {

/// Fills in the texts of a value from its numbers. Limits are rounded to what the trade's gauges
/// show, towards the inside, so that a text never allows more than the number it stands for; limits
/// finer than the gauge (0.05 mm) keep the decimals they need.
void tell(trade::SheetValue& value);

}  // namespace rollwright::build

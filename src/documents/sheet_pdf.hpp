#pragma once

#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "trade/sheet.hpp"

namespace rollwright::documents {

struct SheetPrint {
  std::string shop;
  bool invented = false;  // demo data say so on paper too
  Instant printed = {};
  std::vector<trade::SheetFigure> does;  // of the finished bike
};

/// The bench sheet on A4: parts to tick, what the bike does, steps in working order with values,
/// limits, cautions and boxes for readings and initials, then the check lines. Prints in black;
/// hangs on the bike.
/// The same sheet and moment give the same bytes.
[[nodiscard]] Result<std::string> sheet_pdf(const trade::Sheet& sheet, const SheetPrint& print);

}  // namespace rollwright::documents

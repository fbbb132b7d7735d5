#include <fmt/format.h>

#include "cli/as_text.hpp"
#include "cli/columns.hpp"

// A bench aid filled from an order, in a terminal.
namespace rollwright::cli {

std::string as_text(const aids::FilledAid& filled) {
  using Side = Columns::Side;
  Columns columns({Side::kLeft, Side::kLeft, Side::kLeft});
  for (const aids::FilledField& field : filled.fields) {
    std::string origin = field.from == "typed"    ? "typed here"
                         : field.from == "preset" ? "preset, not of this bike"
                                                  : field.origin;
    if (!field.question.empty()) origin += " (open: " + field.question + ")";
    columns.row({field.key, field.value.empty() ? "-" : field.value, origin});
  }
  std::string text = columns.text();
  if (!text.empty()) text += "\n";
  if (filled.refusal) return text + filled.refusal->sentence + "\n";
  return text + as_text(*filled.reckoned);
}

}  // namespace rollwright::cli

#include <algorithm>

#include <fmt/format.h>

#include "cli/as_text.hpp"
#include "cli/columns.hpp"

// A bench aid filled from an order, and what its bike does, in a terminal.
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

std::string as_text(const aids::Does& does) {
  using Side = Columns::Side;
  Columns columns({Side::kLeft, Side::kRight, Side::kRight, Side::kLeft});
  std::vector<std::string> open;
  for (const aids::Doing& doing : does.doings) {
    columns.row({doing.name, doing.value.empty() ? "not known yet" : doing.value, doing.us, doing.note});
    for (const std::string& question : doing.questions) {
      if (std::ranges::count(open, question) == 0) open.push_back(question);
    }
  }
  std::string text = columns.text();
  for (const std::string& question : open) text += "To be known first: " + question + "\n";
  if (does.has_charge) {
    text += fmt::format("Whether it comes home: rollwright reckon home-again --order {}\n", does.order);
  }
  return text;
}

}  // namespace rollwright::cli

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/as_text.hpp"
#include "cli/columns.hpp"

// Bench aids in a terminal.
namespace rollwright::cli {
namespace {

using Side = Columns::Side;

std::string table_text(const aids::Table& table) {
  Columns columns(std::vector<Side>(table.columns.size(), Side::kLeft));
  columns.row(table.columns);
  for (const auto& cells : table.rows) columns.row(cells);
  return table.title + "\n" + columns.text();
}

}  // namespace

std::string as_text(const std::vector<aids::Aid>& aids) {
  Columns columns({Side::kLeft, Side::kLeft});
  for (const aids::Aid& aid : aids) columns.row({aid.id, aid.lead});
  return columns.text();
}

std::string about(const aids::Aid& aid) {
  std::string text = fmt::format("{}: {}\n", aid.title, aid.lead);
  Columns columns({Side::kLeft, Side::kLeft, Side::kLeft});
  for (const aids::Input& input : aid.inputs) {
    std::string help = input.label;
    if (!input.choices.empty()) help += ": " + listed(input.choices);
    if (!input.help.empty()) help += " (" + input.help + ")";
    columns.row({input.key, input.preset.empty() ? "-" : input.preset, help});
  }
  text += columns.text() + aid.method + "\n";
  if (!aid.caution.empty()) text += "Caution: " + aid.caution + "\n";
  return text + "Sources: " + aid.source + "\n";
}

std::string as_text(const aids::Reckoned& reckoned) {
  Columns columns({Side::kLeft, Side::kRight, Side::kRight, Side::kLeft});
  for (const aids::Row& row : reckoned.rows) columns.row({row.name, row.value, row.us, row.note});
  std::string text;
  if (reckoned.wheel) text = join(reckoned.wheel->said, "\n") + "\n\n";
  text += columns.text();
  for (const aids::Table& table : reckoned.tables) text += "\n" + table_text(table);
  for (const std::string& caution : reckoned.cautions) text += "Caution: " + caution + "\n";
  if (reckoned.going_on) {
    text += reckoned.going_on->label + ": go on with\n";
    for (const auto& [key, value] : reckoned.going_on->fields) {
      text += value.empty() ? fmt::format("  {}=\"new readings\"\n", key)
                            : fmt::format("  {}=\"{}\"\n", key, value);
    }
  }
  return text;
}

}  // namespace rollwright::cli

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/as_text.hpp"

namespace rollwright::cli {
namespace {

std::string value_text(const trade::SheetValue& value) {
  std::string text = "      " + value.name + ": ";
  if (value.pass_or_fail) {
    text += "pass or fail";
  } else {
    if (!value.target_text.empty()) text += "aim at " + value.target_text;
    if (!value.target_text.empty() && !value.range_text.empty()) text += ", ";
    text += value.range_text;
    if (!value.us_text.empty()) text += " (" + value.us_text + ")";
  }
  if (value.count > 1) text += fmt::format(", {} readings", value.count);
  if (value.stop) text += "; STOP outside";
  if (!value.strictest.source.empty()) text += " [" + value.strictest.source + "]";
  if (!value.how.empty()) text += "\n        " + value.how;
  return text + "\n";
}

}  // namespace

std::string as_text(const trade::Sheet& sheet) {
  std::string text = fmt::format(
      "Bench sheet {}  {}\n{}\n{}\n{} steps, {:.0f} to {:.0f} minutes hands-on, longest chain "
      "{:.0f} to {:.0f}\n",
      sheet.order.text, sheet.rider, sheet.build, sheet.need, sheet.steps.size(),
      sheet.minutes_low, sheet.minutes_high, sheet.longest_chain_low, sheet.longest_chain_high);
  text += "Use the value printed on the part or in its maker's instruction if different. If in "
          "doubt, stop and ask.\n";
  for (const std::string& question : sheet.open_questions) text += "  open: " + question + "\n";
  for (const trade::SheetStep& step : sheet.steps) {
    text += fmt::format("\n{:3}. {} {} ({}, {}, {:.0f}-{:.0f} min){}{}{}\n", step.number,
                        step.operation, step.name, step.area, step.skill, step.minutes_low,
                        step.minutes_high, step.second_person ? ", second person" : "",
                        step.hands > 1 ? fmt::format(", {} people at once", step.hands) : "",
                        step.done ? ", done" : "");
    for (const std::string& caution : step.cautions) text += "      caution: " + caution + "\n";
    if (!step.tools.empty()) text += "      tools: " + join(step.tools, ", ") + "\n";
    for (const trade::SheetValue& value : step.values) text += value_text(value);
  }
  return text;
}

}  // namespace rollwright::cli

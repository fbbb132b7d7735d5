#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/as_text.hpp"
#include "units/unit_table.hpp"

namespace rollwright::cli {
namespace {

std::string amount(const trade::SheetValue& value, double number) {
  return with_unit(number, value.unit, value.dimension == Dimension::kLength ? 1 : 2);
}

std::string range_text(const trade::SheetValue& value) {
  const trade::Limit& limit = value.strictest;
  if (limit.least && limit.most) {
    return fmt::format("{} to {}", rounded(*limit.least, 2), amount(value, *limit.most));
  }
  if (limit.most) return "at most " + amount(value, *limit.most);
  if (limit.least) return "at least " + amount(value, *limit.least);
  return {};
}

std::string value_text(const trade::SheetValue& value) {
  std::string text = "      " + value.name + ": ";
  if (value.pass_or_fail) {
    text += "pass or fail";
  } else {
    const std::string range = range_text(value);
    if (value.target) text += "set " + amount(value, *value.target);
    if (value.target && !range.empty()) text += ", ";
    text += range;
    if (value.target) {
      if (const auto us = us_customary(*value.target, value.dimension)) text += " (" + *us + ")";
    }
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
    text += fmt::format("\n{:3}. {} {} ({}, {}, {:.0f}-{:.0f} min){}{}\n", step.number,
                        step.operation, step.name, step.area, step.skill, step.minutes_low,
                        step.minutes_high, step.second_person ? ", second person" : "",
                        step.done ? ", done" : "");
    for (const std::string& caution : step.cautions) text += "      caution: " + caution + "\n";
    if (!step.tools.empty()) text += "      tools: " + join(step.tools, ", ") + "\n";
    for (const trade::SheetValue& value : step.values) text += value_text(value);
  }
  return text;
}

}  // namespace rollwright::cli

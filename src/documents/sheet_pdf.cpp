#include "documents/sheet_pdf.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "documents/paper_rows.hpp"
#include "trade/label_code.hpp"

namespace rollwright::documents {
namespace {

constexpr double kValueLeft = 34;
constexpr double kReadingBox = 66;
constexpr double kInitialsBox = 34;

std::string range_of(const trade::SheetValue& value) {
  if (value.pass_or_fail) return "pass or fail";
  std::string text = value.target_text;
  if (!value.range_text.empty()) {
    text += text.empty() ? value.range_text : " (" + value.range_text + ")";
  }
  if (!value.us_text.empty()) text += ", " + value.us_text;
  return text;
}

void print_head(Paper& paper, const trade::Sheet& sheet, const SheetPrint& print) {
  paper.code(trade::write_label_code(
                 {.kind = trade::LabelKind::kOrder, .id = sheet.order.text, .wheel = ""}),
             74);
  const double width = Paper::kInside - 84;
  paper.down(paper.write(0, width, sheet.order.text + "  " + sheet.rider, {.size = 22, .bold = true}));
  paper.down(paper.write(0, width, sheet.build, {.size = 10}));
  if (!sheet.need.empty()) paper.down(paper.write(0, width, sheet.need, {.size = 10}));
  std::string line = print.shop;
  if (print.invented) line += " (everything on this sheet is invented)";
  paper.down(paper.write(0, width, line, kSmall) + 6);
  paper.paragraph(
      fmt::format("{} steps, {:.0f} to {:.0f} minutes hands-on; the longest chain takes {:.1f} to "
                  "{:.1f} hours.",
                  sheet.steps.size(), sheet.minutes_low, sheet.minutes_high,
                  sheet.longest_chain_low / 60, sheet.longest_chain_high / 60),
      kText);
  paper.paragraph("Use the value printed on the part or in its maker's instruction if it differs. "
                  "If in doubt, stop and ask. A named person releases the bike, never a program.",
                  kBold);
}

void print_questions(Paper& paper, const trade::Sheet& sheet) {
  if (sheet.open_questions.empty()) return;
  heading(paper, "To find out before release");
  for (const std::string& question : sheet.open_questions) {
    paper.need(14);
    paper.box(0, 8, 8);
    paper.paragraph(question, kText, 14);
    paper.down(2);
  }
}

void print_parts(Paper& paper, const trade::Sheet& sheet) {
  heading(paper, "Parts");
  for (const trade::SheetPart& part : sheet.parts) {
    paper.need(14);
    paper.box(0, 8, 8);
    paper.write(14, 110, part.position, kSmall);
    const std::string quantity = part.quantity > 1 ? fmt::format("{} × ", part.quantity) : "";
    const double height = paper.write(126, 250, quantity + part.name, kText);
    paper.write(380, 60, part.part, kSmall);
    if (part.has_serial) paper.write(440, 71, "no.", kSmall);
    paper.down(std::max(height, 10.0) + 2);
  }
}

/// A figure's own line, and under it in grey what it rests on or waits for.
void print_figure(Paper& paper, const trade::SheetFigure& figure) {
  constexpr double kNoteLeft = 240;
  std::string note = figure.note;
  const auto add = [&](const char* word, const std::vector<std::string>& parts) {
    if (parts.empty()) return;
    if (!note.empty()) note += note.ends_with('.') ? " " : ". ";
    note += word + listed(parts);
  };
  add("Not of this bike: ", figure.presets);
  add("First find out: ", figure.questions);
  paper.need(paper.height_of(note, Paper::kInside - kNoteLeft, kSmall) + 4);
  paper.write(0, 126, figure.name, kText);
  const std::string value = figure.value.empty() ? "–" : figure.value;
  paper.write(126, 110, figure.us.empty() ? value : value + ", " + figure.us, kBold);
  const double height = paper.write(kNoteLeft, Paper::kInside - kNoteLeft, note, kSmall);
  paper.down(std::max(height, 11.0) + 2);
}

void print_does(Paper& paper, const SheetPrint& print) {
  if (print.does.empty()) return;
  heading(paper, "What this bike does");
  for (const trade::SheetFigure& figure : print.does) print_figure(paper, figure);
}

double height_of_value(const Paper& paper, const trade::SheetValue& value, double width) {
  double height = paper.height_of(value.name + ": " + range_of(value), width, kText);
  if (!value.how.empty()) height += paper.height_of(value.how, width, kSmall);
  return std::max(height, 15.0) + 3;
}

void print_value(Paper& paper, const trade::SheetValue& value) {
  const double width =
      Paper::kInside - kValueLeft - kReadingBox - kInitialsBox - 16;
  paper.need(height_of_value(paper, value, width));
  std::string line = value.name + ": " + range_of(value);
  if (value.count > 1) line += fmt::format(", {} readings", value.count);
  if (value.stop) line += ". STOP outside";
  const double boxes = Paper::kInside - kReadingBox - kInitialsBox - 6;
  paper.box(boxes, kReadingBox, 13);
  paper.box(boxes + kReadingBox + 6, kInitialsBox, 13);
  double height = paper.write(kValueLeft, width, line, value.stop ? kBold : kText);
  std::string why = value.strictest.source;
  if (!value.how.empty()) why += (why.empty() ? "" : "; ") + value.how;
  paper.down(height);
  double small = 0;
  if (!why.empty()) small = paper.write(kValueLeft, width, why, kSmall);
  paper.down(std::max(small, 15 - height) + 3);
}

void print_step(Paper& paper, const trade::SheetStep& step) {
  const std::string title = fmt::format("{}  {}", step.operation, step.name);
  std::string facts = fmt::format("{}, {}, {:.0f} to {:.0f} min", step.area, step.skill,
                                  step.minutes_low, step.minutes_high);
  if (step.second_person) facts += ", second person signs";
  if (step.hands > 1) facts += fmt::format(", {} people at once", step.hands);
  if (step.unattended_minutes > 0) {
    facts += fmt::format(", then {:.0f} min unattended", step.unattended_minutes);
  }
  if (step.done) facts += ", done";
  paper.need(34);
  paper.down(4);
  paper.write(0, 24, std::to_string(step.number), {.size = 9.5, .grey = true, .right = true});
  const double height =
      paper.write(kValueLeft, 300, title, {.size = 9.5, .bold = true});
  paper.write(kValueLeft + 306, Paper::kInside - kValueLeft - 306, facts, kSmall);
  paper.down(std::max(height, paper.height_of(facts, Paper::kInside - kValueLeft - 306, kSmall)) +
             1);
  if (!step.steps.empty()) paper.paragraph(step.steps, kText, kValueLeft);
  for (const std::string& caution : step.cautions) {
    paper.paragraph("Caution: " + caution, kBold, kValueLeft);
  }
  if (!step.tools.empty()) {
    paper.paragraph("Tools: " + listed(step.tools), kSmall, kValueLeft);
  }
  paper.down(2);
  for (const trade::SheetValue& value : step.values) print_value(paper, value);
  paper.rule(0.25);
}

void print_checks(Paper& paper, const trade::Sheet& sheet) {
  std::string list;
  for (const trade::SheetCheck& check : sheet.checks) {
    if (check.list != list) heading(paper, "Checks: " + check.list);
    list = check.list;
    const std::string text =
        check.limit.empty() ? check.text : fmt::format("{} ({})", check.text, check.limit);
    const double width = Paper::kInside - 60 - kInitialsBox;
    paper.need(paper.height_of(text, width, kText) + 6);
    paper.write(0, 24, check.id, kSmall);
    paper.write(26, 14, check.mark, kBold);
    paper.box(Paper::kInside - kInitialsBox, kInitialsBox, 12);
    paper.down(std::max(paper.write(44, width, text, kText), 13.0) + 3);
  }
}

void print_all(Paper& paper, const trade::Sheet& sheet, const SheetPrint& print) {
  print_head(paper, sheet, print);
  print_questions(paper, sheet);
  print_parts(paper, sheet);
  print_does(paper, print);
  heading(paper, "Steps");
  for (const trade::SheetStep& step : sheet.steps) print_step(paper, step);
  print_checks(paper, sheet);
}

}  // namespace

Result<std::string> sheet_pdf(const trade::Sheet& sheet, const SheetPrint& print) {
  return printed({.title = "Bench sheet " + sheet.order.text,
                  .foot = fmt::format("Order {}, {}, printed {}", sheet.order.text, sheet.rider,
                                      in_words(day_of(print.printed), true)),
                  .made = print.printed},
                 [&](Paper& paper) { print_all(paper, sheet, print); });
}

}  // namespace rollwright::documents

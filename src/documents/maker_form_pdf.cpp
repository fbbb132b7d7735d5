#include "documents/maker_form_pdf.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/csv.hpp"
#include "documents/paper_rows.hpp"

namespace rollwright::documents {
namespace {

constexpr double kPart = 118, kArticle = 300, kPieces = 372, kNoOther = 410;

std::string part_words(const MakerFormPrint::Line& line) {
  if (line.part.empty()) return line.options;
  return line.options.empty() ? line.name : fmt::format("{}, {}", line.name, line.options);
}

std::string small_words(const MakerFormPrint::Line& line) {
  if (line.part.empty()) return "how the bike is set up";
  return fmt::format("{} {}{}", line.kind, line.part,
                     line.has_number ? "; state its number" : "");
}

std::string no_other(const MakerFormPrint::Line& line) {
  return line.stop_rules.empty() && !line.part.empty() ? "ask first" : "STOP";
}

void print_heads(Paper& paper) {
  row(paper, {{0, kPart - 6, "Position", kSmall},
              {kPart, kArticle - kPart - 6, "Part, options; kind and our number", kSmall},
              {kArticle, kPieces - kArticle - 6, "Your article", kSmall},
              {kPieces, kNoOther - kPieces - 6, "Pieces", kSmall},
              {kNoOther, Paper::kInside - kNoOther, "Another part", kSmall}});
  paper.rule();
  paper.down(3);
}

void print_line(Paper& paper, const MakerFormPrint::Line& line) {
  paper.need(30);
  row(paper, {{0, kPart - 6, line.position, kBold},
              {kPart, kArticle - kPart - 6, part_words(line)},
              {kArticle, kPieces - kArticle - 6, line.article.empty() ? "-" : line.article},
              {kPieces, kNoOther - kPieces - 6, std::to_string(line.quantity)},
              {kNoOther, Paper::kInside - kNoOther, no_other(line),
               no_other(line) == "STOP" ? kBold : kText}});
  row(paper, {{0, kPart - 6, line.position_id, kSmall},
              {kPart, kArticle - kPart - 6, small_words(line), kSmall},
              {kArticle, Paper::kInside - kArticle, line.stop_rules, kSmall}});
  paper.rule(0.25);
  paper.down(3);
}

std::string wanted_words(const MakerFormPrint& form) {
  return form.wanted ? fmt::format("wanted here on {}", in_words(*form.wanted, true))
                     : "day wanted: not said yet";
}

std::string sent_words(const MakerFormPrint& form) {
  if (form.number == 0) return "Draft: this form was not sent";
  return fmt::format("form {}, sent on {} by {}", form.number, in_words(*form.sent, true),
                     form.sent_by);
}

void print_terms(Paper& paper) {
  heading(paper, "What may not be replaced");
  paper.paragraph(
      "Nothing is replaced in silence: a part, size, option or quantity that is not as in this form "
      "is built only after we have said yes in writing. Lines marked STOP carry rules of safety, with "
      "their numbers in our list: another part there is refused unless our rules allow it. How the "
      "bike is set up is never changed. Confirm every line of this form, those that differ first.",
      kText);
  paper.down(3);
  paper.paragraph(
      "The value printed on a part or in its maker's instruction, and the law where the bike is "
      "ridden, go before this form. If in doubt, stop and ask.",
      kBold);
}

}  // namespace

std::string maker_form_pdf(const MakerFormPrint& form) {
  const std::string title = fmt::format("Order form {}", form.order);
  return printed(
      {.title = title,
       .foot = fmt::format("Order {}, specification version {}, printed {}", form.order,
                           form.version, in_words(day_of(form.printed), true)),
       .made = form.printed,
       .size = form.letter ? Paper::kLetter : Paper::kA4},
      [&](Paper& paper) {
        head(paper, {.title = title,
                     .lines = {fmt::format("to {}; our specification version {}", form.maker,
                                           form.version),
                               sent_words(form), wanted_words(form)},
                     .code = {},
                     .shop = form.town.empty() ? form.shop : form.shop + ", " + form.town,
                     .invented = form.invented});
        heading(paper, fmt::format("{} lines", form.lines.size()));
        print_heads(paper);
        for (const MakerFormPrint::Line& line : form.lines) print_line(paper, line);
        print_terms(paper);
        heading(paper, "What comes with the bike");
        for (const std::string& each : form.papers) {
          paper.need(16);
          paper.box(0, 8, 8);
          paper.paragraph(each, kText, 14);
          paper.down(2);
        }
        paper.need(60);
        paper.down(30);
        line_to_write_on(paper, 0, 160, "number of your confirmation");
        line_to_write_on(paper, 176, 90, "week of delivery");
        line_to_write_on(paper, 282, Paper::kInside - 282, "name and signature for the maker");
      });
}

std::string maker_form_csv(const MakerFormPrint& form) {
  std::string text =
      "position,name,part,article,quantity,options,stop_rules,has_number,serial\r\n";
  for (const MakerFormPrint::Line& line : form.lines) {
    const std::string cells[] = {line.position_id,
                                 line.part.empty() ? line.position : line.name,
                                 line.part,
                                 line.article,
                                 std::to_string(line.quantity),
                                 line.options,
                                 line.stop_rules,
                                 line.has_number ? "yes" : "no"};
    for (const std::string& cell : cells) text += csv_cell(cell) + ",";
    text += "\r\n";
  }
  return text;
}

}  // namespace rollwright::documents

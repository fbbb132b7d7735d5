#include "documents/labels.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rollwright::documents {
namespace {

constexpr double kInset = 1.4;  // from the label's own edge: sheets and rolls run a little askew
constexpr const char* kLabelTitle = "Labels";

/// White that a side of the label needs when the page goes on for `beyond` after it.
double white(const trade::LabelSheet& sheet, double beyond) {
  return std::max(kInset, sheet.edge_mm - beyond);
}

Result<void> check_from(const LabelPrint& print) {
  const int most = print.sheet->labels();
  if (1 <= print.from && print.from <= most) return {};
  return refuse(Code::kOutOfRange,
                fmt::format("{} has positions 1 to {}", print.sheet->name, most),
                {.field = "from", .value = std::to_string(print.from)});
}

LabelInk::Box moved(LabelInk::Box box, const trade::LabelPlace& place) {
  box.x += place.x_mm;
  box.y += place.y_mm;
  return box;
}

LabelInk::Page page_of(const trade::LabelSheet& sheet) {
  return {.width_mm = sheet.page_width_mm, .height_mm = sheet.page_height_mm};
}

void draw_outlines(LabelInk& ink, const LabelPrint& print, int page) {
  for (int i = 0; i < print.sheet->labels(); ++i) {
    const trade::LabelPlace place = trade::place_of(*print.sheet, 1, i);
    ink.outline({.x = place.x_mm, .y = place.y_mm, .width = print.sheet->label_width_mm,
                 .height = print.sheet->label_height_mm},
                page == 1 && place.position < print.from);
  }
}

/// Of the label of this number.
Result<LabelLayout> layout_at(const LabelInk& ink, const Label& label, const LabelPrint& print,
                              const trade::LabelPlace& place) {
  return lay_out(ink, label, moved(inside_of_label(*print.sheet), place));
}

void draw_label(LabelInk& ink, const LabelLayout& layout) {
  ink.draw(layout.code, layout.x, layout.y, layout.module);
  for (const LabelLayout::Text& text : layout.texts) ink.write(text.text, text.type, text.box);
}

}  // namespace

LabelInk::Box inside_of_label(const trade::LabelSheet& sheet) {
  const trade::LabelPlace last = trade::place_of(sheet, 1, sheet.labels() - 1);
  const double left = white(sheet, sheet.left_mm);
  const double top = white(sheet, sheet.top_mm);
  const double right = white(sheet, sheet.page_width_mm - last.x_mm - sheet.label_width_mm);
  const double bottom = white(sheet, sheet.page_height_mm - last.y_mm - sheet.label_height_mm);
  return {.x = left, .y = top, .width = sheet.label_width_mm - left - right,
          .height = sheet.label_height_mm - top - bottom};
}

Result<std::vector<LabelLayout>> layouts_of(const std::vector<Label>& labels,
                                            const LabelPrint& print) {
  if (Result<void> ok = check_from(print); !ok) return std::unexpected(ok.error());
  // Only measured with, never drawn on.
  const LabelInk ink(LabelInk::Form::kPdf, page_of(*print.sheet), kLabelTitle, print.printed);
  std::vector<LabelLayout> layouts;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    Result<LabelLayout> layout = layout_at(
        ink, labels[i], print, trade::place_of(*print.sheet, print.from, static_cast<int>(i)));
    if (!layout) return std::unexpected(layout.error());
    layouts.push_back(std::move(*layout));
  }
  return layouts;
}

Result<std::string> labels_pdf(const std::vector<Label>& labels, const LabelPrint& print) {
  const auto layouts = layouts_of(labels, print);
  if (!layouts) return std::unexpected(layouts.error());
  LabelInk ink(LabelInk::Form::kPdf, page_of(*print.sheet), kLabelTitle, print.printed);
  int page = 1;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const int on = trade::place_of(*print.sheet, print.from, static_cast<int>(i)).page;
    if (on > page) ink.next_page();
    page = on;
    draw_label(ink, (*layouts)[i]);
  }
  return ink.finish();
}

Result<std::string> labels_svg(const std::vector<Label>& labels, const LabelPrint& print,
                               int page) {
  const auto layouts = layouts_of(labels, print);
  if (!layouts) return std::unexpected(layouts.error());
  const int pages = trade::pages_for(*print.sheet, print.from, static_cast<int>(labels.size()));
  if (page < 1 || page > std::max(pages, 1)) {
    return refuse(Code::kNotFound, fmt::format("these labels have {} pages", pages),
                  {.field = "page", .value = std::to_string(page)});
  }
  LabelInk ink(LabelInk::Form::kSvg, page_of(*print.sheet), kLabelTitle, print.printed);
  draw_outlines(ink, print, page);
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const int on = trade::place_of(*print.sheet, print.from, static_cast<int>(i)).page;
    if (on == page) draw_label(ink, (*layouts)[i]);
  }
  return ink.finish();
}

}  // namespace rollwright::documents

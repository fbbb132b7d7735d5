#pragma once

#include <string>
#include <vector>

namespace rollwright::trade {

/// Labels as they come: a grid on a sheet of paper, or one by one on a roll (a grid of one on a page
/// of its own size). A row of data/trade/label_sheets.csv (docs/formats.md); lengths in millimetres.
struct LabelSheet {
  std::string id;    // "a4-3x8"
  std::string name;  // "A4, 24 labels of 70 × 37 mm"
  double page_width_mm = 0;
  double page_height_mm = 0;
  int columns = 1;
  int rows = 1;
  double label_width_mm = 0;
  double label_height_mm = 0;
  double left_mm = 0;  // white to the left of the first column
  double top_mm = 0;
  double gap_across_mm = 0;
  double gap_down_mm = 0;
  double edge_mm = 0;  // what the printer leaves white at the edge of the page
  std::string source;

  [[nodiscard]] int labels() const { return columns * rows; }
};

/// Where one label lies, from the page's upper left corner.
struct LabelPlace {
  int page = 1;
  int position = 1;  // on its page, row by row
  double x_mm = 0;
  double y_mm = 0;
};
/// Of the label of this number, from 0 on, when the first lies at position `from` of the first page.
[[nodiscard]] LabelPlace place_of(const LabelSheet& sheet, int from, int number);
/// Pages that so many labels take. None for no label.
[[nodiscard]] int pages_for(const LabelSheet& sheet, int from, int labels);

[[nodiscard]] const LabelSheet* find_label_sheet(const std::vector<LabelSheet>& sheets,
                                                 const std::string& id);

}  // namespace rollwright::trade

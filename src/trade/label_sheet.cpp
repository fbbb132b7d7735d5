#include "trade/label_sheet.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/csv_row_reader.hpp"
#include "trade/trade_loading.hpp"

namespace rollwright::trade {
namespace {

constexpr const char* kLabelSheets = "label_sheets.csv";
constexpr double kMostPage = 1000;
constexpr double kLeastLabelWidth = 25;
constexpr double kLeastLabelHeight = 15;
constexpr int kMostInARow = 50;
constexpr double kRoundingSlack = 0.01;  // of sums of decimals

/// A length from `least` on; 0 after a problem.
double millimetres(CsvRowReader& row, std::string_view heading, double least) {
  const std::optional<double> number = to_number(row.cell(heading));
  if (number && least <= *number && *number <= kMostPage) return *number;
  row.problem(heading, Code::kOutOfRange,
              fmt::format("this is a length in mm from {} to {}, as in 38.1", least, kMostPage));
  return 0;
}

/// The labels of a row or column with their gaps, and what they may take.
struct Reach {
  double begin, each, gap;
  int count;
  double page;
  [[nodiscard]] double end() const { return begin + count * each + (count - 1) * gap; }
};

void check_reach(CsvRowReader& row, std::string_view heading, const Reach& reach) {
  if (!row.is_good() || reach.end() <= reach.page + kRoundingSlack) return;
  row.problem(heading, Code::kContradiction,
              fmt::format("these labels end at {} mm and the page at {} mm",
                          rounded(reach.end(), 2), rounded(reach.page, 2)));
}

LabelSheet sheet_in(CsvRowReader& row) {
  LabelSheet sheet{.id = row.text("sheet"), .name = row.text("name")};
  sheet.page_width_mm = millimetres(row, "page_width", kLeastLabelWidth);
  sheet.page_height_mm = millimetres(row, "page_height", kLeastLabelHeight);
  sheet.columns = row.whole("columns", 1, kMostInARow).value_or(1);
  sheet.rows = row.whole("rows", 1, kMostInARow).value_or(1);
  sheet.label_width_mm = millimetres(row, "label_width", kLeastLabelWidth);
  sheet.label_height_mm = millimetres(row, "label_height", kLeastLabelHeight);
  sheet.left_mm = millimetres(row, "left", 0);
  sheet.top_mm = millimetres(row, "top", 0);
  sheet.gap_across_mm = millimetres(row, "gap_across", 0);
  sheet.gap_down_mm = millimetres(row, "gap_down", 0);
  sheet.edge_mm = millimetres(row, "edge", 0);
  sheet.source = row.text("source");
  check_reach(row, "label_width",
              {sheet.left_mm, sheet.label_width_mm, sheet.gap_across_mm, sheet.columns,
               sheet.page_width_mm});
  check_reach(row, "label_height",
              {sheet.top_mm, sheet.label_height_mm, sheet.gap_down_mm, sheet.rows,
               sheet.page_height_mm});
  return sheet;
}

}  // namespace

LabelPlace place_of(const LabelSheet& sheet, int from, int number) {
  const int count = from - 1 + number;
  const int on_page = count % sheet.labels();
  const int column = on_page % sheet.columns;
  const int row = on_page / sheet.columns;
  return {.page = count / sheet.labels() + 1,
          .position = on_page + 1,
          .x_mm = sheet.left_mm + column * (sheet.label_width_mm + sheet.gap_across_mm),
          .y_mm = sheet.top_mm + row * (sheet.label_height_mm + sheet.gap_down_mm)};
}

int pages_for(const LabelSheet& sheet, int from, int labels) {
  return labels == 0 ? 0 : place_of(sheet, from, labels - 1).page;
}

const LabelSheet* find_label_sheet(const std::vector<LabelSheet>& sheets, const std::string& id) {
  const auto found = std::ranges::find(sheets, id, &LabelSheet::id);
  return found == sheets.end() ? nullptr : &*found;
}

void load_label_sheets(TradeLoading& loading) {
  const std::optional<Csv> csv = loading.csv_file(kLabelSheets);
  if (!csv) return;
  const std::vector<std::string> headings = {
      "sheet", "name",  "page_width", "page_height", "columns",  "rows", "label_width",
      "label_height", "left", "top", "gap_across", "gap_down", "edge", "source"};
  if (!check_headings(*csv, headings, {}, loading.problems)) return;
  for (const CsvRow& line : csv->rows) {
    CsvRowReader row(*csv, line, loading.problems);
    const LabelSheet sheet = sheet_in(row);
    if (find_label_sheet(loading.trade.label_sheets, sheet.id) != nullptr) {
      row.problem("sheet", Code::kConflict, "this sheet is there twice; keep one row");
    }
    loading.trade.label_sheets.push_back(sheet);
  }
}

}  // namespace rollwright::trade

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/trade_loading.hpp"

namespace rollwright::trade {
namespace {

constexpr const char* kFile = "lead_times.csv";

struct SpreadRow {
  std::string_view word;
  double sigma;  // of the logarithm; common practice, to be replaced by the shop's own receipts
};
constexpr SpreadRow kSpreads[] = {{"low", 0.3}, {"mid", 0.45}, {"high", 0.6}, {"very high", 0.8}};

struct Range {
  double low = 0;
  double high = 0;
};

/// The spread whose tenth part lies below `low` and whose tenth part lies above `high`: what people
/// mean by "usually 4 to 10 days". The sigma of the spread word holds unless that would begin
/// before the order; then the sigma is what low and high make it.
Spread spread_between(const Range& range, double sigma, const std::string& basis) {
  const double z = inverse_normal(0.9);
  if (range.low == range.high) return {.least = range.low, .median = 0, .sigma = 0, .basis = basis};
  const double median = (range.high - range.low) / (2 * std::sinh(sigma * z));
  const double least = range.low - median * std::exp(-sigma * z);
  if (least >= 0) return {.least = least, .median = median, .sigma = sigma, .basis = basis};
  if (range.low == 0) {
    // Nothing may arrive before it was ordered: half of `high` is then the ordinary case.
    return {.least = 0, .median = range.high / 2, .sigma = std::log(2.0) / z, .basis = basis};
  }
  return {.least = 0,
          .median = std::sqrt(range.low * range.high),
          .sigma = std::log(range.high / range.low) / (2 * z),
          .basis = basis};
}

class RowReader {
 public:
  RowReader(TradeLoading& loading, const Csv& csv, const CsvRow& row)
      : loading_(loading), csv_(csv), row_(row) {}

  std::string cell(std::string_view heading) const {
    return row_.cells[static_cast<std::size_t>(csv_.column(heading))];
  }

  void problem(std::string_view heading, Code code, std::string sentence) const {
    loading_.problem(
        code, std::move(sentence),
        {.file = kFile, .line = row_.line, .field = std::string(heading), .value = cell(heading)});
  }

  /// Nothing when both cells are empty: this road does not exist for the group.
  std::optional<Range> range(const std::string& road) const {
    const std::string low_name = road + "_low";
    const std::string high_name = road + "_high";
    if (cell(low_name).empty() && cell(high_name).empty()) return std::nullopt;
    const std::optional<double> low = days(low_name);
    const std::optional<double> high = days(high_name);
    if (!low || !high) return std::nullopt;
    if (*low > *high) {
      problem(high_name, Code::kContradiction,
              fmt::format("this is less than {} ({})", low_name, plain(*low)));
      return std::nullopt;
    }
    return Range{*low, *high};
  }

 private:
  std::optional<double> days(const std::string& heading) const {
    constexpr double kMostDays = 1000;
    const std::optional<double> number = to_number(cell(heading));
    if (!number) {
      problem(heading, Code::kBadInput, "this is a number of working days, as in 5");
    } else if (!(0 <= *number && *number <= kMostDays)) {
      problem(heading, Code::kOutOfRange, "working days lie between 0 and 1000");
      return std::nullopt;
    }
    return number;
  }

  TradeLoading& loading_;
  const Csv& csv_;
  const CsvRow& row_;
};

double sigma_of(const RowReader& row) {
  std::vector<std::string> words;
  for (const SpreadRow& spread : kSpreads) {
    if (spread.word == row.cell("spread")) return spread.sigma;
    words.emplace_back(spread.word);
  }
  row.problem("spread", Code::kBadInput,
              "this is no word for a spread" + meant(row.cell("spread"), words));
  return kSpreads[1].sigma;
}

void load_row(TradeLoading& loading, const RowReader& row) {
  const std::string group = row.cell("group");
  if (group.empty()) return row.problem("group", Code::kBadInput, "this group has no name");
  if (loading.trade.lead_times.contains(group)) {
    return row.problem("group", Code::kConflict, "this group is there twice; keep one row");
  }
  const double sigma = sigma_of(row);
  const std::string source = row.cell("source");
  if (source.empty()) row.problem("source", Code::kBadInput, "say where these days come from");
  const std::optional<Range> stocked = row.range("stocked");
  const std::optional<Range> importer = row.range("importer");
  const std::optional<Range> made = row.range("made");
  // A road that does not exist is as slow as the next one that does.
  const std::optional<Range> last = made ? made : importer ? importer : stocked;
  if (!last) {
    row.problem("made_low", Code::kBadInput, "this group has no days at all; fill in one pair");
    loading.trade.lead_times[group] = {.group = group};
    return;
  }
  const auto spread = [&](const Range& range) {
    return spread_between(range, sigma, fmt::format("{}, {}", group, source));
  };
  const Range slow = importer.value_or(*last);
  loading.trade.lead_times[group] = {.group = group,
                                     .stocked = spread(stocked.value_or(slow)),
                                     .importer = spread(slow),
                                     .made = spread(*last)};
}

}  // namespace

void load_lead_times(TradeLoading& loading) {
  const std::optional<Csv> csv = loading.csv_file(kFile);
  if (!csv) return;
  const std::vector<std::string> headings = {"group",        "stocked_low",   "stocked_high",
                                             "importer_low", "importer_high", "made_low",
                                             "made_high",    "spread",        "source"};
  bool complete = true;
  const auto heading_problem = [&](const std::string& heading, std::string sentence) {
    loading.problem(Code::kBadInput, std::move(sentence), {.file = kFile, .field = heading});
  };
  for (const std::string& heading : headings) {
    if (csv->column(heading) >= 0) continue;
    heading_problem(heading, "this column is missing");
    complete = false;
  }
  for (const std::string& heading : csv->headings) {
    if (std::ranges::count(headings, heading) == 0) {
      heading_problem(heading, "this column is not known here" + meant(heading, headings));
    }
  }
  if (!complete) {
    loading.unread.insert(kFile);
    return;
  }
  for (const CsvRow& row : csv->rows) load_row(loading, RowReader(loading, *csv, row));
}

}  // namespace rollwright::trade

#include <map>

#include <fmt/format.h>

#include "trade/shop_reading.hpp"

// Measuring tools of the shop: tools.csv.
namespace rollwright::trade {
namespace {

constexpr int kMostValidDays = 3650;

std::vector<std::string> dimension_words() {
  return {"torque", "force", "length", "pressure", "frequency", "mass", "temperature", "voltage"};
}

Dimension dimension_of(const std::string& word) {
  static const std::map<std::string, Dimension> kOf = {
      {"torque", Dimension::kTorque},       {"force", Dimension::kForce},
      {"length", Dimension::kLength},       {"pressure", Dimension::kPressure},
      {"frequency", Dimension::kFrequency}, {"mass", Dimension::kMass},
      {"temperature", Dimension::kTemperature}, {"voltage", Dimension::kVoltage}};
  return kOf.at(word);
}

std::optional<double> amount(CsvRowReader& row, std::string_view heading, Dimension dimension) {
  const std::string cell = row.cell(heading);
  if (cell.empty()) return std::nullopt;
  const Result<double> read = parse_amount(cell, dimension);
  if (read) return *read;
  row.problem(heading, read.error().code, read.error().sentence);
  return std::nullopt;
}

}  // namespace

void read_tools(ShopReading& reading, const ShopFile& file) {
  std::map<std::string, int> first;
  read_rows(reading, file, {"id", "name", "measures"},
            {"least", "most", "calibrated", "valid_days", "out_of_use"}, [&](CsvRowReader& row) {
              Tool tool{.id = row.text("id"), .name = row.text("name")};
              const std::string measures = row.word("measures", dimension_words(), "");
              if (measures.empty()) return;
              tool.measures = dimension_of(measures);
              tool.least = amount(row, "least", tool.measures);
              tool.most = amount(row, "most", tool.measures);
              tool.calibrated = row.day_or_none("calibrated");
              tool.valid_days =
                  row.whole_or_none("valid_days", 1, kMostValidDays).value_or(tool.valid_days);
              tool.out_of_use = row.flag("out_of_use");
              if (!row.is_good()) return;
              const auto [before, is_new] = first.emplace(tool.id, row.line());
              if (!is_new) {
                return row.problem("id", Code::kConflict,
                                   fmt::format("this tool stands in line {} already",
                                               before->second));
              }
              reading.files.tools.push_back(std::move(tool));
            });
}

}  // namespace rollwright::trade

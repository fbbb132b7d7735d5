#include "supply/freight_legs.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include <fmt/format.h>

#include "base/csv.hpp"
#include "base/text.hpp"
#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

DayOdds leg_odds(const FreightLeg& leg) {
  const double middle = (std::log(leg.low) + std::log(leg.high)) / 2;
  const double sigma = std::log(leg.high / leg.low) / (2 * trade::inverse_normal(0.9));
  DayOdds odds{.by = {0.0}};
  for (int day = 1; day <= kOddsDays; ++day) {
    odds.by.push_back(0.5 * std::erfc(-(std::log(day) - middle) / sigma / std::numbers::sqrt2));
  }
  return odds;
}

std::unexpected<Error> wrong_cell(const Csv& csv, const CsvRow& row, std::string_view field,
                                  std::string sentence) {
  return refuse(Code::kBadInput, std::move(sentence),
                {.file = csv.file, .line = row.line, .field = std::string(field),
                 .value = row.cells[static_cast<std::size_t>(csv.column(field))]});
}

Result<FreightLeg> leg_of(const Csv& csv, const CsvRow& row) {
  const auto cell = [&](std::string_view heading) {
    return row.cells[static_cast<std::size_t>(csv.column(heading))];
  };
  const std::optional<double> low = to_number(cell("low"));
  const std::optional<double> high = to_number(cell("high"));
  if (cell("leg").empty()) return wrong_cell(csv, row, "leg", "this leg has no name");
  if (!low || !(0.5 <= *low && *low <= 365)) {
    return wrong_cell(csv, row, "low", "this is a number of calendar days from 0.5 to 365");
  }
  if (!high || !(*low < *high && *high <= 365)) {
    return wrong_cell(csv, row, "high", "this is a number of calendar days above low, up to 365");
  }
  if (cell("source").empty()) return wrong_cell(csv, row, "source", "say where it comes from");
  return FreightLeg{.name = cell("leg"), .low = *low, .high = *high, .source = cell("source")};
}

}  // namespace

Result<std::vector<FreightLeg>> read_freight_legs(std::string_view csv, std::string file) {
  const Result<Csv> read = parse_csv(csv, std::move(file));
  if (!read) return std::unexpected(read.error());
  for (const std::string_view heading : {"leg", "low", "high", "source"}) {
    if (read->column(heading) >= 0) continue;
    return refuse(Code::kBadInput, "this column is missing",
                  {.file = read->file, .field = std::string(heading)});
  }
  std::vector<FreightLeg> legs;
  for (const CsvRow& row : read->rows) {
    Result<FreightLeg> leg = leg_of(*read, row);
    if (!leg) return std::unexpected(leg.error());
    if (std::ranges::find(legs, leg->name, &FreightLeg::name) != legs.end()) {
      return refuse(Code::kConflict, "this leg is there twice; keep one row",
                    {.file = read->file, .line = row.line, .field = "leg", .value = leg->name});
    }
    legs.push_back(std::move(*leg));
  }
  return legs;
}

Result<DayOdds> calendar_days(const std::vector<FreightLeg>& legs,
                              const std::vector<std::string>& road) {
  DayOdds sum{.by = {1.0}};
  for (const std::string& name : road) {
    const auto leg = std::ranges::find(legs, name, &FreightLeg::name);
    if (leg == legs.end()) {
      std::vector<std::string> known;
      for (const FreightLeg& other : legs) known.push_back(other.name);
      return refuse(Code::kNotFound,
                    fmt::format("there is no leg \"{}\"; on file are {}", name,
                                join(known, ", ")),
                    {.field = "leg", .value = name});
    }
    sum = then(sum, leg_odds(*leg));
  }
  return sum;
}

DayOdds in_working_days(const DayOdds& calendar, Day from, const std::vector<Day>& closed) {
  DayOdds odds;
  Day day = from;
  while (true) {
    const auto passed = static_cast<int>((day - from).count());
    odds.by.push_back(within(calendar, passed));
    if (passed >= static_cast<int>(calendar.by.size()) - 1) return odds;
    day = add_working_days(day, 1, closed);
  }
}

}  // namespace rollwright::supply

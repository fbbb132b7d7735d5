#include "trade/service_plan.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/csv_row_reader.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

constexpr const char* kServicePlan = "service_plan.csv";
constexpr int kMostKm = 50'000;
constexpr int kMostWeeks = 520;
constexpr int kMostHours = 5'000;

/// Two cells that are both there or both empty.
std::optional<ServiceSpan> span_in(CsvRowReader& row, const std::string& unit, int most) {
  const auto low = row.whole_or_none(unit + "_low", 1, most);
  const auto high = row.whole_or_none(unit + "_high", 1, most);
  if (!low && !high) return std::nullopt;
  if (low && high && *low <= *high) return ServiceSpan{*low, *high};
  row.problem(unit + "_high", Code::kBadInput,
              fmt::format("{0}_low and {0}_high are both given, the first not above the second, or "
                          "both empty", unit));
  return std::nullopt;
}

/// Operations of the trade's care, written with spaces between them.
std::vector<std::string> operations_in(CsvRowReader& row, const Trade& trade) {
  std::vector<std::string> known;
  for (const Operation& operation : trade.care) known.push_back(operation.id);
  std::vector<std::string> operations;
  for (const std::string& id : split(row.text("operations"), ' ')) {
    if (id.empty()) continue;
    if (std::ranges::count(known, id) == 0) {
      row.problem("operations", Code::kNotFound,
                  fmt::format("care.toml has no operation {}{}", id, meant(id, known)));
    }
    operations.push_back(id);
  }
  return operations;
}

ServiceVisit visit_in(CsvRowReader& row, const Trade& trade) {
  ServiceVisit visit{.name = row.text("visit"), .repeats = row.flag("repeats")};
  if (visit.name.find(',') != std::string::npos) {
    row.problem("visit", Code::kBadInput, "a visit's name has no comma: several of them are listed with "
                                          "commas between them");
  }
  visit.km = span_in(row, "km", kMostKm);
  visit.weeks = span_in(row, "weeks", kMostWeeks);
  visit.hours = row.whole_or_none("hours", 1, kMostHours);
  visit.trait = row.cell("trait");
  visit.work = row.text("work");
  visit.operations = operations_in(row, trade);
  visit.source = row.text("source");
  if (row.is_good() && !visit.km && !visit.weeks && !visit.hours) {
    row.problem("km_low", Code::kBadInput, "say by km, weeks or hours when this visit is due");
  }
  if (!visit.trait.empty() && !trade.traits.contains(visit.trait)) {
    row.problem("trait", Code::kNotFound,
                "no trait is called so" + meant(visit.trait, names_in(trade.traits)));
  }
  return visit;
}

std::string span_text(const ServiceSpan& span, const char* unit, int divisor) {
  const int low = span.low / divisor;
  const int high = span.high / divisor;
  return low == high ? fmt::format("{} {}", low, unit) : fmt::format("{} to {} {}", low, high, unit);
}

}  // namespace

std::string when_in_words(const ServiceVisit& visit, bool halved) {
  const int divisor = halved ? 2 : 1;
  std::vector<std::string> ways;
  if (visit.km) ways.push_back(span_text(*visit.km, "km", divisor));
  if (visit.weeks) ways.push_back(span_text(*visit.weeks, "weeks", 1));
  if (visit.hours) ways.push_back(fmt::format("{} hours ridden", *visit.hours / divisor));
  std::string text = (visit.repeats ? "every " : "after ") + join(ways, " or ");
  if (ways.size() > 1) text += ", whichever comes first";
  return text;
}

Result<std::vector<ServiceVisit>> read_service_plan(std::string_view text,
                                                    const std::string& file,
                                                    const Trade& trade) {
  const Result<Csv> csv = parse_csv(text, file);
  if (!csv) return std::unexpected(csv.error());
  const std::vector<std::string> headings = {"visit",     "repeats",    "km_low", "km_high",
                                             "weeks_low", "weeks_high", "hours",  "trait",
                                             "work",      "operations", "source"};
  Problems problems;
  std::vector<ServiceVisit> visits;
  if (!check_headings(*csv, headings, {}, problems)) return std::unexpected(problems.front());
  for (const CsvRow& line : csv->rows) {
    CsvRowReader row(*csv, line, problems);
    ServiceVisit visit = visit_in(row, trade);
    if (std::ranges::count(visits, visit.name, &ServiceVisit::name) > 0) {
      row.problem("visit", Code::kConflict, "this visit is there twice; keep one row");
    }
    if (!row.is_good()) return std::unexpected(problems.front());
    visits.push_back(std::move(visit));
  }
  return visits;
}

Result<std::vector<ServiceVisit>> load_service_plan(const std::string& folder,
                                                    const Trade& trade) {
  const Result<std::string> text = read_file(folder + "/" + kServicePlan);
  if (!text) return std::unexpected(text.error());
  return read_service_plan(*text, kServicePlan, trade);
}

}  // namespace rollwright::trade

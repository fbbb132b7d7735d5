#include "plan/read_bounds.hpp"

#include <limits>
#include <optional>

#include "base/csv.hpp"
#include "base/text.hpp"

namespace rollwright::plan {
namespace {

/// -1 for a column that the list does not have and for an empty cell.
Result<int> bound_in(const Csv& csv, const CsvRow& row, const char* heading) {
  const int column = csv.column(heading);
  if (column < 0) return -1;
  const std::string& cell = row.cells[static_cast<std::size_t>(column)];
  if (cell.empty()) return -1;
  const std::optional<long long> number = to_whole(cell);
  if (!number || *number < 0 || *number > std::numeric_limits<int>::max()) {
    return refuse(Code::kBadInput, "A bound is a whole number of time units, 0 or more.",
                  {.file = csv.file, .line = row.line, .field = heading, .value = cell});
  }
  return static_cast<int>(*number);
}

Result<PublishedBounds> bounds_in(const Csv& csv, const CsvRow& row) {
  const Result<int> least = bound_in(csv, row, "best_lb");
  if (!least) return std::unexpected(least.error());
  const Result<int> known = bound_in(csv, row, "best_ub");
  if (!known) return std::unexpected(known.error());
  if (*known >= 0 && *least > *known) {
    return refuse(Code::kContradiction, "The lower bound is above the upper bound.",
                  {.file = csv.file, .line = row.line, .field = "best_lb",
                   .value = std::to_string(*least)});
  }
  return PublishedBounds{*least, *known};
}

}  // namespace

Result<BoundsList> read_bounds(std::string_view text, const std::string& file) {
  const Result<Csv> csv = parse_csv(text, file);
  if (!csv) return std::unexpected(csv.error());
  const int name = csv->column("instance");
  if (name < 0 || (csv->column("best_lb") < 0 && csv->column("best_ub") < 0)) {
    return refuse(Code::kBadInput,
                  "A list of bounds has a column \"instance\", and \"best_lb\" or \"best_ub\".",
                  {.file = file, .line = 1});
  }
  BoundsList list;
  for (const CsvRow& row : csv->rows) {
    const Result<PublishedBounds> bounds = bounds_in(*csv, row);
    if (!bounds) return std::unexpected(bounds.error());
    const std::string& instance = row.cells[static_cast<std::size_t>(name)];
    if (!list.emplace(instance, *bounds).second) {
      return refuse(Code::kBadInput, "This instance has a row already.",
                    {.file = file, .line = row.line, .field = "instance", .value = instance});
    }
  }
  return list;
}

}  // namespace rollwright::plan

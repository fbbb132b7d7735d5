#include "trade/change_terms.hpp"

#include <algorithm>

#include "base/csv.hpp"
#include "base/text.hpp"

namespace rollwright::trade {
namespace {

constexpr std::string_view kAvailabilities[] = {"stocked", "importer", "made"};

std::unexpected<Error> wrong_cell(const Csv& csv, const CsvRow& row, std::string_view heading,
                                  std::string sentence, Code code = Code::kBadInput) {
  const auto at = static_cast<std::size_t>(csv.column(heading));
  return refuse(code, std::move(sentence),
                {.file = csv.file, .line = row.line, .field = std::string(heading),
                 .value = row.cells[at]});
}

Result<Csv> file_with(std::string_view text, std::string file,
                      std::initializer_list<std::string_view> headings) {
  Result<Csv> read = parse_csv(text, std::move(file));
  if (!read) return read;
  for (const std::string_view heading : headings) {
    if (read->column(heading) >= 0) continue;
    return refuse(Code::kBadInput, "this column is missing",
                  {.file = read->file, .field = std::string(heading)});
  }
  return read;
}

const std::string& cell_at(const Csv& csv, const CsvRow& row, std::string_view heading) {
  return row.cells[static_cast<std::size_t>(csv.column(heading))];
}

/// Ids with spaces between.
std::vector<std::string> ids_in(const std::string& cell) {
  std::vector<std::string> ids = split(cell, ' ');
  std::erase(ids, "");
  return ids;
}

}  // namespace

Result<std::vector<Restocking>> read_restocking(std::string_view csv, std::string file) {
  const Result<Csv> read = file_with(csv, std::move(file), {"availability", "percent", "source"});
  if (!read) return std::unexpected(read.error());
  std::vector<Restocking> rows;
  for (const CsvRow& row : read->rows) {
    const std::string& availability = cell_at(*read, row, "availability");
    if (std::ranges::find(kAvailabilities, availability) == std::end(kAvailabilities)) {
      return wrong_cell(*read, row, "availability", "this is stocked, importer or made");
    }
    if (std::ranges::find(rows, availability, &Restocking::availability) != rows.end()) {
      return wrong_cell(*read, row, "availability", "this is there twice; keep one row",
                        Code::kConflict);
    }
    const auto percent = to_whole(cell_at(*read, row, "percent"));
    if (!percent || !(0 <= *percent && *percent <= 100)) {
      return wrong_cell(*read, row, "percent", "this is a whole number from 0 to 100",
                        Code::kOutOfRange);
    }
    if (cell_at(*read, row, "source").empty()) {
      return wrong_cell(*read, row, "source", "say where it comes from");
    }
    rows.push_back({.availability = availability, .percent = static_cast<int>(*percent),
                    .source = cell_at(*read, row, "source")});
  }
  return rows;
}

Result<std::vector<ChangeWork>> read_change_work(std::string_view csv, std::string file) {
  const Result<Csv> read = file_with(csv, std::move(file), {"slot", "work", "spoils"});
  if (!read) return std::unexpected(read.error());
  std::vector<ChangeWork> rows;
  for (const CsvRow& row : read->rows) {
    const SlotId slot(cell_at(*read, row, "slot"));
    if (slot.empty()) return wrong_cell(*read, row, "slot", "no slot is named");
    if (std::ranges::find(rows, slot, &ChangeWork::slot) != rows.end()) {
      return wrong_cell(*read, row, "slot", "this slot is there twice; keep one row",
                        Code::kConflict);
    }
    ChangeWork work{.slot = slot, .work = ids_in(cell_at(*read, row, "work")),
                    .spoils = ids_in(cell_at(*read, row, "spoils"))};
    if (work.work.empty()) return wrong_cell(*read, row, "work", "no operation is named");
    for (const std::string& operation : work.spoils) {
      if (std::ranges::find(work.work, operation) != work.work.end()) continue;
      return wrong_cell(*read, row, "spoils", operation + " is not among the work of this slot");
    }
    rows.push_back(std::move(work));
  }
  return rows;
}

Result<ChangeTerms> load_change_terms(const std::string& folder) {
  const Result<std::string> restocking = read_file(folder + "/restocking.csv");
  const Result<std::string> work = read_file(folder + "/change_work.csv");
  if (!restocking) return std::unexpected(restocking.error());
  if (!work) return std::unexpected(work.error());
  auto read_terms = read_restocking(*restocking, "restocking.csv");
  auto read_work = read_change_work(*work, "change_work.csv");
  if (!read_terms) return std::unexpected(read_terms.error());
  if (!read_work) return std::unexpected(read_work.error());
  return ChangeTerms{.restocking = std::move(*read_terms), .work = std::move(*read_work)};
}

}  // namespace rollwright::trade

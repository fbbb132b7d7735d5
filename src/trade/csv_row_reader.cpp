#include "trade/csv_row_reader.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {

bool check_headings(const Csv& csv, const std::vector<std::string>& must,
                    const std::vector<std::string>& may, Problems& problems) {
  std::vector<std::string> known = must;
  known.insert(known.end(), may.begin(), may.end());
  for (const std::string& heading : csv.headings) {
    if (std::ranges::count(known, heading) > 0) continue;
    problems.push_back({Code::kBadInput,
                        "this column is not known here" + meant(heading, known),
                        {.file = csv.file, .field = heading}});
  }
  bool complete = true;
  for (const std::string& heading : must) {
    if (csv.column(heading) >= 0) continue;
    problems.push_back(
        {Code::kBadInput, "this column is missing", {.file = csv.file, .field = heading}});
    complete = false;
  }
  return complete;
}

std::string CsvRowReader::cell(std::string_view heading) const {
  const int column = csv_.column(heading);
  return column < 0 ? std::string{} : row_.cells[static_cast<std::size_t>(column)];
}

void CsvRowReader::problem(std::string_view heading, Code code, std::string sentence) {
  good_ = false;
  problems_.push_back({code,
                       std::move(sentence),
                       {.file = csv_.file,
                        .line = row_.line,
                        .field = std::string(heading),
                        .value = cell(heading)}});
}

std::string CsvRowReader::text(std::string_view heading) {
  std::string text = cell(heading);
  if (text.empty()) problem(heading, Code::kBadInput, "this cell is empty; it must be filled in");
  return text;
}

std::optional<int> CsvRowReader::whole(std::string_view heading, int least, int most) {
  const std::string text = cell(heading);
  const std::optional<long long> number = to_whole(text);
  if (!number) {
    problem(heading, Code::kBadInput, "this is a whole number, as in 3");
    return std::nullopt;
  }
  if (!(least <= *number && *number <= most)) {
    problem(heading, Code::kOutOfRange,
            fmt::format("this must lie between {} and {}", least, most));
    return std::nullopt;
  }
  return static_cast<int>(*number);
}

std::optional<int> CsvRowReader::whole_or_none(std::string_view heading, int least, int most) {
  return cell(heading).empty() ? std::nullopt : whole(heading, least, most);
}

std::optional<Day> CsvRowReader::day(std::string_view heading) {
  const Result<Day> day = parse_day(cell(heading));
  if (day) return *day;
  problem(heading, day.error().code, day.error().sentence);
  return std::nullopt;
}

std::optional<Day> CsvRowReader::day_or_none(std::string_view heading) {
  return cell(heading).empty() ? std::nullopt : day(heading);
}

std::optional<Money> CsvRowReader::money(std::string_view heading) {
  const Result<Money> money = parse_money(cell(heading));
  if (!money) {
    problem(heading, money.error().code, money.error().sentence);
    return std::nullopt;
  }
  if (*money < Money{}) {
    problem(heading, Code::kOutOfRange, "this may not be negative");
    return std::nullopt;
  }
  return *money;
}

bool CsvRowReader::flag(std::string_view heading) {
  const std::string text = cell(heading);
  if (text == "yes") return true;
  if (!text.empty() && text != "no") {
    problem(heading, Code::kBadInput, "this is answered with yes or no");
  }
  return false;
}

std::string CsvRowReader::word(std::string_view heading, const std::vector<std::string>& words,
                               std::string_view fallback) {
  const std::string text = cell(heading);
  if (text.empty() && !fallback.empty()) return std::string(fallback);
  if (std::ranges::count(words, text) > 0) return text;
  problem(heading, Code::kBadInput,
          fmt::format("this is one of {}{}", join(words, ", "),
                      nearest(text, words) ? meant(text, words) : std::string{}));
  return {};
}

}  // namespace rollwright::trade

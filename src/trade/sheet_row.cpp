#include "trade/sheet_row.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

constexpr std::size_t kMostArticle = 60;
constexpr std::size_t kMostName = 200;
constexpr int kMostInAPack = 1'000'000;

/// A column of the mapping with its place in the list.
struct PlacedColumn {
  const SheetColumn* about;
  int at;
  const Attribute* attribute;  // nullptr for plain targets
};

/// Reads one row cell by cell and notes what cannot be read.
class RowReading {
 public:
  RowReading(const Trade& trade, const SupplierSheet& sheet, const ColumnMapping& mapping,
             const std::string& currency)
      : trade_(trade), sheet_(sheet), mapping_(mapping), currency_(currency) {
    for (const SheetColumn& column : mapping.columns) {
      if (column.goes_to.empty()) continue;
      const auto found = trade.attributes.find(column.goes_to);
      columns_.push_back({&column, sheet.column(column.heading),
                          found == trade.attributes.end() ? nullptr : &found->second});
    }
  }

  SheetRow read(const CsvRow& csv) {
    row_ = SheetRow{.line = csv.line, .kind = KindId(mapping_.kind)};
    kind_problems_ = 0;
    if (csv.cells.size() != sheet_.headings.size()) {
      problem("", "", Code::kBadInput,
              fmt::format("this row has {} cells, the heading has {}: a separator is missing, or "
                          "one stands in a text without quotes",
                          csv.cells.size(), sheet_.headings.size()));
      return std::move(row_);
    }
    for (const PlacedColumn& column : columns_) {
      if (column.about->goes_to == kKind) read_kind(column, cell(csv, column));
    }
    for (const PlacedColumn& column : columns_) read_one(column, cell(csv, column));
    if (row_.article.empty()) {
      problem(heading_of(kArticle), "", Code::kBadInput,
              "this cell is empty; a row is told apart by the supplier's article number");
    }
    if (row_.kind.empty() && kind_problems_ == 0) {
      problem(heading_of(kKind), "", Code::kBadInput,
              "this cell is empty; it says what kind of part this is");
    }
    std::ranges::sort(row_.breaks, {}, &PriceBreak::from_quantity);
    return std::move(row_);
  }

 private:
  void problem(std::string field, std::string value, Code code, std::string sentence) {
    row_.problems.push_back({code, std::move(sentence),
                             {.file = sheet_.file, .line = row_.line,
                              .field = field.empty() ? "column 1" : std::move(field),
                              .value = std::move(value)}});
  }
  void problem(const PlacedColumn& column, const std::string& cell, const Error& error) {
    problem(column.about->heading, cell, error.code, error.sentence);
  }

  [[nodiscard]] std::string heading_of(std::string_view target) const {
    for (const PlacedColumn& column : columns_) {
      if (column.about->goes_to == target) return column.about->heading;
    }
    return std::string(target);
  }

  /// Empty for what the mapping says means nothing.
  [[nodiscard]] std::string cell(const CsvRow& csv, const PlacedColumn& column) const {
    std::string text(trim(SupplierSheet::cell(csv, column.at)));
    return std::ranges::count(mapping_.nothing, text) > 0 ? std::string() : text;
  }

  static std::string translated(const PlacedColumn& column, const std::string& cell) {
    const auto found = column.about->words.find(cell);
    return found == column.about->words.end() ? cell : found->second;
  }

  void read_kind(const PlacedColumn& column, const std::string& cell) {
    if (cell.empty()) return;
    const std::string kind = translated(column, cell);
    const std::vector<std::string> known = part_kind_ids(trade_);
    if (std::ranges::count(known, kind) == 0) {
      row_.kind = KindId();
      ++kind_problems_;
      return problem(column.about->heading, cell, Code::kBadInput,
                     "the mapping has no kind of part for this word; give it one, as in K-TY");
    }
    row_.kind = KindId(kind);
  }

  void read_one(const PlacedColumn& column, const std::string& cell) {
    if (cell.empty()) return;
    if (column.attribute != nullptr) return read_fact(column, cell);
    const std::string& target = column.about->goes_to;
    if (target == kArticle) return read_text(column, cell, row_.article, kMostArticle);
    if (target == kName) return read_text(column, cell, row_.name, kMostName);
    if (target == kMaker) return read_text(column, cell, row_.maker, kMostName);
    if (target == kCustomerPrice) return read_price(column, cell);
    if (target == kCostPrice) return read_cost(column, cell);
    if (target == kPack) return read_pack(column, cell);
    if (target == kAvailability) return read_availability(column, cell);
  }

  void read_text(const PlacedColumn& column, const std::string& cell, std::string& into,
                 std::size_t most) {
    const bool one_line =
        std::ranges::all_of(cell, [](char c) { return static_cast<unsigned char>(c) >= 0x20; });
    if (cell.size() <= most && one_line) {
      into = cell;
      return;
    }
    if (&into == &row_.article) into = "?";  // said, if badly: one mistake is one problem
    problem(column.about->heading, shortened(cell, 60), Code::kOutOfRange,
            fmt::format("this is one line of at most {} bytes", most));
  }

  void read_price(const PlacedColumn& column, const std::string& cell) {
    const Result<Money> money = list_money(cell, mapping_.decimal_sign(), currency_);
    if (!money) return problem(column, cell, money.error());
    row_.price = *money;
  }

  void read_cost(const PlacedColumn& column, const std::string& cell) {
    const Result<Money> money = list_money(cell, mapping_.decimal_sign(), currency_);
    if (!money) return problem(column, cell, money.error());
    row_.breaks.push_back({column.about->from_quantity, *money});
  }

  void read_pack(const PlacedColumn& column, const std::string& cell) {
    const Result<std::string> plain = plain_number(cell, mapping_.decimal_sign());
    const std::optional<long long> pack = plain ? to_whole(*plain) : std::nullopt;
    if (!pack) {
      return problem(column.about->heading, cell, Code::kBadInput,
                     "a pack is a whole number of pieces, as in 10");
    }
    if (!(1 <= *pack && *pack <= kMostInAPack)) {
      return problem(column.about->heading, cell, Code::kOutOfRange,
                     fmt::format("this must lie between 1 and {}", kMostInAPack));
    }
    row_.pack = static_cast<int>(*pack);
  }

  void read_availability(const PlacedColumn& column, const std::string& cell) {
    const std::string word = translated(column, cell);
    if (std::ranges::count(availability_words(), word) == 0) {
      return problem(column.about->heading, cell, Code::kBadInput,
                     "the mapping has no word for this; availability is one of " +
                         join(availability_words(), ", "));
    }
    row_.availability = word;
  }

  void read_fact(const PlacedColumn& column, const std::string& cell) {
    const Attribute& attribute = *column.attribute;
    const auto kind = trade_.kinds.find(row_.kind);
    if (kind == trade_.kinds.end()) return;  // noted already
    if (std::ranges::count(kind->second.attributes, attribute.id) == 0) {
      row_.notes.push_back(fmt::format("{} is left out: a {} has no {}", column.about->heading,
                                       kind->second.name, attribute.name));
      return;
    }
    std::string plain;
    const Result<Value> value =
        read_cell(attribute, *column.about, mapping_.decimal_sign(), cell, &plain);
    if (!value) return problem(column, cell, value.error());
    StatedFact fact{.value = *value};
    if (std::holds_alternative<double>(*value)) {
      // The same digits read once more, as one unit of the last of them.
      const std::size_t unit = plain.find(' ');
      const std::string digit =
          fmt::format("{}{}", std::pow(10.0, -decimals_of(plain)),
                      unit == std::string::npos ? "" : plain.substr(unit));
      if (const auto size = parse_value(attribute, digit); size) {
        fact.half_digit = 0.5 * std::get<double>(*size);
      }
    }
    row_.facts[attribute.id] = std::move(fact);
  }

  const Trade& trade_;
  const SupplierSheet& sheet_;
  const ColumnMapping& mapping_;
  const std::string& currency_;
  std::vector<PlacedColumn> columns_;
  SheetRow row_;
  int kind_problems_ = 0;
};

}  // namespace

std::vector<SheetRow> read_sheet_rows(const Trade& trade, const SupplierSheet& sheet,
                                      const ColumnMapping& mapping, const std::string& currency) {
  RowReading reading(trade, sheet, mapping, currency);
  std::vector<SheetRow> rows;
  rows.reserve(sheet.rows.size());
  for (const CsvRow& row : sheet.rows) rows.push_back(reading.read(row));
  return rows;
}

}  // namespace rollwright::trade

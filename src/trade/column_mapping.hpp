#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "trade/sheet_amount.hpp"
#include "trade/supplier_sheet.hpp"
#include "trade/trade.hpp"

namespace rollwright::trade {

/// What one column of a supplier's list says.
struct SheetColumn {
  std::string heading;  // as in the list
  /// "article", "name", "maker", "kind", "cost price", "customer price", "pack", "availability",
  /// or the id of an attribute.
  std::string goes_to;
  std::string unit;       // of bare numbers; empty takes the attribute's own
  int from_quantity = 1;  // of a cost price: it holds from so many pieces on
  std::string parted_by;  // between the words of a set; empty takes |
  std::map<std::string, std::string> words;  // the list's word -> ours
};

/// How one supplier's list is read. docs/formats.md describes the file.
struct ColumnMapping {
  std::string supplier;
  std::string separator = "comma";  // semicolon, tab
  std::string decimal = "point";    // comma
  std::string kind;                 // of every row, unless a column says it
  std::string new_number;           // a new part's number: this, then the article number
  bool keep_names = true;           // parts that the book has keep their name and maker
  std::vector<std::string> nothing = {"-", "?", "n/a"};  // cells that say nothing, beside empty ones
  std::vector<SheetColumn> columns;

  [[nodiscard]] DecimalSign decimal_sign() const;
};

inline constexpr std::string_view kArticle = "article";
inline constexpr std::string_view kName = "name";
inline constexpr std::string_view kMaker = "maker";
inline constexpr std::string_view kKind = "kind";
inline constexpr std::string_view kCostPrice = "cost price";
inline constexpr std::string_view kCustomerPrice = "customer price";
inline constexpr std::string_view kPack = "pack";
inline constexpr std::string_view kAvailability = "availability";

/// The targets that are no attributes, in the order in which a person thinks of them.
[[nodiscard]] const std::vector<std::string>& plain_targets();
[[nodiscard]] const std::vector<std::string>& availability_words();
/// Kinds that parts can be of, by id.
[[nodiscard]] std::vector<std::string> part_kind_ids(const Trade& trade);

struct ReadMapping {
  ColumnMapping mapping;
  Problems problems;
};
/// Reads a mapping file (TOML). Every problem has file, line, field and value.
[[nodiscard]] ReadMapping read_mapping(std::string_view text, const std::string& file);
/// The file that `read_mapping` reads back to the same mapping.
[[nodiscard]] std::string mapping_text(const ColumnMapping& mapping);

/// Whether a list can be read with a mapping: columns that are there, targets, units, words that
/// exist. Each problem names the list and the column.
[[nodiscard]] Problems check_mapping(const Trade& trade, const SupplierSheet& sheet,
                                     const ColumnMapping& mapping);

/// Reads a word of the list for an attribute: through the mapping's words, then as the shop's files
/// do. `plain` receives what was read in our own notation.
[[nodiscard]] Result<Value> read_cell(const Attribute& attribute, const SheetColumn& column,
                                      DecimalSign decimal, std::string_view cell,
                                      std::string* plain = nullptr);

}  // namespace rollwright::trade

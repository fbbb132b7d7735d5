#include "trade/column_mapping.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/pseudo.hpp"
#include "trade/table_reader.hpp"

namespace rollwright::trade {
namespace {

constexpr int kMostFrom = 1'000'000;

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (static_cast<unsigned char>(c) < 0x20) {
      out += fmt::format("\\u{:04x}", static_cast<int>(c));
    } else {
      out += c;
    }
  }
  return out + '"';
}

SheetColumn read_column(const TomlValue& table, const std::string& file, Problems& problems) {
  TableReader reader(table, file, problems);
  SheetColumn column{.heading = reader.text("heading"), .goes_to = reader.text("goes_to")};
  column.unit = reader.text_or("unit", "");
  column.from_quantity = reader.whole("from_quantity", 1, kMostFrom).value_or(1);
  column.parted_by = reader.text_or("parted_by", "");
  if (const TomlValue* words = reader.table("words")) {
    for (const TomlEntry& entry : words->entries) {
      if (entry.value.sort == TomlValue::Sort::kText) {
        column.words[entry.key] = entry.value.text;
      } else {
        problems.push_back({Code::kBadInput, "a word is translated into a word, as in JA = \"yes\"",
                            {.file = file, .line = entry.line, .field = "words." + entry.key}});
      }
    }
  }
  reader.finish();
  return column;
}

/// Notes problems of a mapping beside a list.
class MappingCheck {
 public:
  MappingCheck(const Trade& trade, const SupplierSheet& sheet, const ColumnMapping& mapping)
      : trade_(trade), sheet_(sheet), mapping_(mapping) {}

  Problems all() {
    check_whole();
    std::map<std::string, std::string> seen;
    for (const SheetColumn& column : mapping_.columns) {
      if (column.goes_to.empty()) continue;
      check_heading(column);
      check_target(column);
      std::string once = column.goes_to;
      if (once == kCostPrice) once += fmt::format(" from {}", column.from_quantity);
      const auto [first, is_new] = seen.emplace(once, column.heading);
      if (!is_new) {
        note(column, Code::kConflict,
             fmt::format("the column \"{}\" already goes to {}; leave one of them out",
                         first->second, once));
      }
    }
    if (!seen.contains(std::string(kArticle))) {
      problem("article", "", Code::kBadInput,
              "no column is the supplier's article number; name one: rows are told apart by it");
    }
    if (mapping_.kind.empty() && !seen.contains(std::string(kKind))) {
      problem("kind", "", Code::kBadInput,
              "say which kind of part the list holds, or which column says it");
    }
    return std::move(problems_);
  }

 private:
  void problem(std::string field, std::string value, Code code, std::string sentence) {
    problems_.push_back({code, std::move(sentence),
                         {.file = sheet_.file, .field = std::move(field),
                          .value = std::move(value)}});
  }
  void note(const SheetColumn& column, Code code, std::string sentence) {
    problem(column.heading, column.goes_to, code, std::move(sentence));
  }

  void check_whole() {
    if (!separator_named(mapping_.separator)) {
      problem("separator", mapping_.separator, Code::kBadInput,
              "cells are parted by comma, semicolon or tab");
    }
    if (mapping_.decimal != "point" && mapping_.decimal != "comma") {
      problem("decimal", mapping_.decimal, Code::kBadInput,
              "decimals follow a point or a comma");
    }
    if (mapping_.new_number.size() > 20 ||
        !std::ranges::all_of(mapping_.new_number, [](char c) { return c > ' ' && c < 0x7f; })) {
      problem("new_number", mapping_.new_number, Code::kBadInput,
              "new numbers begin with at most 20 letters, digits and signs, as in QS-");
    }
    if (!mapping_.kind.empty()) check_kind("kind", mapping_.kind);
  }

  void check_kind(const std::string& field, const std::string& kind) {
    const std::vector<std::string> known = part_kind_ids(trade_);
    if (std::ranges::count(known, kind) > 0) return;
    problem(field, kind, Code::kBadInput, "no kind of part is called so" + meant(kind, known));
  }

  void check_heading(const SheetColumn& column) {
    if (sheet_.column(column.heading) >= 0) return;
    note(column, Code::kNotFound,
         "the list has no such column" + meant(column.heading, sheet_.headings));
  }

  void check_target(const SheetColumn& column) {
    const auto attribute = trade_.attributes.find(column.goes_to);
    if (attribute != trade_.attributes.end()) return check_attribute(column, attribute->second);
    const std::vector<std::string>& plain = plain_targets();
    if (std::ranges::count(plain, column.goes_to) == 0) {
      std::vector<std::string> known = plain;
      for (const auto& [id, about] : trade_.attributes) known.push_back(id);
      return note(column, Code::kBadInput,
                  "a column goes to an attribute or to one of " + join(plain, ", ") +
                      (nearest(column.goes_to, known) ? meant(column.goes_to, known) : ""));
    }
    for (const auto& [theirs, ours] : column.words) {
      if (column.goes_to == kKind) check_kind(column.heading, ours);
      if (column.goes_to == kAvailability &&
          std::ranges::count(availability_words(), ours) == 0) {
        problem(column.heading, ours, Code::kBadInput,
                "availability is one of " + join(availability_words(), ", "));
      }
    }
  }

  void check_attribute(const SheetColumn& column, const Attribute& attribute) {
    const auto kind = trade_.kinds.find(KindId(mapping_.kind));
    const bool says_kind = std::ranges::count(mapping_.columns, kKind, &SheetColumn::goes_to) > 0;
    if (!says_kind && kind != trade_.kinds.end() &&
        std::ranges::count(kind->second.attributes, attribute.id) == 0) {
      note(column, Code::kContradiction,
           fmt::format("a part of kind {} ({}) has no such attribute{}", kind->first.text,
                       kind->second.name, meant(attribute.id, kind->second.attributes)));
    }
    if (!column.unit.empty()) check_unit(column, attribute);
    for (const auto& [theirs, ours] : column.words) {
      if (const auto value = parse_value(attribute, ours); !value) {
        problem(column.heading, ours, value.error().code, value.error().sentence);
      }
    }
  }

  void check_unit(const SheetColumn& column, const Attribute& attribute) {
    const UnitRow* unit = find_unit(column.unit);
    if (attribute.type == AttributeType::kNumber && unit != nullptr &&
        unit->dimension == attribute.dimension) {
      return;
    }
    std::vector<std::string> known;
    for (const UnitRow& row : unit_table()) {
      if (row.dimension == attribute.dimension) known.emplace_back(row.symbol);
    }
    const bool takes_unit =
        attribute.type == AttributeType::kNumber && attribute.dimension != Dimension::kNone;
    problem(column.heading, column.unit, Code::kBadInput,
            takes_unit ? fmt::format("{} is measured in {}", attribute.name, join(known, ", "))
                       : fmt::format("{} has no unit; leave it out", attribute.name));
  }

  const Trade& trade_;
  const SupplierSheet& sheet_;
  const ColumnMapping& mapping_;
  Problems problems_;
};

/// Our word for one of theirs: as the mapping says, else their own.
std::string ours_of(const SheetColumn& column, std::string_view theirs) {
  const auto found = column.words.find(std::string(trim(theirs)));
  return found == column.words.end() ? std::string(trim(theirs)) : found->second;
}

}  // namespace

DecimalSign ColumnMapping::decimal_sign() const {
  return decimal == "comma" ? DecimalSign::kComma : DecimalSign::kPoint;
}

const std::vector<std::string>& plain_targets() {
  static const std::vector<std::string> kTargets = {
      std::string(kArticle),   std::string(kName),          std::string(kMaker),
      std::string(kKind),      std::string(kCostPrice),     std::string(kCustomerPrice),
      std::string(kPack),      std::string(kAvailability)};
  return kTargets;
}

const std::vector<std::string>& availability_words() {
  static const std::vector<std::string> kWords = {"stocked", "importer", "made"};
  return kWords;
}

std::vector<std::string> part_kind_ids(const Trade& trade) {
  std::vector<std::string> ids;
  for (const auto& [id, kind] : trade.kinds) {
    if (!is_pseudo(id)) ids.push_back(id.text);
  }
  return ids;
}

ReadMapping read_mapping(std::string_view text, const std::string& file) {
  ReadMapping read;
  const Result<TomlValue> root = parse_toml(text, file);
  if (!root) {
    read.problems.push_back(root.error());
    return read;
  }
  TableReader reader(*root, file, read.problems);
  ColumnMapping& mapping = read.mapping;
  mapping.supplier = reader.text("supplier");
  mapping.separator = reader.text_or("separator", mapping.separator);
  mapping.decimal = reader.text_or("decimal", mapping.decimal);
  mapping.kind = reader.text_or("kind", "");
  mapping.new_number = reader.text_or("new_number", "");
  mapping.keep_names = reader.flag_or("keep_names", true);
  const bool says_nothing = reader.has("nothing");
  const std::vector<std::string> nothing = reader.texts("nothing");
  if (says_nothing) mapping.nothing = nothing;
  for (const TomlValue* column : reader.tables("column")) {
    mapping.columns.push_back(read_column(*column, file, read.problems));
  }
  reader.finish();
  return read;
}

std::string mapping_text(const ColumnMapping& mapping) {
  std::string text = fmt::format("supplier = {}\nseparator = {}\ndecimal = {}\n",
                                 quoted(mapping.supplier), quoted(mapping.separator),
                                 quoted(mapping.decimal));
  if (!mapping.kind.empty()) text += fmt::format("kind = {}\n", quoted(mapping.kind));
  if (!mapping.new_number.empty()) {
    text += fmt::format("new_number = {}\n", quoted(mapping.new_number));
  }
  if (!mapping.keep_names) text += "keep_names = false\n";
  std::vector<std::string> nothing;
  for (const std::string& word : mapping.nothing) nothing.push_back(quoted(word));
  text += fmt::format("nothing = [{}]\n", join(nothing, ", "));
  for (const SheetColumn& column : mapping.columns) {
    if (column.goes_to.empty()) continue;
    text += fmt::format("\n[[column]]\nheading = {}\ngoes_to = {}\n", quoted(column.heading),
                        quoted(column.goes_to));
    if (!column.unit.empty()) text += fmt::format("unit = {}\n", quoted(column.unit));
    if (column.from_quantity != 1) text += fmt::format("from_quantity = {}\n", column.from_quantity);
    if (!column.parted_by.empty()) text += fmt::format("parted_by = {}\n", quoted(column.parted_by));
    if (column.words.empty()) continue;
    text += "[column.words]\n";
    for (const auto& [theirs, ours] : column.words) {
      text += fmt::format("{} = {}\n", quoted(theirs), quoted(ours));
    }
  }
  return text;
}

Problems check_mapping(const Trade& trade, const SupplierSheet& sheet,
                       const ColumnMapping& mapping) {
  return MappingCheck(trade, sheet, mapping).all();
}

Result<Value> read_cell(const Attribute& attribute, const SheetColumn& column, DecimalSign decimal,
                        std::string_view cell, std::string* plain) {
  std::string text = ours_of(column, cell);
  if (attribute.type == AttributeType::kNumber) {
    Result<std::string> number = plain_number(text, decimal);
    if (!number) return std::unexpected(number.error());
    text = std::move(*number);
    const bool bare = text.find(' ') == std::string::npos;
    if (bare && !column.unit.empty()) text += " " + column.unit;
  } else if (attribute.type == AttributeType::kWords) {
    std::vector<std::string> words;
    const char sign = column.parted_by.empty() ? '|' : column.parted_by.front();
    for (const std::string& word : split(text, sign)) words.push_back(ours_of(column, word));
    text = join(words, "|");
  }
  if (plain != nullptr) *plain = text;
  return parse_value(attribute, text);
}

}  // namespace rollwright::trade

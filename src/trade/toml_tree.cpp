#include "trade/toml_tree.hpp"

#include <algorithm>

// The parser asserts that no list holds a stray "}", and a release build takes that for granted:
// files from outside do hold one. Without the assertions it refuses them in its ordinary way.
#pragma push_macro("NDEBUG")
#undef NDEBUG
#define TOML_ASSERT(expr) static_cast<void>(0)
#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 1
#include <toml++/toml.h>
#pragma pop_macro("NDEBUG")

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::trade {
namespace {

TomlValue converted(const toml::node& node);

int line_of(const toml::source_region& region) { return static_cast<int>(region.begin.line); }

void convert_table(const toml::table& table, TomlValue& value) {
  value.sort = TomlValue::Sort::kTable;
  for (const auto& [key, child] : table) {
    value.entries.push_back(
        {.key = std::string(key.str()), .line = line_of(key.source()), .value = converted(child)});
  }
  // The library sorts keys by name; people read them from the top.
  std::ranges::stable_sort(value.entries, {}, &TomlEntry::line);
}

void convert_date(const toml::date& date, TomlValue& value) {
  const std::chrono::year_month_day day{std::chrono::year(date.year),
                                        std::chrono::month(date.month), std::chrono::day(date.day)};
  value.sort = day.ok() ? TomlValue::Sort::kDay : TomlValue::Sort::kOther;
  if (day.ok()) value.day = Day{day};
}

TomlValue converted(const toml::node& node) {
  TomlValue value;
  value.line = line_of(node.source());
  value.sort = TomlValue::Sort::kOther;
  if (const auto* table = node.as_table()) {
    convert_table(*table, value);
  } else if (const auto* array = node.as_array()) {
    value.sort = TomlValue::Sort::kList;
    for (const toml::node& item : *array) value.items.push_back(converted(item));
  } else if (const auto* text = node.as_string()) {
    value.sort = TomlValue::Sort::kText;
    value.text = text->get();
  } else if (const auto* whole = node.as_integer()) {
    value.sort = TomlValue::Sort::kWhole;
    value.whole = whole->get();
    value.number = static_cast<double>(whole->get());
  } else if (const auto* number = node.as_floating_point()) {
    value.sort = TomlValue::Sort::kNumber;
    value.number = number->get();
  } else if (const auto* flag = node.as_boolean()) {
    value.sort = TomlValue::Sort::kFlag;
    value.flag = flag->get();
  } else if (const auto* date = node.as_date()) {
    convert_date(date->get(), value);
  }
  return value;
}

}  // namespace

const TomlEntry* TomlValue::find(std::string_view key) const {
  const auto found = std::ranges::find(entries, key, &TomlEntry::key);
  return found == entries.end() ? nullptr : &*found;
}

std::string_view word_of(TomlValue::Sort sort) {
  switch (sort) {
    case TomlValue::Sort::kFlag: return "true or false";
    case TomlValue::Sort::kWhole: return "a whole number";
    case TomlValue::Sort::kNumber: return "a number";
    case TomlValue::Sort::kText: return "a text";
    case TomlValue::Sort::kDay: return "a day";
    case TomlValue::Sort::kList: return "a list";
    case TomlValue::Sort::kTable: return "a table";
    case TomlValue::Sort::kOther: return "a time";
  }
  broken_promise("every sort of TOML value has a word", __FILE__, __LINE__);
}

std::string plain_text(const TomlValue& value) {
  switch (value.sort) {
    case TomlValue::Sort::kFlag: return value.flag ? "true" : "false";
    case TomlValue::Sort::kWhole: return std::to_string(value.whole);
    case TomlValue::Sort::kNumber: return plain(value.number);
    case TomlValue::Sort::kText: return value.text;
    case TomlValue::Sort::kDay: return iso(value.day);
    default: return {};
  }
}

Result<TomlValue> parse_toml(std::string_view text, const std::string& file) {
  if (!is_utf8(text)) {
    return refuse(Code::kBadInput, "the file is not UTF-8 text; save it as UTF-8", {.file = file});
  }
  const toml::parse_result result = toml::parse(text);
  if (!result) {
    const toml::parse_error& error = result.error();
    return refuse(
        Code::kBadInput,
        fmt::format("this is not TOML ({}); nothing after this line was read", error.description()),
        {.file = file, .line = line_of(error.source())});
  }
  TomlValue root;
  root.line = 1;
  convert_table(result.table(), root);
  return root;
}

}  // namespace rollwright::trade

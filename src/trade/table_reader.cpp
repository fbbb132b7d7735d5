#include "trade/table_reader.hpp"

#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

using Sort = TomlValue::Sort;

bool is_amount(const TomlValue& value) {
  return value.sort == Sort::kFlag || value.sort == Sort::kWhole || value.sort == Sort::kText ||
         (value.sort == Sort::kNumber && std::isfinite(value.number));
}

}  // namespace

TableReader::TableReader(const TomlValue& table, std::string file, Problems& problems,
                         std::string prefix)
    : table_(table), file_(std::move(file)), problems_(problems), prefix_(std::move(prefix)) {}

const TomlValue* TableReader::ask(std::string_view key) {
  asked_.emplace(key);
  const TomlEntry* entry = table_.find(key);
  return entry == nullptr ? nullptr : &entry->value;
}

int TableReader::line_of(std::string_view key) const {
  const TomlEntry* entry = table_.find(key);
  return entry == nullptr ? table_.line : entry->line;
}

Place TableReader::place(std::string_view key, std::string value) const {
  return {.file = file_,
          .line = line_of(key),
          .field = prefix_ + std::string(key),
          .value = std::move(value)};
}

void TableReader::problem(std::string_view key, Code code, std::string sentence,
                          std::string value) {
  problems_.push_back({code, std::move(sentence), place(key, std::move(value))});
}

void TableReader::missing(std::string_view key, std::string_view what) {
  problem(key, Code::kBadInput, fmt::format("this is missing; {}", what));
}

void TableReader::wrong_sort(std::string_view key, const TomlValue& value, std::string_view right) {
  problem(key, Code::kBadInput, fmt::format("this is {}; write {}", word_of(value.sort), right),
          plain_text(value));
}

std::string TableReader::text(std::string_view key) {
  const TomlValue* value = ask(key);
  if (value == nullptr) {
    missing(key, "write a text");
    return {};
  }
  if (value->sort != Sort::kText) {
    wrong_sort(key, *value, "a text in quotes");
    return {};
  }
  if (trim(value->text).empty()) problem(key, Code::kBadInput, "this is empty; write a text");
  return std::string(trim(value->text));
}

std::string TableReader::text_or(std::string_view key, std::string fallback) {
  const TomlValue* value = ask(key);
  if (value == nullptr) return fallback;
  if (value->sort == Sort::kText) return std::string(trim(value->text));
  wrong_sort(key, *value, "a text in quotes");
  return fallback;
}

bool TableReader::flag_or(std::string_view key, bool fallback) {
  const TomlValue* value = ask(key);
  if (value == nullptr) return fallback;
  if (value->sort == Sort::kFlag) return value->flag;
  wrong_sort(key, *value, "true or false");
  return fallback;
}

std::optional<double> TableReader::number(std::string_view key, double least, double most) {
  const TomlValue* value = ask(key);
  if (value == nullptr) return std::nullopt;
  if (value->sort != Sort::kWhole && value->sort != Sort::kNumber) {
    wrong_sort(key, *value, "a number without quotes");
    return std::nullopt;
  }
  if (!(least <= value->number && value->number <= most)) {
    problem(key, Code::kOutOfRange,
            fmt::format("this must lie between {} and {}", plain(least), plain(most)),
            plain_text(*value));
    return std::nullopt;
  }
  return value->number;
}

std::optional<int> TableReader::whole(std::string_view key, int least, int most) {
  const TomlValue* value = ask(key);
  if (value != nullptr && value->sort == Sort::kNumber) {
    wrong_sort(key, *value, "a whole number");
    return std::nullopt;
  }
  const std::optional<double> found = number(key, least, most);
  return found ? std::optional(static_cast<int>(*found)) : std::nullopt;
}

std::optional<Day> TableReader::day(std::string_view key) {
  const TomlValue* value = ask(key);
  if (value == nullptr) return std::nullopt;
  if (value->sort == Sort::kDay) return value->day;
  if (value->sort != Sort::kText) {
    wrong_sort(key, *value, "a day, as in 2026-11-25");
    return std::nullopt;
  }
  const Result<Day> day = parse_day(value->text);
  if (day) return *day;
  problem(key, day.error().code, day.error().sentence, value->text);
  return std::nullopt;
}

std::vector<Day> TableReader::days(std::string_view key) {
  std::vector<Day> days;
  const TomlValue* value = ask(key);
  if (value == nullptr) return days;
  if (value->sort != Sort::kList) {
    wrong_sort(key, *value, "a list of days, as in [\"2026-12-25\"]");
    return days;
  }
  for (const TomlValue& item : value->items) {
    const Result<Day> day = parse_day(plain_text(item));
    if (day) {
      days.push_back(*day);
    } else {
      problem(key, day.error().code, day.error().sentence, plain_text(item));
    }
  }
  return days;
}

std::vector<std::string> TableReader::texts(std::string_view key) {
  std::vector<std::string> texts;
  const TomlValue* value = ask(key);
  if (value == nullptr) return texts;
  if (value->sort == Sort::kText) return {std::string(trim(value->text))};
  if (value->sort != Sort::kList) {
    wrong_sort(key, *value, "a list of texts, as in [\"a\", \"b\"]");
    return texts;
  }
  for (const TomlValue& item : value->items) {
    if (item.sort == Sort::kText && !trim(item.text).empty()) {
      texts.emplace_back(trim(item.text));
    } else {
      problem(key, Code::kBadInput, "each entry of this list is a text in quotes",
              plain_text(item));
    }
  }
  return texts;
}

std::vector<std::string> TableReader::amounts(std::string_view key) {
  std::vector<std::string> amounts;
  const TomlValue* value = ask(key);
  if (value == nullptr) return amounts;
  const std::vector<TomlValue> one{*value};
  for (const TomlValue& item : value->sort == Sort::kList ? value->items : one) {
    if (is_amount(item)) {
      amounts.push_back(std::string(trim(plain_text(item))));
    } else {
      wrong_sort(key, item, "a fact (\"slot.attribute\") or an amount (\"6 mm\", 36)");
    }
  }
  return amounts;
}

std::optional<std::string> TableReader::amount(std::string_view key) {
  const TomlValue* value = ask(key);
  if (value == nullptr) return std::nullopt;
  if (is_amount(*value)) return std::string(trim(plain_text(*value)));
  wrong_sort(key, *value, "one fact (\"slot.attribute\") or amount (\"6 mm\", 36)");
  return std::nullopt;
}

std::vector<const TomlValue*> TableReader::tables(std::string_view key) {
  std::vector<const TomlValue*> tables;
  const TomlValue* value = ask(key);
  if (value == nullptr) return tables;
  if (value->sort != Sort::kList) {
    wrong_sort(key, *value, fmt::format("a list of tables, each headed [[{}]]", key));
    return tables;
  }
  for (const TomlValue& item : value->items) {
    if (item.sort == Sort::kTable) {
      tables.push_back(&item);
    } else {
      wrong_sort(key, item, "a table");
    }
  }
  return tables;
}

const TomlValue* TableReader::table(std::string_view key) {
  const TomlValue* value = ask(key);
  if (value == nullptr || value->sort == Sort::kTable) return value;
  wrong_sort(key, *value, "a table");
  return nullptr;
}

const TomlValue* TableReader::value(std::string_view key) { return ask(key); }

void TableReader::finish() {
  const std::vector<std::string> known(asked_.begin(), asked_.end());
  for (const TomlEntry& entry : table_.entries) {
    if (asked_.contains(entry.key)) continue;
    problem(entry.key, Code::kBadInput, "this key is not known here" + meant(entry.key, known));
  }
}

}  // namespace rollwright::trade

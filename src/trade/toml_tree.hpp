#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"

namespace rollwright::trade {

struct TomlEntry;

/// A TOML value with the line it stands on. The parser library is behind parse_toml alone: it is
/// slow to compile, and its nodes are awkward to walk.
struct TomlValue {
  enum class Sort { kFlag, kWhole, kNumber, kText, kDay, kList, kTable, kOther };

  Sort sort = Sort::kTable;
  int line = 0;
  bool flag = false;
  std::int64_t whole = 0;
  double number = 0;
  std::string text;
  Day day = {};
  std::vector<TomlValue> items;    // of a list
  std::vector<TomlEntry> entries;  // of a table, in the order of the file

  [[nodiscard]] const TomlEntry* find(std::string_view key) const;
};

struct TomlEntry {
  std::string key;
  int line = 0;
  TomlValue value;
};

/// "a text", "a list": for sentences.
[[nodiscard]] std::string_view word_of(TomlValue::Sort sort);
/// A flag, number, text or day as it would be typed; empty for the rest.
[[nodiscard]] std::string plain_text(const TomlValue& value);

/// TOML 1.0. Errors: kBadInput with the line at which reading stopped.
[[nodiscard]] Result<TomlValue> parse_toml(std::string_view text, const std::string& file);

}  // namespace rollwright::trade

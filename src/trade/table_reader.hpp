#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "trade/toml_tree.hpp"

namespace rollwright::trade {

/// Reads the keys of one TOML table and notes every problem. Keys that nobody asked for are
/// refused by `finish`, so each loader asks for all the keys it knows, present or not.
///
/// Threads: one. The table, and the list of problems, must outlive the reader.
class TableReader {
 public:
  TableReader(const TomlValue& table, std::string file, Problems& problems,
              std::string prefix = {});

  /// A text that must be there and say something; empty after a problem.
  std::string text(std::string_view key);
  std::string text_or(std::string_view key, std::string fallback);
  bool flag_or(std::string_view key, bool fallback);
  /// Absent when the key is absent or refused; `least` and `most` included.
  std::optional<double> number(std::string_view key, double least, double most);
  std::optional<int> whole(std::string_view key, int least, int most);
  std::optional<Day> day(std::string_view key);
  /// A list of days; may be absent.
  std::vector<Day> days(std::string_view key);
  /// A list of texts, or one text; may be absent.
  std::vector<std::string> texts(std::string_view key);
  /// Numbers, flags and texts as text ("36", "true", "6 mm"): one or a list; may be absent.
  std::vector<std::string> amounts(std::string_view key);
  /// One such, or nothing when the key is absent or refused.
  std::optional<std::string> amount(std::string_view key);
  /// The tables of a list of tables; may be absent.
  std::vector<const TomlValue*> tables(std::string_view key);
  /// A single table, or nullptr.
  const TomlValue* table(std::string_view key);
  const TomlValue* value(std::string_view key);

  [[nodiscard]] bool has(std::string_view key) const { return table_.find(key) != nullptr; }
  [[nodiscard]] int line() const { return table_.line; }
  [[nodiscard]] int line_of(std::string_view key) const;
  [[nodiscard]] const std::string& file() const { return file_; }
  [[nodiscard]] Place place(std::string_view key, std::string value = {}) const;

  void problem(std::string_view key, Code code, std::string sentence, std::string value = {});
  void missing(std::string_view key, std::string_view what);
  /// Refuses the keys that were never asked for.
  void finish();

 private:
  const TomlValue* ask(std::string_view key);
  void wrong_sort(std::string_view key, const TomlValue& value, std::string_view right);

  const TomlValue& table_;
  std::string file_;
  Problems& problems_;
  std::string prefix_;
  std::set<std::string, std::less<>> asked_;
};

}  // namespace rollwright::trade

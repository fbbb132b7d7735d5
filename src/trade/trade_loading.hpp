#pragma once

#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "base/csv.hpp"
#include "trade/load_trade.hpp"
#include "trade/table_reader.hpp"

namespace rollwright::trade {

/// What the loaders of data/trade hand to each other. Each loader fills in its part of `trade` and
/// adds to `problems`.
///
/// Invariants: a file that could not be read at all is in `unread`; names that it would have given
/// are then not checked, so that one missing file is one problem.
struct TradeLoading {
  std::string folder;
  Trade trade;
  Problems problems;
  std::vector<std::string> files;          // in the order in which they were read
  std::set<std::string> unread;            // files (or "tables") that gave nothing
  std::set<std::string> doubtful;          // attributes whose own entry has a problem
  std::map<std::string, int> trait_lines;  // where each trait stands in traits.toml
  std::map<std::string, int> slot_lines;

  /// The tables [[heading]] of a TOML file in the folder, each handed to `each`.
  void toml_file(const std::string& file, std::string_view heading,
                 const std::function<void(TableReader&)>& each);
  /// A CSV file of the folder, or nothing (the problem is noted).
  std::optional<Csv> csv_file(const std::string& file);
  /// Files of a subfolder that end so, sorted: "rules/steering.toml".
  std::vector<std::string> files_in(const std::string& subfolder, std::string_view ending);

  void problem(Code code, std::string sentence, Place place);
  [[nodiscard]] bool is_read(const std::string& file) const { return !unread.contains(file); }
};

/// Notes that an id is there twice and names both lines. One for each kind of thing.
class OnlyOnce {
 public:
  explicit OnlyOnce(std::string what) : what_(std::move(what)) {}
  /// False after noting a problem.
  bool is_new(TableReader& reader, const std::string& id);

 private:
  std::string what_;
  std::map<std::string, std::string> first_;  // id -> where
};

void load_attributes(TradeLoading& loading);
void load_kinds(TradeLoading& loading);
void load_slots(TradeLoading& loading);
void load_templates(TradeLoading& loading);
void load_tables(TradeLoading& loading);
void load_lead_times(TradeLoading& loading);
void load_label_sheets(TradeLoading& loading);
void load_traits(TradeLoading& loading);
void load_rules(TradeLoading& loading);
void load_questions(TradeLoading& loading);
void load_cautions(TradeLoading& loading);
void load_operations(TradeLoading& loading);
void load_readings(TradeLoading& loading);
void load_check_lines(TradeLoading& loading);

/// Every name in `names` that `known` lacks becomes a problem of the field: "no slot is called so".
void check_names(TableReader& reader, std::string_view key, const std::vector<std::string>& names,
                 const std::vector<std::string>& known, std::string_view what);

/// The table `when` of operations, readings and check lines, or another of the same form.
[[nodiscard]] AppliesWhen read_when(TradeLoading& loading, TableReader& reader,
                                    std::string_view key = "when");

}  // namespace rollwright::trade

#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "trade/operand_reader.hpp"
#include "trade/rule.hpp"

namespace rollwright::trade {

/// A rule as its file gives it: texts, not yet looked up, so that ends and variants can be made out
/// by replacing text. Absent fields are empty; `given` holds the keys that were there.
struct WrittenRule {
  std::string id;
  std::string end;  // "front", "rear rear_wheel": grows as variants are made out
  Severity severity = Severity::kFit;
  RuleShape shape = RuleShape::kSame;
  std::vector<std::string> left;
  std::optional<std::string> right;
  std::optional<std::string> low;
  std::optional<std::string> high;
  std::vector<std::string> terms;
  std::vector<std::string> slots;
  std::vector<std::string> words;
  std::optional<std::string> offset;
  std::optional<std::string> tolerance;
  std::optional<std::string> share;
  std::string table;
  std::string compute;
  std::vector<WrittenCondition> conditions;
  std::string sentence;
  std::string source;
  std::vector<std::string> ends;
  std::set<std::string> given;
  std::map<std::string, int> lines;  // of each given key
  std::string file;
  int line = 0;

  [[nodiscard]] Place place(const std::string& key, std::string value = {}) const;
};

/// The key `severity` of a rule or a question.
[[nodiscard]] Severity read_severity(TableReader& reader);

/// Reads one [[rule]] and refuses fields that its shape lacks or must not have. Nothing when the
/// shape is not known, so that the rest could not be judged.
[[nodiscard]] std::optional<WrittenRule> read_written_rule(TradeLoading& loading,
                                                           TableReader& reader);

/// One rule for each end and each `a|b` variant; the rule itself when it has neither.
[[nodiscard]] std::vector<WrittenRule> made_out(TradeLoading& loading, const WrittenRule& rule);

/// Looks every name up and compares what is compared. Nothing after a problem.
[[nodiscard]] std::optional<Rule> resolved(TradeLoading& loading, const WrittenRule& written);

}  // namespace rollwright::trade

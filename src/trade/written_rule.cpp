#include "trade/written_rule.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

struct ShapeRow {
  RuleShape shape;
  std::vector<std::string> must;
  std::vector<std::string> may;
};

const std::vector<ShapeRow>& shape_rows() {
  static const std::vector<ShapeRow> kRows = {
      {RuleShape::kSame, {"left", "right"}, {"tolerance"}},
      {RuleShape::kOneOf, {"left"}, {"right", "words"}},
      {RuleShape::kAtLeast, {"left", "right"}, {"offset"}},
      {RuleShape::kAtMost, {"left", "right"}, {"offset"}},
      {RuleShape::kWithin, {"left"}, {"low", "high", "right", "tolerance"}},
      {RuleShape::kPairTable, {"left", "table"}, {}},
      {RuleShape::kNeeds, {"left"}, {"words", "slots", "right"}},
      {RuleShape::kSum, {"terms", "right"}, {"offset", "share"}},
      {RuleShape::kComputed, {"left", "compute"}, {"low", "high"}},
  };
  return kRows;
}

constexpr Severity kSeverities[] = {Severity::kStop, Severity::kFit, Severity::kWork,
                                    Severity::kClaim};

const ShapeRow* read_shape(TableReader& reader) {
  const std::string word = reader.text("shape");
  std::vector<std::string> words;
  for (const ShapeRow& row : shape_rows()) {
    if (word_of(row.shape) == word) return &row;
    words.emplace_back(word_of(row.shape));
  }
  if (!word.empty()) {
    reader.problem("shape", Code::kBadInput, "this is no shape of rule" + meant(word, words), word);
  }
  return nullptr;
}

void read_fields(TradeLoading& loading, TableReader& reader, WrittenRule& rule) {
  rule.left = reader.amounts("left");
  rule.right = reader.amount("right");
  rule.low = reader.amount("low");
  rule.high = reader.amount("high");
  rule.terms = reader.amounts("terms");
  rule.slots = reader.texts("slots");
  rule.words = reader.texts("words");
  rule.offset = reader.amount("offset");
  rule.tolerance = reader.amount("tolerance");
  rule.share = reader.amount("share");
  rule.table = reader.text_or("table", "");
  rule.compute = reader.text_or("compute", "");
  rule.conditions = written_conditions(loading, reader, "if");
  rule.sentence = reader.text("sentence");
  rule.source = reader.text("source");
  rule.ends = reader.texts("ends");
}

/// Exactly one of two ways to say it.
void check_one_way(TableReader& reader, std::string_view one, std::string_view other) {
  if (reader.has(one) == reader.has(other)) {
    reader.problem(one, Code::kBadInput, fmt::format("write either `{}` or `{}`", one, other));
  }
}

void check_choices_of_shape(TableReader& reader, RuleShape shape) {
  if (shape == RuleShape::kOneOf) check_one_way(reader, "right", "words");
  if (shape == RuleShape::kNeeds) check_one_way(reader, "slots", "right");
  if (shape == RuleShape::kComputed && !reader.has("low") && !reader.has("high")) {
    reader.problem("low", Code::kBadInput, "write `low`, `high` or both");
  }
  if (shape != RuleShape::kWithin) return;
  const bool between =
      reader.has("low") && reader.has("high") && !reader.has("right") && !reader.has("tolerance");
  const bool around =
      !reader.has("low") && !reader.has("high") && reader.has("right") && reader.has("tolerance");
  if (between || around) return;
  reader.problem("low", Code::kBadInput,
                 "write either `low` and `high`, or `right` and `tolerance`");
}

void check_shape_fields(TableReader& reader, const ShapeRow& row) {
  const std::vector<std::string> all = {"left",  "right",  "low",       "high",  "terms",  "slots",
                                        "words", "offset", "tolerance", "share", "table", "compute"};
  std::vector<std::string> takes = row.must;
  takes.insert(takes.end(), row.may.begin(), row.may.end());
  for (const std::string& key : all) {
    const bool must = std::ranges::count(row.must, key) > 0;
    if (must && !reader.has(key)) {
      reader.missing(key, fmt::format("a rule of shape {} needs it", word_of(row.shape)));
    } else if (reader.has(key) && std::ranges::count(takes, key) == 0) {
      reader.problem(
          key, Code::kBadInput,
          fmt::format("a rule of shape {} takes {} only", word_of(row.shape), listed(takes)));
    }
  }
  check_choices_of_shape(reader, row.shape);
}

void check_counts(TableReader& reader, const WrittenRule& rule) {
  const bool several = rule.shape == RuleShape::kPairTable || rule.shape == RuleShape::kComputed;
  if (!several && rule.left.size() > 1) {
    reader.problem("left", Code::kBadInput,
                   fmt::format("a rule of shape {} has one left side", word_of(rule.shape)));
  }
  for (const std::string_view key : {"left", "terms", "slots", "words"}) {
    const TomlValue* value = reader.value(key);
    if (value != nullptr && value->sort == TomlValue::Sort::kList && value->items.empty()) {
      reader.problem(key, Code::kBadInput, "this list is empty");
    }
  }
}

void check_ends(TableReader& reader, const WrittenRule& rule) {
  check_names(reader, "ends", rule.ends, {"front", "rear"}, "end");
  if (reader.has("ends") && rule.ends.empty()) {
    reader.problem("ends", Code::kBadInput, "write [\"front\", \"rear\"], or leave it out");
  }
}

}  // namespace

Severity read_severity(TableReader& reader) {
  const std::string word = reader.text("severity");
  std::vector<std::string> words;
  for (const Severity severity : kSeverities) {
    if (word_of(severity) == word) return severity;
    words.emplace_back(word_of(severity));
  }
  if (!word.empty()) {
    reader.problem("severity", Code::kBadInput, "this is no severity" + meant(word, words), word);
  }
  return Severity::kFit;
}

Place WrittenRule::place(const std::string& key, std::string value) const {
  const auto at = lines.find(key);
  return {.file = file,
          .line = at == lines.end() ? line : at->second,
          .field = key,
          .value = std::move(value)};
}

std::optional<WrittenRule> read_written_rule(TradeLoading& loading, TableReader& reader) {
  const std::size_t before = loading.problems.size();
  WrittenRule rule;
  rule.id = reader.text("id");
  rule.severity = read_severity(reader);
  const ShapeRow* shape = read_shape(reader);
  rule.file = reader.file();
  rule.line = reader.line();
  read_fields(loading, reader, rule);
  reader.finish();
  check_ends(reader, rule);
  if (shape != nullptr) {
    rule.shape = shape->shape;
    check_shape_fields(reader, *shape);
    check_counts(reader, rule);
  }
  for (const std::string key : {"left", "right", "low", "high", "terms", "slots", "words", "offset",
                                "tolerance", "share", "table", "compute", "if", "sentence",
                                "ends"}) {
    if (reader.has(key)) rule.given.insert(key);
    rule.lines[key] = reader.line_of(key);
  }
  // Names are looked up even after most problems, so that a file is mended in one go; but a rule
  // whose form is wrong would only give follow-on problems.
  const bool form_is_good = shape != nullptr && loading.problems.size() == before;
  return form_is_good ? std::optional(std::move(rule)) : std::nullopt;
}

}  // namespace rollwright::trade

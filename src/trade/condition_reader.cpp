#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/operand_reader.hpp"

namespace rollwright::trade {
namespace {

/// "*filled" needs no words; `is = ["no"]` turns it round, as `is_not = ["yes"]` does.
std::optional<Condition> read_filled(TradeLoading& loading, const WrittenCondition& written,
                                     Condition condition) {
  if (written.words.empty()) {
    if (!written.has_is && !written.has_is_not) return condition;
  } else if (written.words.size() == 1 && (written.words[0] == "yes" || written.words[0] == "no")) {
    condition.negated = (written.words[0] == "no") != written.has_is_not;
    condition.words.clear();
    return condition;
  }
  loading.problem(Code::kBadInput, "*filled is answered with is = [\"yes\"] or is = [\"no\"]",
                  written.place);
  return std::nullopt;
}

}  // namespace

WrittenCondition written_condition(TradeLoading& loading, const TomlValue& table,
                                   const Place& place) {
  TableReader reader(table, place.file, loading.problems, place.field + ".");
  WrittenCondition written;
  written.that = reader.text("that");
  const std::vector<std::string> is = reader.texts("is");
  const std::vector<std::string> is_not = reader.texts("is_not");
  written.has_is = reader.has("is");
  written.has_is_not = reader.has("is_not");
  reader.finish();
  if (written.has_is && written.has_is_not) {
    reader.problem("is_not", Code::kContradiction,
                   "a condition has either `is` or `is_not`; write two conditions");
  }
  written.words = written.has_is ? is : is_not;
  written.place = {
      .file = place.file, .line = table.line, .field = place.field, .value = written.that};
  return written;
}

std::vector<WrittenCondition> written_conditions(TradeLoading& loading, TableReader& reader,
                                                 std::string_view key) {
  std::vector<WrittenCondition> conditions;
  for (const TomlValue* table : reader.tables(key)) {
    conditions.push_back(written_condition(loading, *table, reader.place(key)));
  }
  return conditions;
}

std::optional<Condition> read_condition(TradeLoading& loading, const WrittenCondition& written) {
  if (written.that.empty() || (written.has_is && written.has_is_not)) return std::nullopt;
  if (!is_reference(written.that)) {
    loading.problem(Code::kBadInput, "a condition asks a fact, as in \"motor.placement\"",
                    written.place);
    return std::nullopt;
  }
  const std::optional<ReadOperand> read = read_operand(loading, written.that, written.place);
  if (!read) return std::nullopt;
  Condition condition{
      .operand = read->operand, .words = written.words, .negated = written.has_is_not};
  if (read->filled) return read_filled(loading, written, std::move(condition));
  if (!read->certain) return condition;
  if (read->is_number()) {
    loading.problem(Code::kBadInput,
                    "conditions ask words and flags; a number is compared by a rule's left and "
                    "right",
                    written.place);
    return std::nullopt;
  }
  if (written.words.empty()) {
    loading.problem(Code::kBadInput,
                    read->is_flag() ? "say what it is: is = [\"yes\"] or is = [\"no\"]"
                                    : "say which words it is: is = [\"...\"]",
                    written.place);
    return std::nullopt;
  }
  check_words(loading, *read, written.words, written.place);
  return condition;
}

void check_words(TradeLoading& loading, const ReadOperand& operand,
                 const std::vector<std::string>& words, const Place& place) {
  const std::vector<std::string> flags = {"yes", "no"};
  const std::vector<std::string>& allowed = operand.is_flag() ? flags : operand.choices;
  if (!operand.certain || allowed.empty()) return;
  for (const std::string& word : words) {
    if (std::ranges::count(allowed, word) > 0) continue;
    Place here = place;
    here.value = word;
    loading.problem(
        Code::kBadInput,
        fmt::format("{} is never that{}", operand.operand.attribute, meant(word, allowed)), here);
  }
}

}  // namespace rollwright::trade

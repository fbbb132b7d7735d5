#include <algorithm>

#include <fmt/format.h>

#include "trade/question.hpp"
#include "trade/skills.hpp"
#include "trade/written_rule.hpp"

namespace rollwright::trade {
namespace {

/// Questions are read aloud as they stand: nothing is filled in.
std::string plain_words(TableReader& reader, std::string_view key) {
  std::string text = reader.text(key);
  if (text.find_first_of("{}") != std::string::npos) {
    reader.problem(key, Code::kBadInput,
                   "nothing is filled into a question; write it without braces", text);
  }
  return text;
}

std::vector<SlotId> read_slots(TradeLoading& loading, TableReader& reader) {
  const std::vector<std::string> names = reader.texts("slots");
  if (loading.is_read("slots.toml")) {
    std::vector<std::string> known;
    for (const Slot& slot : loading.trade.slots) known.push_back(slot.id.text);
    check_names(reader, "slots", names, known, "slot");
  }
  return {names.begin(), names.end()};
}

void refuse_id_of_a_rule(TradeLoading& loading, TableReader& reader, const std::string& id) {
  const auto same = std::ranges::find(loading.trade.rules, id, &Rule::id);
  if (same == loading.trade.rules.end()) return;
  reader.problem("id", Code::kConflict,
                 fmt::format("{}, line {}, has a rule of this id; findings are told apart by it",
                             same->file, same->line),
                 id);
}

Question read_question(TradeLoading& loading, TableReader& reader) {
  Question question{.id = reader.text("id"), .severity = read_severity(reader)};
  question.ask = plain_words(reader, "ask");
  question.if_no = plain_words(reader, "if_no");
  question.owner = reader.text("owner");
  question.on_the_bike = reader.flag_or("on_the_bike", false);
  question.slots = read_slots(loading, reader);
  for (const WrittenCondition& written : written_conditions(loading, reader, "if")) {
    if (auto read = read_condition(loading, written)) {
      question.conditions.push_back(std::move(*read));
    }
  }
  question.source = reader.text("source");
  question.file = reader.file();
  question.line = reader.line();
  reader.finish();
  if (!question.owner.empty()) {
    std::vector<std::string> owners;
    for (const Owner& owner : all_owners()) owners.push_back(owner.name);
    check_names(reader, "owner", {question.owner}, owners, "owner of questions");
  }
  refuse_id_of_a_rule(loading, reader, question.id);
  return question;
}

}  // namespace

void load_questions(TradeLoading& loading) {
  OnlyOnce once("question");
  loading.toml_file("questions.toml", "question", [&](TableReader& reader) {
    Question question = read_question(loading, reader);
    if (once.is_new(reader, question.id)) loading.trade.questions.push_back(std::move(question));
  });
}

}  // namespace rollwright::trade

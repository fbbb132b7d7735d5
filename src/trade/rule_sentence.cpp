#include "trade/rule_sentence.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/pseudo.hpp"

namespace rollwright::trade {
namespace {

/// Blanks without a dot that a rule of this shape can fill.
std::vector<std::string> blanks_of(const WrittenRule& written) {
  std::vector<std::string> blanks;
  const bool answers = written.shape == RuleShape::kSum || written.shape == RuleShape::kComputed;
  const bool limits = written.given.contains("low") && written.given.contains("high");
  if (written.given.contains("left") || answers) blanks.emplace_back("left");
  if (written.given.contains("right") || limits || written.shape == RuleShape::kOneOf) {
    blanks.emplace_back("right");
  }
  for (const char* limit : {"low", "high"}) {
    if (written.given.contains(limit)) blanks.emplace_back(limit);
  }
  if (written.shape == RuleShape::kComputed) blanks.emplace_back("answer");
  if (written.shape == RuleShape::kSum) blanks.emplace_back("sum");
  return blanks;
}

void check_part(TradeLoading& loading, const std::string& slot, const Place& place) {
  if (!loading.is_read("slots.toml") || find_slot(loading.trade, SlotId(slot)) != nullptr) return;
  std::vector<std::string> known;
  for (const Slot& each : loading.trade.slots) known.push_back(each.id.text);
  loading.problem(Code::kBadInput, fmt::format("no slot is called {}{}", slot, meant(slot, known)),
                  place);
}

void check_name(TradeLoading& loading, const WrittenRule& written, const std::string& name) {
  const Place place = written.place("sentence", "{" + name + "}");
  const std::vector<std::string> blanks = blanks_of(written);
  if (std::ranges::count(blanks, name) > 0) return;
  if (name.starts_with("part:")) return check_part(loading, name.substr(5), place);
  if (is_reference(name)) {
    const auto read = read_operand(loading, name, place);
    // A sentence may show only what has a value.
    if (read && (read->filled || read->operand.slot.text == "*")) {
      loading.problem(Code::kBadInput, "a sentence shows facts; this has no value to show", place);
    }
    return;
  }
  loading.problem(Code::kBadInput,
                  fmt::format("this rule's sentence may hold {{slot.attribute}}, {{part:slot}} and "
                              "{{{}}}",
                              join(blanks, "}, {")),
                  place);
}

}  // namespace

void check_sentence(TradeLoading& loading, const WrittenRule& written) {
  const std::string& sentence = written.sentence;
  std::size_t at = 0;
  while ((at = sentence.find_first_of("{}", at)) != std::string::npos) {
    const std::size_t close = sentence.find_first_of("{}", at + 1);
    if (sentence[at] == '}' || close == std::string::npos || sentence[close] == '{') {
      loading.problem(Code::kBadInput, "this brace has no partner",
                      written.place("sentence", sentence.substr(at, 20)));
      return;
    }
    check_name(loading, written, sentence.substr(at + 1, close - at - 1));
    at = close + 1;
  }
}

}  // namespace rollwright::trade

#include <algorithm>
#include <functional>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/written_rule.hpp"

namespace rollwright::trade {
namespace {

void replace_all(std::string& text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

/// Every text in which an end or a variant may stand.
void for_each_text(WrittenRule& rule, const std::function<void(std::string&)>& change) {
  for (auto* texts : {&rule.left, &rule.terms, &rule.slots}) {
    for (std::string& text : *texts) change(text);
  }
  for (auto* text : {&rule.right, &rule.low, &rule.high}) {
    if (*text) change(**text);
  }
  for (WrittenCondition& condition : rule.conditions) {
    change(condition.that);
    change(condition.place.value);
  }
  change(rule.sentence);
}

WrittenRule replaced(const WrittenRule& rule, const std::string& from, const std::string& to) {
  WrittenRule copy = rule;
  for_each_text(copy, [&](std::string& text) { replace_all(text, from, to); });
  return copy;
}

/// "front_rim|front_wheel" of "front_rim|front_wheel.inner_width"; empty when there is no variant.
std::string variant_list(const std::string& operand) {
  if (!is_reference(operand)) return {};
  const std::string slot = operand.substr(0, operand.find('.'));
  return slot.find('|') == std::string::npos ? std::string{} : slot;
}

/// The first list of variants in an operand or condition; sentences follow their operands.
std::string first_variant_list(const WrittenRule& rule) {
  std::vector<std::string> operands = rule.left;
  operands.insert(operands.end(), rule.terms.begin(), rule.terms.end());
  for (const auto& text : {rule.right, rule.low, rule.high}) {
    if (text) operands.push_back(*text);
  }
  for (const WrittenCondition& condition : rule.conditions) operands.push_back(condition.that);
  for (const std::string& operand : operands) {
    if (std::string list = variant_list(operand); !list.empty()) return list;
  }
  return {};
}

void add_end(WrittenRule& rule, const std::string& end) {
  rule.end += (rule.end.empty() ? "" : " ") + end;
}

void make_variants(TradeLoading& loading, WrittenRule rule, std::vector<WrittenRule>& out) {
  const std::string list = first_variant_list(rule);
  if (list.empty()) {
    out.push_back(std::move(rule));
    return;
  }
  const std::vector<std::string> slots = split(list, '|');
  const std::set<std::string> different(slots.begin(), slots.end());
  if (different.size() != slots.size() || different.contains("")) {
    loading.problem(Code::kBadInput,
                    "variants are different slots parted by |, as in "
                    "\"front_rim|front_wheel.inner_width\"",
                    rule.place("left", list));
    return;
  }
  for (const std::string& slot : slots) {
    WrittenRule variant = replaced(rule, list, slot);
    add_end(variant, slot);
    make_variants(loading, std::move(variant), out);
  }
}

bool mentions_end(WrittenRule rule) {
  bool mentioned = false;
  for_each_text(rule, [&](std::string& text) {
    mentioned = mentioned || text.find("{end}") != std::string::npos;
  });
  return mentioned;
}

}  // namespace

std::vector<WrittenRule> made_out(TradeLoading& loading, const WrittenRule& rule) {
  std::vector<WrittenRule> out;
  if (rule.ends.empty() != !mentions_end(rule)) {
    loading.problem(Code::kContradiction,
                    rule.ends.empty() ? "{end} stands for an end, but the rule has no `ends`"
                                      : "nothing in the rule says {end}, so both ends would be the "
                                        "same rule",
                    rule.place("ends"));
    return out;
  }
  if (rule.ends.empty()) make_variants(loading, rule, out);
  for (const std::string& end : rule.ends) {
    WrittenRule at_end = replaced(rule, "{end}", end);
    at_end.end = end;
    make_variants(loading, std::move(at_end), out);
  }
  return out;
}

}  // namespace rollwright::trade

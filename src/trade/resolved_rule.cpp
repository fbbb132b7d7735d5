#include <limits>

#include "trade/rule_sentence.hpp"
#include "trade/shape_checks.hpp"
#include "trade/written_rule.hpp"

namespace rollwright::trade {
namespace {

/// Turns one written rule into a rule: reads its names, has its shape checked, fills it in.
class Resolver {
 public:
  Resolver(TradeLoading& loading, const WrittenRule& written)
      : loading_(loading), written_(written) {}

  std::optional<Rule> rule() {
    const std::size_t before = loading_.problems.size();
    rule_ = {.id = written_.id, .end = written_.end, .severity = written_.severity};
    rule_.shape = written_.shape;
    sides_.left = operands("left", written_.left);
    sides_.terms = operands("terms", written_.terms);
    sides_.right = operand("right", written_.right);
    sides_.low = operand("low", written_.low);
    sides_.high = operand("high", written_.high);
    if (complete_ && loading_.problems.size() == before) {
      check_shape(loading_, written_, sides_);
    }
    read_conditions();
    check_sentence(loading_, written_);
    if (!complete_ || loading_.problems.size() != before) return std::nullopt;
    fill_in();
    return std::move(rule_);
  }

 private:
  void problem(const std::string& key, Code code, std::string sentence, std::string value = {}) {
    loading_.problem(code, std::move(sentence), written_.place(key, std::move(value)));
  }

  std::vector<ReadOperand> operands(const std::string& key, const std::vector<std::string>& texts) {
    std::vector<ReadOperand> read;
    for (const std::string& text : texts) {
      if (auto one = read_operand(loading_, text, written_.place(key))) {
        read.push_back(std::move(*one));
        if (read.back().operand.slot.text != "*" || key == "terms") continue;
        problem(key, Code::kBadInput, "only the terms of a sum may ask all slots", text);
      } else {
        complete_ = false;
      }
    }
    return read;
  }

  std::optional<ReadOperand> operand(const std::string& key,
                                     const std::optional<std::string>& text) {
    if (!text) return std::nullopt;
    std::vector<ReadOperand> read = operands(key, {*text});
    return read.empty() ? std::nullopt : std::optional(std::move(read[0]));
  }

  void read_conditions() {
    for (const WrittenCondition& written : written_.conditions) {
      if (auto read = read_condition(loading_, written)) {
        rule_.conditions.push_back(std::move(*read));
      }
    }
  }

  void fill_in() {
    auto& [left, terms, right, low, high, offset, tolerance, share] = sides_;
    for (ReadOperand& read : left) rule_.left.push_back(std::move(read.operand));
    for (ReadOperand& read : terms) rule_.terms.push_back(std::move(read.operand));
    if (right) rule_.right.push_back(std::move(right->operand));
    if (low || high) {
      rule_.right.push_back(low ? std::move(low->operand) : Operand{.literal = -std::numeric_limits<double>::infinity()});
      rule_.right.push_back(high ? std::move(high->operand) : Operand{.literal = std::numeric_limits<double>::infinity()});
    }
    rule_.offset = offset;
    rule_.tolerance = tolerance;
    rule_.share = share;
    for (const std::string& slot : written_.slots) rule_.slots.emplace_back(slot);
    rule_.words = written_.words;
    rule_.table = written_.table;
    rule_.compute = written_.compute;
    rule_.sentence = written_.sentence;
    rule_.source = written_.source;
    rule_.file = written_.file;
    rule_.line = written_.line;
  }

  TradeLoading& loading_;
  const WrittenRule& written_;
  Rule rule_;
  RuleSides sides_;
  bool complete_ = true;  // false: an operand could not be read; a missing file may be the reason
};

}  // namespace

std::optional<Rule> resolved(TradeLoading& loading, const WrittenRule& written) {
  return Resolver(loading, written).rule();
}

}  // namespace rollwright::trade

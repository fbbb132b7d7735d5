#include "spec/generated_catalogue.hpp"

#include <algorithm>
#include <limits>
#include <set>

#include "base/random.hpp"
#include "spec/evaluate.hpp"

namespace rollwright::spec::testing {

namespace {

using trade::Operand;
using trade::RuleShape;
using trade::Verdict;

int below(Random& random, int count) {
  return static_cast<int>(random.below(static_cast<std::uint64_t>(count)));
}
bool chance(Random& random, double share) { return random.uniform() < share; }

const std::vector<std::string> kWords = {"a", "b", "c"};

trade::Fact fact(trade::Value value) {
  return {.standing = trade::Standing::kKnown, .value = std::move(value)};
}

class Generator {
 public:
  Generator(std::uint64_t seed, const CatalogueSize& size) : random_(seed), size_(size) {}

  Catalogue run() {
    add_attributes();
    add_slots();
    catalogue_.order.facts["load"] = fact(static_cast<double>(below(random_, 6)));
    if (chance(random_, 0.8)) catalogue_.order.facts["w"] = fact(kWords[at(below(random_, 3))]);
    const int rules = between(size_.least_rules, size_.most_rules);
    for (int i = 0; i < rules; ++i) add_rule(i);
    return std::move(catalogue_);
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  int between(int least, int most) { return least + below(random_, most - least + 1); }

  void add_attributes() {
    const auto add = [&](const std::string& id, trade::AttributeType type) {
      catalogue_.trade.attributes[id] = {.id = id, .name = "the " + id, .type = type};
    };
    add("n", trade::AttributeType::kNumber);
    add("m", trade::AttributeType::kNumber);
    add("mass", trade::AttributeType::kNumber);
    add("w", trade::AttributeType::kWord);
    add("ws", trade::AttributeType::kWords);
    add("f", trade::AttributeType::kFlag);
  }

  void add_slots() {
    trade::BuildTemplate build{.id = "T", .name = "test build"};
    slot_count_ = between(size_.least_slots, size_.most_slots);
    for (int s = 0; s < slot_count_; ++s) {
      const std::string name = "s" + std::to_string(s);
      const trade::KindId kind("K" + std::to_string(s));
      catalogue_.trade.slots.push_back({.id = trade::SlotId(name),
                                        .name = "slot " + std::to_string(s),
                                        .kinds = {kind},
                                        .quantity = chance(random_, 0.2) ? 2 : 1});
      (chance(random_, 0.3) ? build.optional : build.required).emplace_back(name);
      add_parts(kind, name);
    }
    catalogue_.trade.templates["T"] = build;
  }

  void add_parts(const trade::KindId& kind, const std::string& slot) {
    const int count = between(1, size_.most_parts);
    for (int p = 0; p < count; ++p) {
      trade::Part part{.id = trade::PartId(slot + "p" + std::to_string(p)),
                       .kind = kind,
                       .name = "part " + slot + std::to_string(p),
                       .gone = chance(random_, 0.06)};
      const auto state = [&](const std::string& id, trade::Value value) {
        if (!chance(random_, size_.not_known)) part.facts[id] = fact(std::move(value));
      };
      state("n", static_cast<double>(between(1, 4)));
      state("m", static_cast<double>(between(1, 4)));
      state("mass", static_cast<double>(between(0, 3)));
      state("w", kWords[at(below(random_, 3))]);
      std::vector<std::string> words;
      for (const std::string& word : kWords) {
        if (chance(random_, 0.5)) words.push_back(word);
      }
      state("ws", words);
      state("f", chance(random_, 0.5));
      catalogue_.parts.push_back(std::move(part));
    }
  }

  trade::SlotId slot() {
    return trade::SlotId("s" + std::to_string(below(random_, slot_count_)));
  }
  Operand operand(const std::string& attribute) { return {slot(), attribute, {}}; }
  Operand number() { return operand(chance(random_, 0.5) ? "n" : "m"); }
  Operand literal(double value) { return {{}, "", value}; }
  Operand number_or_literal(double value) {
    return chance(random_, 0.3) ? literal(value) : number();
  }

  void add_rule(int index) {
    trade::Rule rule{.id = "R" + std::to_string(index),
                     .severity = static_cast<trade::Severity>(below(random_, 4)),
                     .shape = static_cast<RuleShape>(below(random_, 9)),
                     .sentence = "{left} against {right}",
                     .source = "invented"};
    give_operands(rule);
    if (chance(random_, 0.3)) rule.conditions.push_back(condition());
    catalogue_.trade.rules.push_back(std::move(rule));
  }

  trade::Condition condition() {
    const bool negated = chance(random_, 0.3);
    switch (below(random_, 4)) {
      case 0: return {operand("*filled"), {}, negated};
      case 1: return {operand("f"), {"yes"}, negated};
      case 2: return {{trade::SlotId("order"), "w", {}}, {"a", "b"}, negated};
      default: return {operand("w"), {kWords[at(below(random_, 3))], "a"}, negated};
    }
  }

  void give_operands(trade::Rule& rule) {
    const double loose = size_.looseness;
    switch (rule.shape) {
      case RuleShape::kSame:
        rule.tolerance = chance(random_, loose) ? 1 : 0;
        rule.left = {number()};
        rule.right = {number()};
        if (chance(random_, 0.4)) rule.left = {operand("w")}, rule.right = {operand("ws")};
        return;
      case RuleShape::kOneOf:
        rule.left = {operand("w")};
        if (chance(random_, 0.5)) rule.right = {operand("ws")};
        if (rule.right.empty()) rule.words = {"a", "b"};
        return;
      case RuleShape::kAtLeast:
      case RuleShape::kAtMost:
        rule.left = {number()};
        rule.right = {number_or_literal(2)};
        rule.offset = rule.shape == RuleShape::kAtLeast ? 2 * loose : -2 * loose;
        return;
      case RuleShape::kWithin:
        rule.left = {number()};
        rule.right = {number_or_literal(1), number_or_literal(3)};
        if (chance(random_, 0.4)) rule.right.pop_back(), rule.tolerance = 2 * loose;
        return;
      case RuleShape::kPairTable: return give_table(rule);
      case RuleShape::kNeeds:
        rule.left = {chance(random_, 0.5) ? operand("f") : operand("*filled")};
        if (chance(random_, 0.7)) rule.slots = {slot()};
        if (rule.slots.empty() || chance(random_, 0.4)) rule.right = {operand("f")};
        return;
      case RuleShape::kSum: return give_sum(rule);
      case RuleShape::kComputed: return give_calculation(rule);
    }
  }

  void give_table(trade::Rule& rule) {
    trade::PairTable table{.id = "T" + rule.id,
                           .columns = {"x", "y"},
                           .numeric = {false, true},
                           .source = "invented"};
    const int rows = between(2, 5);
    for (int i = 0; i < rows; ++i) {
      const double low = between(1, 4);
      trade::TableRow row{.cells = {kWords[at(below(random_, 3))], low},
                          .ranges = {{0, 0}, {low, low + below(random_, 3)}},
                          .verdict = static_cast<Verdict>(below(random_, 5)),
                          .note = "note",
                          .adapter = "adapter"};
      if (chance(random_, 0.25)) row.cells[0] = std::string("*");
      if (chance(random_, 0.25)) row.cells[1] = std::string("*");
      table.rows.push_back(row);
    }
    rule.left = {operand("w"), number()};
    rule.table = table.id;
    catalogue_.trade.tables[table.id] = std::move(table);
  }

  void give_sum(trade::Rule& rule) {
    rule.right = {chance(random_, 0.5) ? number() : literal(between(3, 9))};
    if (chance(random_, 0.5)) {
      rule.terms = {{trade::SlotId("*"), "mass", {}}, {trade::SlotId("order"), "load", {}}};
      rule.offset = -6 * size_.looseness;
    } else {
      for (int i = between(2, 5); i > 0; --i) rule.terms.push_back(operand("m"));
      rule.offset = -8 * size_.looseness;
    }
  }

  void give_calculation(trade::Rule& rule) {
    const double infinite = std::numeric_limits<double>::infinity();
    if (chance(random_, 0.5)) {
      rule.compute = "primary_ratio";
      rule.left = {number(), number()};
      rule.right = {literal(0.5), literal(chance(random_, 0.5) ? 2 : infinite)};
    } else {
      rule.compute = "derailleur_capacity";
      rule.left = {number(), number(), number(), number()};
      rule.right = {literal(-infinite), number_or_literal(1)};
    }
  }

  Random random_;
  const CatalogueSize size_;
  Catalogue catalogue_;
  int slot_count_ = 0;
};

bool matches(const Selection& selection, const std::vector<trade::SlotId>& slots,
             const Enumeration::Row& row, const std::set<trade::PartId>& gone) {
  // Each kind of these catalogues has one slot, so that a part tells its slot.
  for (std::size_t i = 0; i < slots.size(); ++i) {
    const auto chosen = selection.find(slots[i]);
    if (chosen == selection.end()) {
      if (gone.contains(row.parts[i])) return false;
    } else if (chosen->second != row.parts[i]) {
      return false;
    }
  }
  return true;
}

}  // namespace

Catalogue generated(std::uint64_t seed, const CatalogueSize& size) {
  return Generator(seed, size).run();
}

Selection random_selection(const Catalogue& catalogue, std::uint64_t seed, double decided) {
  Random random(seed);
  Selection selection;
  for (const trade::Slot& slot : catalogue.trade.slots) {
    std::vector<trade::PartId> candidates;
    for (const trade::Part& part : catalogue.parts) {
      if (part.kind == slot.kinds[0]) candidates.push_back(part.id);
    }
    const auto& optional = catalogue.build().optional;
    if (std::ranges::find(optional, slot.id) != optional.end()) candidates.emplace_back();
    if (chance(random, decided)) {
      selection[slot.id] = candidates[random.below(candidates.size())];
    }
  }
  return selection;
}

Enumeration::Enumeration(const Catalogue& catalogue) : catalogue_(catalogue) {
  std::vector<std::vector<const trade::Part*>> candidates;
  for (const trade::Slot& slot : catalogue.trade.slots) {
    slots_.push_back(slot.id);
    auto& own = candidates.emplace_back();
    for (const trade::Part& part : catalogue.parts) {
      if (part.kind == slot.kinds[0]) own.push_back(&part);
    }
    const auto& optional = catalogue.build().optional;
    if (std::ranges::find(optional, slot.id) != optional.end()) own.push_back(nullptr);
  }
  Bike bike{.order = catalogue.order, .rider = catalogue.rider};
  Row row{.parts = std::vector<trade::PartId>(slots_.size())};
  const auto place = [&](auto&& self, std::size_t slot) -> void {
    if (slot == slots_.size()) {
      row.verdicts.clear();
      for (const trade::Rule& rule : catalogue.trade.rules) {
        row.verdicts.push_back(evaluate(catalogue.trade, rule, bike).verdict);
      }
      rows_.push_back(row);
      return;
    }
    for (const trade::Part* part : candidates[slot]) {
      bike.parts.erase(slots_[slot]);
      if (part != nullptr) bike.parts[slots_[slot]] = part;
      row.parts[slot] = part != nullptr ? part->id : trade::PartId();
      self(self, slot + 1);
    }
    bike.parts.erase(slots_[slot]);
  };
  place(place, 0);
}

Verdict Enumeration::best(const Selection& selection, const Selection& named,
                          const std::vector<std::string>* rules) const {
  std::set<trade::PartId> gone;
  for (const trade::Part& part : catalogue_.parts) {
    const bool is_named = std::ranges::any_of(
        named, [&](const auto& choice) { return choice.second == part.id; });
    if (part.gone && !is_named) gone.insert(part.id);
  }
  Verdict best = Verdict::kDoesNotFit;
  for (const Row& row : rows_) {
    if (!matches(selection, slots_, row, gone)) continue;
    Verdict worst = Verdict::kFits;
    for (std::size_t r = 0; r < row.verdicts.size(); ++r) {
      const bool counts =
          rules == nullptr ||
          std::ranges::find(*rules, catalogue_.trade.rules[r].id) != rules->end();
      if (counts) worst = std::max(worst, row.verdicts[r]);
    }
    best = std::min(best, worst);
  }
  return best;
}

}  // namespace rollwright::spec::testing

#include "spec/trials/generated_catalogue.hpp"

#include <algorithm>
#include <limits>

#include "base/random.hpp"

namespace rollwright::spec::testing {

namespace {

using trade::Operand;
using trade::RuleShape;
using trade::Verdict;

int below(Random& random, int count) {
  return static_cast<int>(random.below(static_cast<std::uint64_t>(count)));
}
bool chance(Random& random, double share) { return random.uniform() < share; }

constexpr Day kFirstDay{std::chrono::year(2026) / std::chrono::December / 1};
const std::vector<std::string> kWords = {"a", "b", "c"};

trade::Fact fact(trade::Value value) {
  return {.standing = trade::Standing::kKnown, .value = std::move(value)};
}

class Generator {
 public:
  Generator(std::uint64_t seed, const CatalogueSize& size)
      : random_(seed), of_purchase_(Random(seed).split(1)), size_(size) {}

  Catalogue run() {
    add_attributes();
    add_slots();
    catalogue_.order.facts["load"] = fact(static_cast<double>(below(random_, 6)));
    if (chance(random_, 0.8)) catalogue_.order.facts["w"] = fact(kWords[at(below(random_, 3))]);
    const int rules = between(size_.least_rules, size_.most_rules);
    for (int i = 0; i < rules; ++i) add_rule(i);
    if (chance(of_purchase_, size_.heavy_sums)) add_limit_of_mass(rules);
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
    add("permitted", trade::AttributeType::kNumber);
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
      const bool optional = chance(random_, 0.3) && s > 0;  // some part is on every bike
      (optional ? build.optional : build.required).emplace_back(name);
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
      state("mass", between(1, 12) * 250 / 1000.0);  // whole grams, with ties
      state("w", kWords[at(below(random_, 3))]);
      std::vector<std::string> words;
      for (const std::string& word : kWords) {
        if (chance(random_, 0.5)) words.push_back(word);
      }
      state("ws", words);
      state("f", chance(random_, 0.5));
      buy(part);
      catalogue_.parts.push_back(std::move(part));
    }
  }

  /// Prices and days with ties. Drawn apart, so that the rules of a catalogue do not hang on them.
  void buy(trade::Part& part) {
    part.price = Money{950 + 25 * below(of_purchase_, 40)};
    if (chance(of_purchase_, size_.no_arrival)) return;
    catalogue_.arrivals[part.id] = kFirstDay + std::chrono::days(below(of_purchase_, 9));
  }

  /// As the permitted total mass of a frame: every slot's mass and the load against one part's
  /// limit. Half of them ask only for a CLAIM, some lean on a condition.
  void add_limit_of_mass(int index) {
    trade::Rule rule{.id = "R" + std::to_string(index),
                     .severity = chance(of_purchase_, 0.3) ? trade::Severity::kClaim
                                                           : trade::Severity::kStop,
                     .shape = RuleShape::kSum,
                     .right = {{trade::SlotId("s0"), "permitted", {}}},
                     .terms = {{trade::SlotId("*"), "mass", {}},
                               {trade::SlotId("order"), "load", {}}},
                     .sentence = "{sum} is more than {right}.",
                     .source = "invented"};
    if (chance(of_purchase_, 0.3)) rule.conditions.push_back(condition());
    const int usual = 2000 * slot_count_;
    for (trade::Part& part : catalogue_.parts) {
      if (part.kind != trade::KindId("K0") || chance(of_purchase_, size_.not_known)) continue;
      const int grams = usual + 5000 * below(of_purchase_, 2) - 500 * below(of_purchase_, 6);
      part.facts["permitted"] = fact(grams / 1000.0);
    }
    catalogue_.trade.rules.push_back(std::move(rule));
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
  Random of_purchase_;
  const CatalogueSize size_;
  Catalogue catalogue_;
  int slot_count_ = 0;
};

bool is_optional(const Catalogue& catalogue, const trade::SlotId& slot) {
  const auto& optional = catalogue.build().optional;
  return std::ranges::find(optional, slot) != optional.end();
}

}  // namespace

Catalogue generated(std::uint64_t seed, const CatalogueSize& size) {
  return Generator(seed, size).run();
}

Catalogue generated_small(std::uint64_t& seed, long long most_bikes) {
  while (true) {
    ++seed;
    Catalogue catalogue = generated(seed, {.looseness = static_cast<double>(seed % 5) / 4});
    long long bikes = 1;
    for (const trade::Slot* slot : slots_of(catalogue)) {
      bikes *= std::ssize(candidates_for(catalogue, slot->id));
    }
    if (bikes <= most_bikes) return catalogue;
  }
}

std::vector<const trade::Slot*> slots_of(const Catalogue& catalogue) {
  std::vector<const trade::Slot*> slots;
  const auto& required = catalogue.build().required;
  for (const trade::Slot& slot : catalogue.trade.slots) {
    const bool is_required = std::ranges::find(required, slot.id) != required.end();
    if (is_required || is_optional(catalogue, slot.id)) slots.push_back(&slot);
  }
  return slots;
}

std::vector<const trade::Part*> candidates_for(const Catalogue& catalogue,
                                               const trade::SlotId& slot) {
  const auto kinds = trade::kinds_for(catalogue.trade, catalogue.build(), slot);
  std::vector<const trade::Part*> candidates;
  for (const trade::Part& part : catalogue.parts) {
    if (std::ranges::find(kinds, part.kind) != kinds.end()) candidates.push_back(&part);
  }
  if (is_optional(catalogue, slot)) candidates.push_back(nullptr);
  return candidates;
}

Selection random_selection(const Catalogue& catalogue, std::uint64_t seed, double decided) {
  Random random(seed);
  Selection selection;
  for (const trade::Slot* slot : slots_of(catalogue)) {
    const auto candidates = candidates_for(catalogue, slot->id);
    if (!chance(random, decided)) continue;
    const trade::Part* part = candidates[random.below(candidates.size())];
    selection[slot->id] = part != nullptr ? part->id : trade::PartId();
  }
  return selection;
}

}  // namespace rollwright::spec::testing

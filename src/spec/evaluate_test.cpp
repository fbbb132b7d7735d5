#include "spec/evaluate.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "spec/check.hpp"
#include "spec/trials/generated_catalogue.hpp"
#include "trade/order_facts.hpp"

namespace rollwright::spec {
namespace {

using trade::Operand;
using trade::Rule;
using trade::RuleShape;
using trade::Severity;
using trade::SlotId;
using trade::Value;
using trade::Verdict;

constexpr double kInfinite = std::numeric_limits<double>::infinity();

Operand of(const std::string& slot, const std::string& attribute) {
  return {SlotId(slot), attribute, {}};
}
Operand literal(Value value) { return {{}, "", std::move(value)}; }

/// A bench with two slots, x and y, whose parts state whatever a test says.
class Bench : public ::testing::Test {
 protected:
  Bench() {
    for (const char* slot : {"x", "y", "z"}) {
      trade_.slots.push_back({.id = SlotId(slot), .name = std::string("slot ") + slot});
      parts_[slot] = {.id = trade::PartId(slot), .name = std::string("Part ") + slot};
    }
    trade_.attributes["n"] = {.id = "n",
                              .name = "width",
                              .type = trade::AttributeType::kNumber,
                              .dimension = Dimension::kLength,
                              .unit = "mm"};
    trade_.attributes["w"] = {.id = "w", .name = "standard"};
  }

  void state(const std::string& slot, const std::string& attribute, Value value) {
    parts_[slot].facts[attribute] = {.standing = trade::Standing::kKnown,
                                     .value = std::move(value)};
    fill(slot);
  }
  void fill(const std::string& slot) { bike_.parts[SlotId(slot)] = &parts_[slot]; }
  void empty(const std::string& slot) { bike_.parts.erase(SlotId(slot)); }

  /// Verdict with the two facts; an absent value is not known.
  Verdict with(const Rule& rule, std::optional<Value> x, std::optional<Value> y) {
    for (const char* slot : {"x", "y"}) {
      parts_[slot].facts.clear();
      fill(slot);
    }
    if (x) state("x", "n", *x);
    if (y) state("y", "n", *y);
    return evaluate(trade_, rule, bike_).verdict;
  }

  static Rule pair(RuleShape shape) {
    return {.id = "R",
            .shape = shape,
            .left = {of("x", "n")},
            .right = {of("y", "n")},
            .sentence = "{part:x} measures {left}, {part:y} takes {right}."};
  }

  trade::Trade trade_;
  std::map<std::string, trade::Part> parts_;
  Bike bike_;
};

using Words = std::vector<std::string>;

TEST_F(Bench, SameComparesNumbersWithinToleranceAndWordsBySharing) {
  Rule rule = pair(RuleShape::kSame);
  EXPECT_EQ(with(rule, 28.6, 28.6), Verdict::kFits);
  EXPECT_EQ(with(rule, 28.6, 28.7), Verdict::kDoesNotFit);
  rule.tolerance = 0.1;
  EXPECT_EQ(with(rule, 28.6, 28.7), Verdict::kFits);
  EXPECT_EQ(with(rule, 28.6, 28.71), Verdict::kDoesNotFit);
  EXPECT_EQ(with(rule, std::nullopt, 28.7), Verdict::kNotKnown);
  EXPECT_EQ(with(rule, 28.7, std::nullopt), Verdict::kNotKnown);
  EXPECT_EQ(with(rule, Words{"IS", "PM"}, Words{"PM", "FM"}), Verdict::kFits);
  EXPECT_EQ(with(rule, Words{"IS"}, "IS"), Verdict::kFits);
  EXPECT_EQ(with(rule, "IS", "PM"), Verdict::kDoesNotFit);
  EXPECT_EQ(with(rule, true, true), Verdict::kFits);
  EXPECT_EQ(with(rule, true, false), Verdict::kDoesNotFit);
  EXPECT_EQ(with(rule, "IS", 28.6), Verdict::kNotKnown) << "a word with a number is no fit";
}

TEST_F(Bench, OneOfTakesTheWordsOfTheOtherPartOrOfTheRule) {
  Rule rule = pair(RuleShape::kOneOf);
  EXPECT_EQ(with(rule, "b", Words{"a", "b"}), Verdict::kFits);
  EXPECT_EQ(with(rule, "c", Words{"a", "b"}), Verdict::kDoesNotFit);
  EXPECT_EQ(with(rule, "b", std::nullopt), Verdict::kNotKnown);
  rule.right.clear();
  rule.words = {"a", "622"};
  EXPECT_EQ(with(rule, "a", std::nullopt), Verdict::kFits);
  EXPECT_EQ(with(rule, 622.0, std::nullopt), Verdict::kFits);
  EXPECT_EQ(with(rule, 635.0, std::nullopt), Verdict::kDoesNotFit);
  EXPECT_EQ(with(rule, std::nullopt, std::nullopt), Verdict::kNotKnown);
}

TEST_F(Bench, AtLeastAndAtMostAddTheOffsetToTheLeft) {
  Rule least = pair(RuleShape::kAtLeast);
  least.offset = 3;  // as a steerer may end 3 mm below the top of the stem
  EXPECT_EQ(with(least, 197.0, 200.0), Verdict::kFits);
  EXPECT_EQ(with(least, 196.9, 200.0), Verdict::kDoesNotFit);
  Rule most = pair(RuleShape::kAtMost);
  most.offset = 8;  // as a guard is wider than its tyre
  EXPECT_EQ(with(most, 42.0, 50.0), Verdict::kFits);
  EXPECT_EQ(with(most, 42.1, 50.0), Verdict::kDoesNotFit);
  for (Rule* rule : {&least, &most}) {
    EXPECT_EQ(with(*rule, std::nullopt, 50.0), Verdict::kNotKnown);
    EXPECT_EQ(with(*rule, 42.0, std::nullopt), Verdict::kNotKnown);
  }
}

TEST_F(Bench, WithinTakesLimitsOrATolerance) {
  Rule rule = pair(RuleShape::kWithin);
  rule.tolerance = 1;
  EXPECT_EQ(with(rule, 50.0, 51.0), Verdict::kFits);
  EXPECT_EQ(with(rule, 50.0, 51.1), Verdict::kDoesNotFit);
  rule.right = {literal(10.0), of("y", "n")};
  EXPECT_EQ(with(rule, 10.0, 12.0), Verdict::kFits);
  EXPECT_EQ(with(rule, 12.0, 12.0), Verdict::kFits);
  EXPECT_EQ(with(rule, 12.1, 12.0), Verdict::kDoesNotFit);
  EXPECT_EQ(with(rule, 9.9, std::nullopt), Verdict::kDoesNotFit) << "below the known limit";
  EXPECT_EQ(with(rule, 11.0, std::nullopt), Verdict::kNotKnown);
  EXPECT_EQ(with(rule, std::nullopt, 12.0), Verdict::kNotKnown);
}

TEST_F(Bench, PairTableGoesByTheFirstRowThatMatches) {
  trade_.tables["t"] = {.columns = {"a", "b"}, .numeric = {false, true}};
  trade_.tables["t"].rows = {
      {.cells = {"IS", 160.0}, .ranges = {{0, 0}, {160, 160}}, .verdict = Verdict::kFits},
      {.cells = {"PM", 160.0},
       .ranges = {{0, 0}, {140, 180}},
       .verdict = Verdict::kFitsWith,
       .adapter = "post adapter +20"},
      {.cells = {"FM", "*"}, .ranges = {{0, 0}, {0, 0}}, .verdict = Verdict::kNotKnown},
      {.cells = {"*", 203.0},
       .ranges = {{0, 0}, {203, 203}},
       .verdict = Verdict::kFitsWithCare,
       .note = "check the fork's print"},
  };
  Rule rule = pair(RuleShape::kPairTable);
  rule.table = "t";
  rule.left = {of("x", "n"), of("y", "n")};
  rule.right.clear();
  EXPECT_EQ(with(rule, "IS", 160.0), Verdict::kFits);
  EXPECT_EQ(with(rule, "PM", 150.0), Verdict::kFitsWith);
  EXPECT_EQ(evaluate(trade_, rule, bike_).adapter, "post adapter +20");
  EXPECT_EQ(with(rule, "FM", std::nullopt), Verdict::kNotKnown);
  EXPECT_EQ(with(rule, "IS", 203.0), Verdict::kFitsWithCare);
  EXPECT_EQ(evaluate(trade_, rule, bike_).sentence, "check the fork's print");
  EXPECT_EQ(with(rule, "IS", 180.0), Verdict::kDoesNotFit) << "no row";
  EXPECT_EQ(with(rule, std::nullopt, 160.0), Verdict::kNotKnown);
  EXPECT_EQ(with(rule, std::nullopt, 203.0), Verdict::kNotKnown) << "it may be FM";
  EXPECT_EQ(with(rule, "QM", 203.0), Verdict::kFitsWithCare) << "the row for any mount";
}

TEST_F(Bench, NeedsIsMetByEverySlotOrByTheOtherPart) {
  Rule rule = pair(RuleShape::kNeeds);
  rule.slots = {SlotId("z")};
  empty("z");
  EXPECT_EQ(with(rule, false, false), Verdict::kFits) << "nothing is asked for";
  EXPECT_EQ(with(rule, true, true), Verdict::kFits);
  EXPECT_EQ(with(rule, true, false), Verdict::kDoesNotFit);
  EXPECT_EQ(evaluate(trade_, rule, bike_).missing_slots, std::vector{SlotId("z")});
  EXPECT_EQ(with(rule, true, std::nullopt), Verdict::kNotKnown);
  EXPECT_EQ(with(rule, std::nullopt, false), Verdict::kNotKnown);
  fill("z");
  EXPECT_EQ(with(rule, true, false), Verdict::kFits);
  rule.slots.clear();
  EXPECT_EQ(with(rule, true, false), Verdict::kDoesNotFit);
  empty("y");
  EXPECT_FALSE(evaluate(trade_, rule, bike_).applies);
}

TEST_F(Bench, SumTakesEmptySlotsAsNothingAndFailsEarly) {
  Rule rule = pair(RuleShape::kSum);
  rule.left.clear();
  rule.terms = {of("x", "n"), of("z", "n"), literal(5.0)};
  rule.sentence = "{sum} is more than {right}.";
  EXPECT_EQ(with(rule, 10.0, 15.0), Verdict::kFits);
  EXPECT_EQ(with(rule, 10.1, 15.0), Verdict::kDoesNotFit);
  EXPECT_EQ(evaluate(trade_, rule, bike_).sentence, "15.1 mm is more than 15 mm.");
  EXPECT_EQ(with(rule, std::nullopt, 15.0), Verdict::kNotKnown);
  EXPECT_EQ(with(rule, std::nullopt, 4.0), Verdict::kDoesNotFit) << "too much without it already";
  EXPECT_EQ(with(rule, 1.0, std::nullopt), Verdict::kNotKnown);
}

TEST_F(Bench, SumOverAllSlotsCountsEachTimesItsQuantity) {
  trade_.slots[0].quantity = 2;
  Rule rule = pair(RuleShape::kSum);
  rule.left.clear();
  rule.terms = {of("*", "n")};
  rule.right = {literal(25.0)};
  EXPECT_EQ(with(rule, 10.0, 5.0), Verdict::kFits);
  EXPECT_EQ(with(rule, 10.0, 5.1), Verdict::kDoesNotFit);
}

TEST_F(Bench, ComputedComparesTheAnswerWithItsLimits) {
  Rule rule = pair(RuleShape::kComputed);
  rule.compute = "primary_ratio";
  rule.left = {of("x", "n"), of("y", "n")};
  rule.right = {literal(1.8), literal(kInfinite)};
  rule.sentence = "The ratio is {answer}.";
  EXPECT_EQ(with(rule, 45.0, 25.0), Verdict::kFits);
  EXPECT_EQ(with(rule, 44.0, 25.0), Verdict::kDoesNotFit);
  EXPECT_EQ(evaluate(trade_, rule, bike_).sentence, "The ratio is 1.76.");
  EXPECT_EQ(with(rule, std::nullopt, 25.0), Verdict::kNotKnown);
}

TEST_F(Bench, ABeltTooShortToGoAroundDoesNotFit) {
  Rule rule = pair(RuleShape::kComputed);
  rule.compute = "belt_centre_distance_mm";
  rule.left = {literal(55.0), literal(22.0), of("x", "n"), literal(11.0)};
  rule.right = {literal(400.0), of("y", "n")};
  EXPECT_EQ(with(rule, 118.0, 460.0), Verdict::kFits);
  EXPECT_EQ(with(rule, 30.0, 460.0), Verdict::kDoesNotFit);
  EXPECT_EQ(with(rule, 118.0, std::nullopt), Verdict::kNotKnown);
}

TEST_F(Bench, AFailingClaimAsksForCareAndShowsItsSentence) {
  Rule rule = pair(RuleShape::kAtMost);
  rule.severity = Severity::kClaim;
  EXPECT_EQ(with(rule, 61.0, 60.0), Verdict::kFitsWithCare);
  EXPECT_EQ(evaluate(trade_, rule, bike_).sentence, "Part x measures 61 mm, Part y takes 60 mm.");
  EXPECT_EQ(with(rule, std::nullopt, 60.0), Verdict::kNotKnown);
}

TEST_F(Bench, ConditionsAreThreeValued) {
  Rule rule = pair(RuleShape::kSame);
  rule.conditions = {{of("z", "w"), {"mid"}, false}};
  with(rule, 1.0, 2.0);
  EXPECT_FALSE(evaluate(trade_, rule, bike_).applies) << "the slot is empty";
  fill("z");
  EXPECT_EQ(evaluate(trade_, rule, bike_).verdict, Verdict::kNotKnown);
  state("z", "w", "hub");
  EXPECT_FALSE(evaluate(trade_, rule, bike_).applies);
  state("z", "w", "mid");
  EXPECT_EQ(evaluate(trade_, rule, bike_).verdict, Verdict::kDoesNotFit);
  rule.conditions[0].negated = true;
  EXPECT_FALSE(evaluate(trade_, rule, bike_).applies);
  rule.conditions = {{of("z", "*filled"), {}, true}};
  EXPECT_FALSE(evaluate(trade_, rule, bike_).applies);
  empty("z");
  EXPECT_TRUE(evaluate(trade_, rule, bike_).applies);
}

TEST_F(Bench, NamesTheFactThatIsMissingAndThePartThatLacksIt) {
  const Rule rule = pair(RuleShape::kSame);
  with(rule, 1.0, std::nullopt);
  const Outcome outcome = evaluate(trade_, rule, bike_);
  ASSERT_EQ(outcome.missing_facts.size(), 1u);
  EXPECT_EQ(outcome.missing_facts[0].slot, SlotId("y"));
  EXPECT_EQ(outcome.missing_facts[0].attribute, "n");
  EXPECT_EQ(outcome.missing_facts[0].part, trade::PartId("y"));
  EXPECT_EQ(outcome.sentence, "Not known yet: width of Part y (slot y).");
}

/// What a fact of the generated trade may say.
std::vector<Value> possible_values(const std::string& attribute) {
  if (attribute == "w") return {"a", "b", "c"};
  if (attribute == "f") return {true, false};
  if (attribute == "ws") {
    return {Words{}, Words{"a"}, Words{"b"}, Words{"c"}, Words{"a", "b"}, Words{"a", "b", "c"}};
  }
  return {0.0, 1.0, 2.0, 3.0, 4.0, 9.0};
}

TEST(Evaluate, NeverCallsARuleGoodWhenAFactThatIsNotKnownCouldSpoilIt) {
  int decisive = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    testing::Catalogue catalogue =
        testing::generated(seed, {.not_known = 0.3, .looseness = static_cast<double>(seed % 5) / 4});
    Bike bike{.order = catalogue.order, .rider = catalogue.rider};
    for (const trade::Slot& slot : catalogue.trade.slots) {
      for (trade::Part& part : catalogue.parts) {
        if (part.kind == slot.kinds[0]) bike.parts[slot.id] = &part;
      }
    }
    for (trade::Part& part : catalogue.parts) {
      for (const auto& [attribute, info] : catalogue.trade.attributes) {
        const auto before = part.facts;
        for (const Rule& rule : catalogue.trade.rules) {
          part.facts = before;
          part.facts.erase(attribute);
          const Verdict without = evaluate(catalogue.trade, rule, bike).verdict;
          for (const Value& value : possible_values(attribute)) {
            part.facts[attribute] = {.standing = trade::Standing::kKnown, .value = value};
            const Verdict with = evaluate(catalogue.trade, rule, bike).verdict;
            if (with == without) continue;
            ++decisive;
            EXPECT_EQ(without, Verdict::kNotKnown)
                << "seed " << seed << " " << rule.id << " " << part.name << " " << attribute;
          }
        }
        part.facts = before;
      }
    }
  }
  EXPECT_GT(decisive, 1000);
}

TEST(OrderFacts, LeaveOutWhatTheOrderDoesNotSay) {
  trade::Order order;
  order.need.luggage = 12.0 * kg;
  EXPECT_FALSE(trade::order_facts(order).facts.contains("load"));
  EXPECT_FALSE(trade::order_facts(order).facts.contains("region"));
  order.rider.mass = 80.0 * kg;
  order.need.region = "EU";
  EXPECT_EQ(trade::number_of(trade::order_facts(order), "load"), 92.0);
  EXPECT_EQ(trade::word_of(trade::order_facts(order), "region"), "EU");
  EXPECT_EQ(trade::number_of(trade::rider_facts(order), "rider_mass"), 80.0);
  EXPECT_FALSE(trade::rider_facts(order).facts.contains("rider_height"));
}

TEST_F(Bench, CheckCountsRulesTotalsAndGaps) {
  trade_.slots[0].quantity = 2;
  trade_.rules = {pair(RuleShape::kSame), pair(RuleShape::kAtMost), pair(RuleShape::kSame)};
  trade_.rules[1].severity = Severity::kStop;
  trade_.rules[2].left = {of("z", "n")};
  with(trade_.rules[0], 2.0, 1.0);
  parts_["x"].price = Money{1050};
  parts_["y"].price = Money{99};
  state("x", "mass", 0.4);
  trade::BuildTemplate build;
  build.required = {SlotId("x"), SlotId("y"), SlotId("z")};
  const SpecCheck found = check(trade_, build, bike_);
  EXPECT_EQ(found.verdict, Verdict::kDoesNotFit);
  EXPECT_EQ(found.coverage.sentence(), "2 of 3 rules checked, 0 not known, 1 does not apply");
  ASSERT_EQ(found.findings.size(), 2u);
  EXPECT_EQ(found.findings[0].severity, Severity::kStop) << "what matters most comes first";
  EXPECT_EQ(found.missing_slots, std::vector{SlotId("z")});
  EXPECT_FALSE(found.complete);
  EXPECT_EQ(found.totals.price, Money{2199});
  EXPECT_DOUBLE_EQ(found.totals.mass.in(kg), 0.8);
  EXPECT_EQ(found.totals.masses_not_known, 1);
}

}  // namespace
}  // namespace rollwright::spec

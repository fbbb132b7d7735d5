#include "build/limits.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::build {
namespace {

trade::Limit random_limit(Random& random, const std::string& source) {
  trade::Limit limit{.source = source};
  if (random.below(3) > 0) limit.least = static_cast<double>(random.below(10));
  if (random.below(3) > 0) limit.most = static_cast<double>(8 + random.below(10));
  return limit;
}

bool keeps(double value, const std::vector<trade::Limit>& limits) {
  return std::ranges::all_of(limits, [value](const trade::Limit& limit) {
    return limit.least.value_or(value) <= value && value <= limit.most.value_or(value);
  });
}

TEST(StrictestLimit, AllowsExactlyTheValuesThatEveryLimitAllows) {
  Random random(11);
  for (int round = 0; round < 2000; ++round) {
    std::vector<trade::Limit> printed;
    std::vector<trade::Limit> usual;
    printed.resize(random.below(4));
    usual.resize(random.below(3));
    for (trade::Limit& limit : printed) limit = random_limit(random, "print");
    for (trade::Limit& limit : usual) limit = random_limit(random, "usual");
    std::vector<trade::Limit> all = printed;
    all.insert(all.end(), usual.begin(), usual.end());
    const auto strictest = strictest_of(printed, usual);
    bool any_allowed = false;
    for (int half = -2; half <= 40; ++half) any_allowed |= keeps(half / 2.0, all);
    if (!any_allowed) continue;  // contradictions have tests of their own
    ASSERT_TRUE(strictest.has_value());
    for (int half = -2; half <= 40; ++half) {
      EXPECT_EQ(keeps(half / 2.0, {*strictest}), keeps(half / 2.0, all));
    }
  }
}

TEST(StrictestLimit, LetsThePrintWinOverAUsualRangeThatContradictsIt) {
  const auto low_print = strictest_of({{.most = 3.0, .source = "print"}}, {{4.0, 8.0, "usual"}});
  ASSERT_TRUE(low_print.has_value());
  EXPECT_EQ(low_print->most, 3.0);
  EXPECT_FALSE(low_print->least.has_value());
  EXPECT_EQ(low_print->source, "print");

  const auto high_print = strictest_of({{.least = 50.0, .source = "print"}}, {{30, 45, "usual"}});
  ASSERT_TRUE(high_print.has_value());
  EXPECT_EQ(high_print->least, 50.0);
  EXPECT_FALSE(high_print->most.has_value());
}

TEST(StrictestLimit, NamesWhoSetsEachEnd) {
  const auto limit = strictest_of({{.most = 5.0, .source = "stem"}}, {{4.0, 8.0, "handbook"}});
  ASSERT_TRUE(limit.has_value());
  EXPECT_EQ(limit->source, "least: handbook; most: stem");
}

TEST(StrictestLimit, RefusesPrintsThatContradictEachOther) {
  const auto refused = strictest_of({{.least = 6.0, .source = "motor maker"},
                                     {.most = 5.0, .source = "frame maker"}}, {});
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().code, Code::kContradiction);
  EXPECT_NE(refused.error().sentence.find("motor maker"), std::string::npos);
  EXPECT_NE(refused.error().sentence.find("frame maker"), std::string::npos);
}

/// An invented clamp whose print may or may not be known.
struct Clamp {
  trade::Trade trade;
  trade::Part part{.id = trade::PartId("S-1"), .kind = trade::KindId("K-S"), .name = "Clamp S"};
  BikeFacts bike;
  trade::Reading reading{.id = "clamp", .name = "clamp", .dimension = Dimension::kTorque,
                         .unit = "N·m", .least = 4, .most = 8, .target = 6, .source = "handbook"};

  explicit Clamp(std::optional<double> printed) {
    trade.kinds[part.kind] = {.id = part.kind, .attributes = {"torque"}};
    if (printed) part.facts["torque"] = {.standing = trade::Standing::kKnown, .value = *printed};
    bike.parts[trade::SlotId("stem")] = &part;
  }
  trade::Operand fact() const { return {trade::SlotId("stem"), "torque", 0.0}; }
};

TEST(ValueFor, LowersTheUsualTargetToThePrintedMost) {
  Clamp clamp(5.0);
  clamp.reading.part_limits_most = {clamp.fact()};
  FactReader facts(clamp.trade, clamp.bike);
  const trade::SheetValue value = value_for(clamp.reading, facts);
  EXPECT_EQ(value.strictest.most, 5.0);
  EXPECT_EQ(value.strictest.least, 4.0);
  EXPECT_EQ(value.target, 5.0);
  EXPECT_EQ(value.limits.size(), 2u);
  EXPECT_TRUE(facts.questions().empty());
}

TEST(ValueFor, ReplacesTheUsualRangeByAPrintedTorqueWithinTheWrench) {
  Clamp clamp(12.0);  // beyond the handbook's 8: the print wins
  clamp.reading.part_targets = {clamp.fact()};
  FactReader facts(clamp.trade, clamp.bike);
  const trade::SheetValue value = value_for(clamp.reading, facts);
  EXPECT_EQ(value.target, 12.0);
  EXPECT_NEAR(*value.strictest.least, 11.52, 1e-9);  // 4 %, ISO 6789-1 (from memory)
  EXPECT_NEAR(*value.strictest.most, 12.48, 1e-9);
}

TEST(ValueFor, SaysThatAPrintHasNotBeenReadBesideTheUsualRange) {
  Clamp clamp(std::nullopt);
  clamp.reading.part_targets = {clamp.fact()};
  FactReader facts(clamp.trade, clamp.bike);
  const trade::SheetValue value = value_for(clamp.reading, facts);
  EXPECT_EQ(value.strictest.most, 8.0);
  EXPECT_NE(value.how.find("Clamp S"), std::string::npos);
  EXPECT_TRUE(facts.questions().empty());
}

TEST(ValueFor, AsksForAPrintWithoutWhichThereIsNoValue) {
  Clamp clamp(std::nullopt);
  clamp.reading.least = clamp.reading.most = clamp.reading.target = std::nullopt;
  clamp.reading.part_targets = {clamp.fact()};
  FactReader facts(clamp.trade, clamp.bike);
  const trade::SheetValue value = value_for(clamp.reading, facts);
  EXPECT_FALSE(value.target || value.strictest.least || value.strictest.most);
  ASSERT_EQ(facts.questions().size(), 1u);
  EXPECT_NE(facts.questions()[0].find("Clamp S"), std::string::npos);
}

}  // namespace
}  // namespace rollwright::build

#include "build/traits.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "build/worked_bike.hpp"

namespace rollwright::build {
namespace {

/// An invented trade of one trait and a build that needs "hub" and can do without "motor".
trade::Trade little_trade(std::vector<std::vector<trade::TraitCondition>> any_of) {
  trade::Trade trade;
  trade.templates["T"] = {.id = "T",
                          .required = {trade::SlotId("hub")},
                          .optional = {trade::SlotId("motor")}};
  trade.traits["x"] = {.id = "x", .any_of = std::move(any_of)};
  return trade;
}

trade::TraitCondition that(const char* slot, const char* attribute,
                           std::vector<std::string> words) {
  return {{.operand = {trade::SlotId(slot), attribute, 0.0}, .words = std::move(words)}, {}};
}

trade::TraitCondition at_least(const char* slot, const char* attribute, double least) {
  return {{.operand = {trade::SlotId(slot), attribute, 0.0}, .words = {}}, least};
}

struct Found {
  bool holds;
  bool open;
};

Found judged(const trade::Trade& trade, const std::map<std::string, trade::Part>& parts) {
  BikeFacts bike{.build = &trade.templates.at("T")};
  for (const auto& [slot, part] : parts) bike.parts[trade::SlotId(slot)] = &part;
  const BikeTraits traits = traits_of(trade, bike);
  return {traits.holding.contains("x"), traits.not_known.contains("x")};
}

trade::Part hub_with(const char* drive) {
  trade::Part part{.name = "invented hub"};
  part.facts["drive"] = {.standing = trade::Standing::kMeasured, .value = std::string(drive)};
  return part;
}

TEST(Traits, AskForAFactThatIsNotKnownInsteadOfGuessing) {
  const trade::Trade trade = little_trade({{that("hub", "drive", {"gears"})}});
  const Found yes = judged(trade, {{"hub", hub_with("gears")}});
  EXPECT_TRUE(yes.holds && !yes.open);
  const Found no = judged(trade, {{"hub", hub_with("cog")}});
  EXPECT_TRUE(!no.holds && !no.open);
  const Found blank = judged(trade, {{"hub", {.name = "bare"}}});
  EXPECT_TRUE(!blank.holds && blank.open);
  trade::Part not_known = hub_with("gears");
  not_known.facts["drive"].standing = trade::Standing::kNotKnown;
  const Found marked = judged(trade, {{"hub", not_known}});
  EXPECT_TRUE(!marked.holds && marked.open);
}

TEST(Traits, ArePlainlyAbsentOnAnEmptySlotThatTheBuildCanDoWithout) {
  const trade::Trade optional = little_trade({{that("motor", "*filled", {})}});
  EXPECT_FALSE(judged(optional, {}).open);
  const trade::Trade required = little_trade({{that("hub", "*filled", {})}});
  EXPECT_TRUE(judged(required, {}).open);
}

TEST(Traits, AreDecidedByOneClauseThatHoldsWhateverElseIsNotKnown) {
  const trade::Trade either = little_trade(
      {{that("motor", "drive", {"gears"})}, {that("hub", "drive", {"gears"})}});
  const Found found = judged(either, {{"hub", hub_with("gears")}, {"motor", {}}});
  EXPECT_TRUE(found.holds && !found.open);
  const trade::Trade both = little_trade(
      {{that("motor", "drive", {"gears"}), that("hub", "drive", {"gears"})}});
  const Found no = judged(both, {{"hub", hub_with("cog")}, {"motor", {}}});
  EXPECT_TRUE(!no.holds && !no.open);
}

TEST(Traits, HoldFromANumberOn) {
  const trade::Trade trade = little_trade({{at_least("hub", "load", 160)}});
  trade::Part hub{.name = "invented hub"};
  hub.facts["load"] = {.standing = trade::Standing::kNotKnown};
  EXPECT_TRUE(judged(trade, {{"hub", hub}}).open);
  for (const auto& [load, holds] : {std::pair{159.9, false}, {160.0, true}, {250.0, true}}) {
    hub.facts["load"] = {.standing = trade::Standing::kKnown, .value = load};
    const Found found = judged(trade, {{"hub", hub}});
    EXPECT_EQ(found.holds, holds) << load;
    EXPECT_FALSE(found.open);
  }
}

TEST(Traits, AskNoQuestionThatTheKindOfPartCannotAnswer) {
  trade::Trade trade = little_trade({{that("hub", "placement", {"front hub"})}});
  trade.kinds[trade::KindId("K-H")] = {.id = trade::KindId("K-H"), .attributes = {"drive"}};
  const Found found = judged(trade, {{"hub", {.kind = trade::KindId("K-H")}}});
  EXPECT_TRUE(!found.holds && !found.open);
}

TEST(Traits, OfTheWorkedBikeAreThoseAMechanicWouldName) {
  const WorkedBike bike = worked_bike();
  const BikeTraits traits = traits_of(shipped_trade(), bike.facts(shipped_trade()));
  for (const char* trait : {"shop_built", "threaded_shell_unfaced", "derailleur",
                            "cable_derailleur", "hand_built_front", "hand_built_rear",
                            "disc_brakes", "chain",
                            "dynamo_lights", "suspension_fork", "external_routing"}) {
    EXPECT_TRUE(traits.holding.contains(trait)) << trait;
  }
  for (const char* trait : {"e_bike", "belt", "hub_gear", "tubeless", "bought_wheels", "by_freight",
                            "maker_built", "carbon_steerer"}) {
    EXPECT_FALSE(traits.holding.contains(trait)) << trait;
  }
}

}  // namespace
}  // namespace rollwright::build

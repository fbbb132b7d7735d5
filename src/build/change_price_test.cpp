#include "build/change_price.hpp"

#include <gtest/gtest.h>

// The parts and prices in these tests are invented; the sums beside them were done by hand.
namespace rollwright::build {
namespace {

using enum Freeze;
constexpr Money kRate{7200};  // 72.00 an hour: 1.20 a minute

PartChange hub(Freeze freeze) {
  return {.slot = "rear hub", .from = "Old", .to = "New", .freeze = freeze, .from_price = {40000},
          .to_price = {52000}, .restocking_percent = 15, .from_cost = {20000},
          .freight_back = {990}, .minutes_out = 50, .minutes_in = 60, .minutes_checks = 30};
}

TEST(Freeze, IsTheFurthestPointThatThePartHasReached) {
  PartWhere part{.state = trade::OrderState::kOffer, .line = "P-7", .line_state = "Placed"};
  EXPECT_EQ(freeze_of(part).freeze, kFree);
  part.state = trade::OrderState::kAgreed;
  EXPECT_EQ(freeze_of(part).freeze, kBought);
  EXPECT_EQ(freeze_of(part).why, "on line P-7, Placed");
  part.made_to_order = true;
  EXPECT_EQ(freeze_of(part).freeze, kMade);
  part = {.state = trade::OrderState::kBuilding};
  EXPECT_EQ(freeze_of(part).freeze, kPrice) << "nothing of it is bought or done";
  part.spoilt_by = {"W-21"};
  EXPECT_EQ(freeze_of(part).freeze, kMade);
  part.built_by = {"W-21", "A-31"};
  EXPECT_EQ(freeze_of(part).freeze, kBuilt);
  EXPECT_EQ(freeze_of(part).why, "built in by W-21 and A-31");
  part.state = trade::OrderState::kChecking;
  EXPECT_EQ(freeze_of(part).freeze, kApproved);
  EXPECT_EQ(freeze_of({.state = trade::OrderState::kAtMaker, .maker_built = true,
                       .is_bike = true}).freeze, kMade);
}

TEST(ChangePrice, GrowsWithEachFreezePoint) {
  // The difference is 120.00 throughout. F2: 15 % of 200.00 is 30.00, freight 9.90. F3: the old part's
  // 400.00 instead. F4: and 50, 60 and 30 minutes at 1.20: 60.00, 72.00 and 36.00.
  const std::pair<Freeze, std::int64_t> expected[] = {
      {kFree, 12000}, {kPrice, 12000}, {kBought, 15990}, {kMade, 52000}, {kBuilt, 68800},
      {kApproved, 68800}};
  for (const auto& [freeze, cents] : expected) {
    const auto price = price_of_change({hub(freeze)}, kRate);
    ASSERT_TRUE(price) << point_of(freeze);
    EXPECT_EQ(price->total.cents, cents) << point_of(freeze);
    EXPECT_EQ(price->parts.cents, 12000);
    Money sum;
    for (const MoneyLine& line : price->lines) sum += line.amount;
    EXPECT_EQ(sum, price->total);
  }
  EXPECT_EQ(price_of_change({hub(kBought)}, kRate)->sentence,
            "New instead of Old comes to + 159.90: 120 for the parts, 39.90 beside them. The shop "
            "may keep the part for its shelf instead of sending it back.");
}

TEST(ChangePrice, CountsTheChecksOnceForSeveralParts) {
  PartChange bell = hub(kBuilt);
  bell.slot = "bell";
  bell.minutes_checks = 10;
  const auto price = price_of_change({hub(kBuilt), bell}, kRate);
  ASSERT_TRUE(price);
  EXPECT_EQ(price->lines.back().what, "checks again");
  EXPECT_EQ(price->lines.back().amount.cents, 3600);
}

TEST(ChangePrice, IsRefusedWhereRestockingIsNotKnown) {
  PartChange change = hub(kBought);
  change.restocking_percent.reset();
  EXPECT_EQ(price_of_change({change}, kRate).error().code, Code::kRefused);
  EXPECT_EQ(price_of_change({}, kRate).error().code, Code::kBadInput);
  change.freeze = kPrice;
  EXPECT_TRUE(price_of_change({change}, kRate)) << "nothing goes back";
}

TEST(ChangePrice, OfAPartThatIsTakenOutOrPutInAlone) {
  PartChange out = hub(kPrice);
  out.to.clear();
  out.to_price = {};
  EXPECT_EQ(price_of_change({out}, kRate)->total.cents, -40000);
  PartChange in = hub(kPrice);
  in.from.clear();
  in.from_price = {};
  EXPECT_EQ(price_of_change({in}, kRate)->total.cents, 52000);
}

TEST(Settlement, IsTheDepositLessWhatIsKept) {
  PartChange bought = hub(kBought);
  PartChange built = hub(kBuilt);
  built.slot = "fork";
  PartChange free = hub(kPrice);
  const auto settled = settlement_of({.deposit = {100000}, .parts = {bought, built, free},
                                      .minutes_done = 100, .hourly_rate = kRate});
  ASSERT_TRUE(settled);
  // 1000.00 less 30.00 restocking, 9.90 freight, 400.00 built in, 120.00 labour.
  EXPECT_EQ(settled->back.cents, 44010);
  EXPECT_EQ(settled->lines.front().what, "deposit");
  EXPECT_EQ(settled->lines.size(), 5u);
  EXPECT_NE(settled->law.find("Consumer law comes first"), std::string::npos);
  const auto short_of = settlement_of({.deposit = {1000}, .parts = {built}, .hourly_rate = kRate});
  EXPECT_EQ(short_of->back.cents, 1000 - 40000);
  EXPECT_EQ(short_of->sentence, "The deposit of 10 does not cover what is kept: 390 stays open.");
}

}  // namespace
}  // namespace rollwright::build

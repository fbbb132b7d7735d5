#include "build/order_flags.hpp"

#include <gtest/gtest.h>

#include "base/text.hpp"

// The names in these tests are invented.
namespace rollwright::build {
namespace {

const Day kToday = parse_day("2026-11-25").value();

trade::Order order_in(trade::OrderState state) {
  return {.id = trade::OrderId("7"), .state = state};
}

TEST(OrderFlags, AreSetWithReasonAndDayAndClearedAgain) {
  const FlagGiven held{.flag = "Held", .reason = "the belt has a kink",
                       .until = parse_day("2026-12-02").value(), .by = "Ada"};
  const auto order = with_flag(order_in(trade::OrderState::kBuilding), held, kToday);
  ASSERT_TRUE(order) << order.error().full();
  EXPECT_TRUE(order->flags.contains("Held"));
  EXPECT_EQ(order->held_because, "the belt has a kink");
  EXPECT_EQ(order->flags_said.at("Held").until, held.until);
  EXPECT_EQ(order->flags_said.at("Held").who, "Ada");
  EXPECT_EQ(order->flags_said.at("Held").day, kToday);
  const auto free =
      with_flag(*order, {.flag = "Held", .set = false, .reason = "a new one came"}, kToday);
  ASSERT_TRUE(free);
  EXPECT_TRUE(free->flags.empty());
  EXPECT_TRUE(free->flags_said.empty());
  EXPECT_EQ(free->held_because, "");
}

TEST(OrderFlags, AreRefusedWithoutReasonOrWithADayThatIsOver) {
  const trade::Order order = order_in(trade::OrderState::kBuilding);
  EXPECT_EQ(with_flag(order, {.flag = "Held", .reason = " "}, kToday).error().code,
            Code::kBadInput);
  EXPECT_EQ(with_flag(order, {.flag = "Held", .reason = "a\nb"}, kToday).error().code,
            Code::kOutOfRange);
  EXPECT_EQ(with_flag(order, {.flag = "Tired", .reason = "a"}, kToday).error().code,
            Code::kNotFound);
  const FlagGiven over{.flag = "Held", .reason = "a", .until = parse_day("2026-11-24").value()};
  EXPECT_EQ(with_flag(order, over, kToday).error().place.field, "until");
  EXPECT_EQ(with_flag(order, {.flag = "Held", .set = false, .reason = "a"}, kToday).error().code,
            Code::kRefused);
}

TEST(OrderFlags, QuoteAReasonThatIsTooLongUpToAWholeLetter) {
  std::string reason = "x";
  while (reason.size() <= kLongestReason) reason += "ü";
  const FlagGiven held{.flag = "Held", .reason = reason};
  const auto refused = with_flag(order_in(trade::OrderState::kBuilding), held, kToday);
  ASSERT_FALSE(refused);
  EXPECT_TRUE(is_utf8(refused.error().place.value)) << refused.error().place.value;
  EXPECT_EQ(refused.error().place.value.size(), 39U);
}

TEST(OrderFlags, OfABikeThatIsHandedOverAreOnlyThoseThatFollowIt) {
  const trade::Order order = order_in(trade::OrderState::kInCare);
  EXPECT_TRUE(with_flag(order, {.flag = "Stop-sale", .reason = "recall of the fork"}, kToday));
  EXPECT_TRUE(with_flag(order, {.flag = "Claim open", .reason = "rack broke"}, kToday));
  EXPECT_EQ(with_flag(order, {.flag = "Held", .reason = "a"}, kToday).error().code,
            Code::kRefused);
}

}  // namespace
}  // namespace rollwright::build

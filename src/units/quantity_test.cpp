#include "units/quantity.hpp"

#include <gtest/gtest.h>

#include "units/money.hpp"
#include "units/unit_table.hpp"

namespace rollwright {
namespace {

template <class A, class B>
concept Addable = requires(A a, B b) { a + b; };
template <class A, class B>
concept Multipliable = requires(A a, B b) { a * b; };

static_assert(Addable<Length, Length>);
static_assert(!Addable<Length, Torque>);
static_assert(!Addable<Length, double>);
static_assert(!Multipliable<Length, Force>, "products exist only where declared");

TEST(Quantity, LeavesAsItEntered) {
  EXPECT_EQ((602.0 * mm).in(mm), 602.0);
  EXPECT_EQ((31.8 * mm).in(mm), 31.8);
  EXPECT_DOUBLE_EQ((1.0 * inch).in(mm), 25.4);
}

// Source: 1 N·m = 8.850746 lbf·in, 1 kgf = 9.80665 N (exact), 1 bar = 14.5038 psi; NIST SP 811
// (from memory), repeated in the project's reference notes.
TEST(Quantity, AgreesWithPublishedConversions) {
  EXPECT_NEAR((40.0 * newton_metre).in(inch_pound), 354.03, 0.005);
  EXPECT_NEAR((1.0 * newton_metre).in(inch_pound), 8.850746, 5e-7);
  EXPECT_NEAR((1.0 * kgf).in(newton), 9.80665, 1e-12);
  EXPECT_NEAR((5.0 * bar).in(psi), 72.52, 0.005);
  EXPECT_NEAR((1.0 * mile).in(km), 1.609344, 1e-12);
}

TEST(UnitTable, ReadsWhatAPersonTypes) {
  EXPECT_EQ(parse_amount("31.8 mm", Dimension::kLength).value(), 31.8);
  EXPECT_EQ(parse_amount("31.8mm", Dimension::kLength).value(), 31.8);
  EXPECT_DOUBLE_EQ(parse_amount("410 g", Dimension::kMass).value(), 0.41);
  EXPECT_EQ(parse_amount("36", Dimension::kNone).value(), 36);
  EXPECT_EQ(parse_amount("5", Dimension::kLength, "mm").value(), 5);
}

TEST(UnitTable, RefusesUnitsThatMeasureSomethingElse) {
  const auto wrong = parse_amount("31.8 kg", Dimension::kLength);
  ASSERT_FALSE(wrong);
  EXPECT_NE(wrong.error().sentence.find("kg is a unit of mass, not of length"), std::string::npos)
      << wrong.error().sentence;
  EXPECT_FALSE(parse_amount("31.8", Dimension::kLength));
  EXPECT_FALSE(parse_amount("wide", Dimension::kLength));
  EXPECT_FALSE(parse_amount("1 1/8 in", Dimension::kLength));
  EXPECT_FALSE(parse_amount("nan mm", Dimension::kLength));
}

TEST(Money, IsExactInBothDirections) {
  EXPECT_EQ(parse_money("62.50").value().cents, 6250);
  EXPECT_EQ(parse_money("1480").value().cents, 148000);
  EXPECT_EQ(parse_money("-0.05").value().cents, -5);
  EXPECT_FALSE(parse_money("12.345"));
  EXPECT_FALSE(parse_money("€12"));
  EXPECT_EQ(shown(Money{148000}), "1\u202f480");
  EXPECT_EQ(shown(Money{6250}), "62.50");
}

}  // namespace
}  // namespace rollwright

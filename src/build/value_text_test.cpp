#include "build/value_text.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/text.hpp"

namespace rollwright::build {
namespace {

trade::SheetValue told(Dimension dimension, const char* unit, std::optional<double> target,
                       trade::Limit limit) {
  trade::SheetValue value{.dimension = dimension, .unit = unit, .target = target,
                          .strictest = std::move(limit)};
  tell(value);
  return value;
}

TEST(ValueText, ReadsAsAToolIsSet) {
  const auto bolt = told(Dimension::kTorque, "N·m", 5.0, {4.0, 6.25, ""});
  EXPECT_EQ(bolt.target_text, "5 N·m");
  EXPECT_EQ(bolt.range_text, "4 to 6.2 N·m");
  EXPECT_EQ(bolt.us_text, "44 in-lb");
  EXPECT_EQ(told(Dimension::kTorque, "N·m", {}, {4.0, 6.0, ""}).us_text, "35 to 53 in-lb");
  EXPECT_EQ(told(Dimension::kForce, "N", 670.78, {{}, 1250.0, ""}).target_text, "671 N");
  EXPECT_EQ(told(Dimension::kLength, "mm", {}, {{}, 0.5, ""}).range_text, "at most 0.5 mm");
  EXPECT_EQ(told(Dimension::kLength, "mm", {}, {-0.05, 0.05, ""}).range_text, "-0.05 to 0.05 mm");
  EXPECT_EQ(told(Dimension::kSpeed, "km/h", {}, {{}, 6 / 3.6, ""}).range_text, "at most 6 km/h");
  EXPECT_EQ(told(Dimension::kNone, "", {}, {0.0, 0.0, ""}).range_text, "0");
}

TEST(ValueText, NeverAllowsMoreThanTheNumber) {
  Random random(3);
  for (int i = 0; i < 5000; ++i) {
    const double least = random.uniform() * 50;
    const double most = least + 0.5 + random.uniform() * 50;
    const auto value = told(Dimension::kTorque, "N·m", {}, {least, most, ""});
    const auto pieces = split(value.range_text, ' ');
    ASSERT_EQ(pieces.size(), 4u) << value.range_text;
    EXPECT_GE(to_number(pieces[0]).value(), least - 1e-6);
    EXPECT_LE(to_number(pieces[2]).value(), most + 1e-6);
  }
}

TEST(ValueText, LeavesPassOrFailAlone) {
  trade::SheetValue value{.pass_or_fail = true};
  tell(value);
  EXPECT_EQ(value.target_text + value.range_text + value.us_text, "");
}

}  // namespace
}  // namespace rollwright::build

#include "base/shortened.hpp"

#include <gtest/gtest.h>

#include "base/text.hpp"

namespace rollwright {
namespace {

TEST(Shortened, CutsBetweenLettersHoweverManyBytesTheyHave) {
  EXPECT_EQ(shortened("saddle", 6), "saddle");
  EXPECT_EQ(shortened("saddle", 3), "sad");
  EXPECT_EQ(shortened("6° stem", 2), "6");  // a degree sign has two bytes
  EXPECT_EQ(shortened("6° stem", 3), "6°");
  EXPECT_EQ(shortened("°", 1), "");
  const std::string wheel = "🛞";  // four bytes
  for (std::size_t most = 1; most < 5; ++most) EXPECT_EQ(shortened("a" + wheel, most), "a");
  EXPECT_EQ(shortened("a" + wheel, 5), "a" + wheel);
}

TEST(Shortened, QuotesAtMostFortyBytesThatCanBeRead) {
  for (const std::string letter : {"e", "é", "€", "🛞"}) {
    for (std::size_t before = 0; before < 4; ++before) {
      std::string value(before, 'x');
      while (value.size() < 60) value += letter;
      const std::string quoted = shortened(value);
      EXPECT_LE(quoted.size(), kMostQuoted);
      EXPECT_GT(quoted.size() + letter.size(), kMostQuoted);
      EXPECT_TRUE(is_utf8(quoted)) << letter << " after " << before;
      EXPECT_TRUE(value.starts_with(quoted));
    }
  }
}

}  // namespace
}  // namespace rollwright

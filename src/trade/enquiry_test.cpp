#include "trade/enquiry.hpp"

#include <gtest/gtest.h>

namespace rollwright::trade {
namespace {

TEST(Budget, IsReadAsAnAmountOrAsNothingSaid) {
  EXPECT_EQ(parse_budget(" 2500 ").value().at_most, Money{250000});
  EXPECT_EQ(parse_budget("2499.5").value().at_most, Money{249950});
  EXPECT_FALSE(parse_budget("nothing said").value().at_most.has_value());
}

TEST(Budget, IsWrittenAsItIsRead) {
  for (const char* text : {"2500", "2499.50", "0.01", "1000000", "nothing said"}) {
    EXPECT_EQ(word_of(parse_budget(text).value()), text);
  }
}

TEST(Budget, IsNoOtherWordsAndNeverNothingOrMoreThanAnybodySpends) {
  for (const char* text : {"", "about 2500", "Nothing", "2 500", "2500 EUR"}) {
    EXPECT_EQ(parse_budget(text).error().code, Code::kBadInput) << text;
  }
  for (const char* text : {"0", "-5", "1000000.01"}) {
    EXPECT_EQ(parse_budget(text).error().code, Code::kOutOfRange) << text;
  }
  EXPECT_NE(parse_budget("about 2500").error().sentence.find("nothing said"), std::string::npos);
}

}  // namespace
}  // namespace rollwright::trade

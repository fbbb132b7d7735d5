#include "plan/read_bounds.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"

namespace rollwright::plan {
namespace {

/// Invented.
const std::string kList = "instance,other,best_lb,best_ub\na_1,x,10,12\na_2,y,,7\na_3,z,5,5\n";

TEST(ReadBounds, ReadsWhatIsKnownAndLeavesOutWhatIsNot) {
  const BoundsList list = read_bounds(kList, "list.csv").value();
  ASSERT_EQ(list.size(), 3U);
  EXPECT_EQ(list.at("a_1").least, 10);
  EXPECT_EQ(list.at("a_1").known, 12);
  EXPECT_EQ(list.at("a_2").least, -1);
  EXPECT_FALSE(list.at("a_2").closed());
  EXPECT_TRUE(list.at("a_3").closed());
}

struct BrokenList {
  std::string text;
  Code code;
  std::string says;
};

TEST(ReadBounds, NamesFileLineAndColumnOfWhatIsWrong) {
  const std::vector<BrokenList> cases = {
      {"name,best_lb\na,1\n", Code::kBadInput, "list.csv, line 1"},
      {"instance,best\na,1\n", Code::kBadInput, "list.csv, line 1"},
      {"instance,best_ub\na,ten\n", Code::kBadInput, "line 2, field best_ub, value \"ten\""},
      {"instance,best_ub\na,-4\n", Code::kBadInput, "line 2, field best_ub, value \"-4\""},
      {"instance,best_ub\na,1\na,2\n", Code::kBadInput, "list.csv, line 3, field instance"},
      {"instance,best_lb,best_ub\na,9,8\n", Code::kContradiction, "line 2, field best_lb"},
  };
  for (const BrokenList& broken : cases) {
    const auto list = read_bounds(broken.text, "list.csv");
    ASSERT_FALSE(list) << broken.text;
    EXPECT_EQ(list.error().code, broken.code) << list.error().full();
    EXPECT_NE(list.error().full().find(broken.says), std::string::npos) << list.error().full();
  }
}

TEST(ReadBounds, RefusesOrReadsWhateverBytesChange) {
  Random random(91);
  for (int trial = 0; trial < 2000; ++trial) {
    std::string text = kList;
    for (std::uint64_t change = 0; change <= random.below(3); ++change) {
      text[random.below(text.size())] = static_cast<char>(random.below(256));
    }
    const auto list = read_bounds(text, "list.csv");
    if (list) {
      EXPECT_LE(list->size(), 6U);
    } else {
      EXPECT_EQ(list.error().place.file, "list.csv") << list.error().full();
    }
  }
}

}  // namespace
}  // namespace rollwright::plan

#include <gtest/gtest.h>

#include <algorithm>

#include "trade/load_trade.hpp"
#include "trade/mini_trade.hpp"

namespace rollwright::trade {
namespace {

LoadedTrade with_share(const std::string& line, const std::string& after) {
  FolderFiles files = mini_trade();
  std::string& text = files.at("rules/steering.toml");
  const std::size_t at = text.find(after);
  EXPECT_NE(at, std::string::npos);
  text.insert(at + after.size(), line);
  return load_trade(TestFolder(files).path());
}

const std::string kSum = "shape = \"sum\"\n";

TEST(SumShare, IsOneUnlessTheRuleSaysWhichPartCounts) {
  const auto share_of_the_sum = [](const LoadedTrade& loaded) {
    EXPECT_TRUE(loaded.problems.empty()) << loaded.problems.front().full();
    return std::ranges::find(loaded.trade.rules, RuleShape::kSum, &Rule::shape)->share;
  };
  EXPECT_EQ(share_of_the_sum(with_share("", kSum)), 1);
  EXPECT_EQ(share_of_the_sum(with_share("share = 0.6\n", kSum)), 0.6);
}

TEST(SumShare, LiesOverNothingAndAtMostAtAll) {
  for (const char* share : {"0", "-0.5", "1.5", "\"half\"", "\"60 %\"", "\"0.6 kg\""}) {
    const LoadedTrade loaded = with_share(std::string("share = ") + share + "\n", kSum);
    ASSERT_EQ(loaded.problems.size(), 1u) << share;
    EXPECT_EQ(loaded.problems.front().place.field, "share") << share;
    EXPECT_NE(loaded.problems.front().sentence.find("at most 1"), std::string::npos) << share;
  }
}

TEST(SumShare, BelongsToSumsOnly) {
  const LoadedTrade loaded = with_share("share = 0.6\n", "shape = \"same\"\n");
  ASSERT_EQ(loaded.problems.size(), 1u);
  EXPECT_EQ(loaded.problems.front().place.field, "share");
}

}  // namespace
}  // namespace rollwright::trade

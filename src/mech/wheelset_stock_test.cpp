#include "mech/wheelset_stock.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/random.hpp"
#include "mech/spoke_crossing.hpp"

namespace rollwright::mech {
namespace {

std::vector<Length> lengths(std::initializer_list<double> millimetres) {
  std::vector<Length> all;
  for (const double one : millimetres) all.push_back(one * mm);
  return all;
}

double off_mm(const WheelsetStock& stock) {
  double sum = 0;
  for (const StockLength& one : stock.taken) sum += std::abs(one.difference.in(mm));
  return sum;
}

TEST(WheelsetStock, TakesOneLengthForAllFlanksWhereOneFits) {
  // Each for itself would be 292 and 294; 293 mm fits both wheels.
  const auto stock = wheelset_stock(lengths({293.8, 292.6, 293.4, 293.1}),
                                    lengths({292, 293, 294}));
  ASSERT_TRUE(stock) << stock.error().full();
  EXPECT_EQ(stock->different, 1);
  for (const StockLength& one : stock->taken) EXPECT_EQ(one.length, 293 * mm);
}

TEST(WheelsetStock, TakesTheNearestOnceTheCountIsFewest) {
  // Two lengths are needed; for the first pair 292 is 0.2 and 0.4 mm off, 291 further.
  const auto stock = wheelset_stock(lengths({292.2, 291.6, 295.1}), lengths({291, 292, 295}));
  ASSERT_TRUE(stock) << stock.error().full();
  EXPECT_EQ(stock->different, 2);
  EXPECT_EQ(stock->taken[0].length, 292 * mm);
  EXPECT_EQ(stock->taken[1].length, 292 * mm);
  EXPECT_EQ(stock->taken[2].length, 295 * mm);
}

TEST(WheelsetStock, SaysWhichLengthFindsNothing) {
  const auto stock = wheelset_stock(lengths({292.2, 287.4}), lengths({292}));
  ASSERT_FALSE(stock);
  EXPECT_EQ(stock.error().code, Code::kNotFound);
  EXPECT_NE(stock.error().sentence.find("287.4"), std::string::npos);
}

TEST(WheelsetStock, RefusesMoreFlanksThanAWheelsetHasAndStockTooFine) {
  EXPECT_FALSE(wheelset_stock({}, usual_drawer()));
  EXPECT_FALSE(wheelset_stock(lengths({290, 290, 290, 290, 290}), usual_drawer()));
  EXPECT_FALSE(wheelset_stock(lengths({290}), lengths({290, 290.05})));
  EXPECT_TRUE(wheelset_stock(lengths({290}), lengths({290, 290}))) << "named twice is one";
}

TEST(WheelsetStock, TheUsualDrawerLeavesGapsThatItAdmits) {
  // Steps of 2 mm, allowed 1.5 mm: a quarter of all lengths finds nothing.
  EXPECT_TRUE(wheelset_stock(lengths({290.9}), usual_drawer()));
  EXPECT_TRUE(wheelset_stock(lengths({291.6}), usual_drawer()));
  EXPECT_FALSE(wheelset_stock(lengths({291.3}), usual_drawer()));
}

/// Second opinion: the smallest set of lengths that serves all flanks, each taking its nearest.
struct Served {
  int different = 9;
  double off_mm = 1e9;
};
Served by_sets(const std::vector<Length>& computed, const std::vector<Length>& stock) {
  Served best;
  for (unsigned set = 1; set < (1U << stock.size()); ++set) {
    std::set<Length> used;
    double off = 0;
    bool all = true;
    for (const Length length : computed) {
      std::optional<Length> nearest;
      for (std::size_t i = 0; i < stock.size(); ++i) {
        const double over = (stock[i] - length).in(mm);
        if ((set & (1U << i)) == 0 || over < -1 - 1e-9 || 0.5 + 1e-9 < over) continue;
        if (!nearest || std::abs(over) < std::abs((*nearest - length).in(mm))) nearest = stock[i];
      }
      all = all && nearest.has_value();
      if (!nearest) break;
      used.insert(*nearest);
      off += std::abs((*nearest - length).in(mm));
    }
    const int different = static_cast<int>(used.size());
    if (!all) continue;
    if (different < best.different || (different == best.different && off < best.off_mm)) {
      best = {different, off};
    }
  }
  return best;
}

TEST(WheelsetStock, AgreesWithTheSmallestSetThatServesAll) {
  constexpr std::uint64_t kSeed = 20261129;
  SCOPED_TRACE(kSeed);
  Random random(kSeed);
  int found = 0;
  for (int trial = 0; trial < 400; ++trial) {
    std::vector<Length> stock;
    for (int i = 0; i < 10; ++i) stock.push_back((288 + 0.5 * i) * mm);
    std::erase_if(stock, [&](Length) { return random.below(3) == 0; });
    std::vector<Length> computed;
    for (int i = 0; i < 4; ++i) computed.push_back((288 + 4.5 * random.uniform()) * mm);
    const auto ours = wheelset_stock(computed, stock);
    const Served theirs = by_sets(computed, stock);
    ASSERT_EQ(ours.has_value(), theirs.different < 9);
    if (!ours) continue;
    ++found;
    EXPECT_EQ(ours->different, theirs.different);
    EXPECT_NEAR(off_mm(*ours), theirs.off_mm, 1e-5);
  }
  EXPECT_GT(found, 100);
}

TEST(SpokeCrossing, LiesWhereTheLinesOfTwoSpokesMeet) {
  // By hand for 45 mm, 602 mm, 16 holes, three crosses: 301 sin 11.25° = 58.722 mm stands against
  // 22.5 sin 56.25° = 18.708 mm, so 75.84 % of the way from the nipple.
  const WheelSide side{.flange_circle = 45 * mm, .flange_offset = 37 * mm, .rim_diameter = 602 * mm};
  const auto line = spoke_length(side);
  const auto crossing = length_to_crossing(side);
  ASSERT_TRUE(line && crossing);
  EXPECT_NEAR(*crossing / line->path, 0.7584, 0.0001);
}

TEST(SpokeCrossing, IsTheWholeSpokeWhereNoneIsCrossed) {
  const WheelSide side{.flange_circle = 45 * mm, .flange_offset = 37 * mm, .rim_diameter = 602 * mm,
                       .crosses = 0};
  EXPECT_EQ(*length_to_crossing(side), spoke_length(side)->path);
}

TEST(SpokeCrossing, MovesOutwardsWithFewerHolesBetween) {
  const auto at = [](int holes) {
    const WheelSide side{.flange_circle = 45 * mm, .flange_offset = 37 * mm,
                         .rim_diameter = 602 * mm, .holes = holes, .crosses = 2};
    return *length_to_crossing(side);
  };
  EXPECT_GT(at(12), at(16));
  EXPECT_GT(at(16), at(18));
}

}  // namespace
}  // namespace rollwright::mech

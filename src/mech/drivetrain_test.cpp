#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "base/random.hpp"
#include "mech/belt.hpp"
#include "mech/chain.hpp"
#include "mech/gearing.hpp"
#include "mech/trials/checked.hpp"
#include "mech/tyre.hpp"

namespace rollwright::mech {
namespace {

using trials::CheckedRow;
using trials::expect_row;
using trials::expect_rows;
using trials::Tag;

DrivenWheel wheel_of(double width, double seat) {
  const TyreSize size{width * mm, seat * mm};
  return {tyre_diameter(size), tyre_circumference(size), 170 * mm};
}

DrivenWheel wheel_of_inches(double inches) {
  return {inches * inch, 3.14159265358979 * inches * inch, 170 * mm};
}

struct GearRow {
  std::string name;
  std::string of;
  Gear gear;
  DrivenWheel wheel;
  double inches, development_m, kmh_at_90;  // 0 when the row gives none
};

// Derived from the definitions of [gearing]; 4.2 is an identity.
const GearRow kGearRows[] = {
    {"4.1", "52 × 14, 27 in", {52, 14}, wheel_of_inches(27), 100.286, 8.002, 0},
    {"4.2", "48 × 16, 26 in", {48, 16}, wheel_of_inches(26), 78.0, 0, 0},
    {"4.3", "52 × 14, 25-622", {52, 14}, wheel_of(25, 622), 98.27, 7.841, 42.34},
    {"4.4", "50 × 11, 28-622", {50, 11}, wheel_of(28, 622), 121.33, 9.682, 52.28},
    {"4.5", "34 × 34, 28-622", {34, 34}, wheel_of(28, 622), 26.69, 2.130, 11.50},
    {"4.6", "42 × 16, 37-622", {42, 16}, wheel_of(37, 622), 71.93, 5.740, 30.99},
    {"4.7", "22 × 36, 57-559", {22, 36}, wheel_of(57, 559), 16.19, 1.292, 6.98},
    {"4.8", "38 × 19, 47-406", {38, 19}, wheel_of(47, 406), 39.37, 3.142, 0},
};

TEST(Gearing, AgreesWithTheCheckValues) {
  for (const GearRow& row : kGearRows) {
    SCOPED_TRACE(row.name);
    const auto figures = gear_figures(row.gear, row.wheel);
    ASSERT_TRUE(figures) << figures.error().full();
    expect_rows({.unit = "in",
                 .tag = row.name == "4.2" ? Tag::kIdentity : Tag::kDerived,
                 .source = "gearing"},
                {{row.name + " inches", "gear inches of " + row.of, row.inches, 0.0055,
                  figures->equivalent.in(inch)}});
    if (row.development_m > 0) {
      expect_rows({.unit = "m", .source = "gearing"},
                  {{row.name + " way", "way for one turn of the cranks, " + row.of,
                    row.development_m, 0.00055, figures->development.in(metre)}});
    }
    if (row.kmh_at_90 > 0) {
      expect_rows({.unit = "km/h", .source = "gearing"},
                  {{row.name + " speed", "speed at 90 turns a minute, " + row.of, row.kmh_at_90,
                    0.0055, speed_at(figures->development, 90)->in(km_per_hour)}});
    }
  }
  const auto usual = gear_figures(kGearRows[2].gear, kGearRows[2].wheel);
  expect_rows({.source = "gearing"},
              {{"4.3 ratio", "ratio of 52 × 14", 3.7143, 0.00005, usual->ratio},
               {"4.3 gain", "gain of 52 × 14, 25-622, crank 170 mm", 7.341, 0.0005, usual->gain}});
  // 16 CFR 1512.5 puts 60 turns a minute in a way of 6.67 m at 15 mph.
  const auto threshold = speed_at(6.67 * metre, 60);
  expect_row({.row = "4.9",
              .of = "speed at 60 turns a minute, 6.67 m for each",
              .unit = "km/h",
              .expected = 24.0,
              .tolerance = 0.05,
              .ours = threshold->in(km_per_hour),
              .tag = Tag::kFoundDerived,
              .source = "gearing"});
  EXPECT_NEAR(threshold->in(mile_per_hour), 15, 0.1);
}

TEST(Gearing, PlanetaryStepsAreEachOthersInverse) {
  const auto ratios = planetary_ratios(20, 60);
  expect_rows({.tag = Tag::kMemory, .source = "gearing"},
              {{"4.27 low", "low step of a hub, sun of 20 and ring of 60", 0.75, 0.0001,
                ratios->low},
               {"4.27 high", "its high step", 1.3333, 0.0001, ratios->high}});
  for (int sun = 12; sun < 40; ++sun) {
    EXPECT_NEAR(planetary_ratios(sun, 60)->low * planetary_ratios(sun, 60)->high, 1, 1e-12);
  }
  EXPECT_EQ(planetary_ratios(60, 60).error().code, Code::kContradiction);
}

TEST(GearList, GivesTheRangeOfHubGears) {
  // Ends of common hubs from memory, the ranges derived from them.
  struct Row {
    const char* gears;
    double low, high, percent;
  };
  const CheckedRow percent = {.unit = "%", .source = "gearing"};
  for (const Row& row : {Row{"7", 0.632, 1.545, 244}, {"8", 0.527, 1.615, 306},
                         {"11", 0.527, 2.153, 409}}) {
    const auto list = gear_list({{40}, {20}, {row.high, row.low}}, wheel_of(47, 622));
    expect_rows(percent, {{std::string("4.28 ") + row.gears,
                           std::string("range of a hub of ") + row.gears, row.percent, 0.6,
                           list->range_percent}});
    EXPECT_EQ(list->gears.front().gear.hub_ratio, row.low);
  }
  std::vector<double> fourteen;
  for (int i = 0; i < 14; ++i) fourteen.push_back(0.279 * std::pow(1.467 / 0.279, i / 13.0));
  const auto list = gear_list({{40}, {20}, fourteen}, wheel_of(47, 622));
  expect_rows(percent, {{"4.28 14", "range of a hub of 14", 525.8, 0.05, list->range_percent},
                        {"4.28 14, step", "its step, 14 gears evenly", 13.62, 0.01,
                         list->gears[7].step_percent}});
}

TEST(GearList, IsInOrderAndComplete) {
  const auto list = gear_list({{34, 50}, {11, 13, 15, 17, 19, 21, 24, 28, 34}}, wheel_of(28, 622));
  ASSERT_EQ(list->gears.size(), 18u);
  for (std::size_t i = 1; i < list->gears.size(); ++i) {
    EXPECT_LE(list->gears[i - 1].ratio, list->gears[i].ratio);
    EXPECT_GE(list->gears[i].step_percent, 0);
  }
  EXPECT_NEAR(list->range_percent, 100 * (50.0 / 11) / (34.0 / 34), 1e-9);
  EXPECT_FALSE(gear_list({{}, {11}}, wheel_of(28, 622)));
  EXPECT_FALSE(gear_list({{34}, {0}}, wheel_of(28, 622)));
}

TEST(PrimaryRatio, ComparesWithThePrintedLeast) {
  EXPECT_TRUE(primary_ratio({38, 20}, 1.9)->holds);
  EXPECT_FALSE(primary_ratio({36, 20}, 1.9)->holds);
  EXPECT_FALSE(primary_ratio({36, 20}, 0));
}

struct BeltRow {
  std::string name;
  int front, rear, teeth;
  double length, exact, approximate, span, mesh, per_tooth;
};

// Derived from the equation of [belt-length] at 11 mm pitch.
const BeltRow kBeltRows[] = {
    {"4.19", 55, 22, 118, 1298, 433.394, 433.399, 429.53, 10.06, 5.549},
    {"4.20", 50, 22, 113, 1243, 420.640, 420.644, 417.77, 10.18, 5.537},
    {"4.21", 46, 24, 111, 1221, 416.217, 416.218, 414.43, 11.29, 5.523},
    {"4.22", 55, 24, 118, 1298, 428.307, 428.312, 424.86, 11.03, 5.544},
    {"4.23", 60, 20, 122, 1342, 445.485, 445.496, 439.95, 9.00, 5.568},
    {"4.24", 39, 39, 115, 1265, 418.000, 418.000, 418.00, 19.50, 5.500},
};

TEST(Belt, AgreesWithTheCheckValues) {
  for (const BeltRow& row : kBeltRows) {
    SCOPED_TRACE(row.name);
    const BeltDrive drive{row.front, row.rear};
    const auto run = belt_run(drive, row.teeth);
    ASSERT_TRUE(run) << run.error().full();
    const std::string of = std::to_string(row.front) + " × " + std::to_string(row.rear) +
                           " with a belt of " + std::to_string(row.teeth) + ": ";
    expect_rows({.unit = "mm", .source = "belt-length"},
                {{row.name + " length", of + "its length", row.length, 0.001,
                  belt_length(drive, run->centre_distance)->in(mm)},
                 {row.name + " centre", of + "centre distance", row.exact, 0.0006,
                  run->centre_distance.in(mm)},
                 {row.name + " catalogue", of + "centre distance by the catalogue formula",
                  row.approximate, 0.0006, run->approximate.in(mm)},
                 {row.name + " span", of + "free span", row.span, 0.006, run->span.in(mm)},
                 {row.name + " tooth", of + "centre distance for one tooth more", row.per_tooth,
                  0.001, run->per_tooth.in(mm)}});
    expect_rows({.unit = "teeth", .source = "belt-length"},
                {{row.name + " mesh", of + "teeth in mesh", row.mesh, 0.006, run->teeth_in_mesh}});
  }
}

TEST(Belt, ClosesAndGrowsWithEveryTooth) {
  Random random(31);
  for (int i = 0; i < 1000; ++i) {
    const BeltDrive drive{30 + static_cast<int>(random.below(41)),
                          18 + static_cast<int>(random.below(22))};
    Length before;
    for (int teeth = 100; teeth < 130; ++teeth) {
      const auto run = belt_run(drive, teeth);
      ASSERT_TRUE(run) << "seed 31, case " << i;
      ASSERT_GT(run->centre_distance, before) << "seed 31, case " << i;
      ASSERT_NEAR(belt_length(drive, run->centre_distance)->in(mm), 11.0 * teeth, 1e-9)
          << "seed 31, case " << i;
      before = run->centre_distance;
    }
  }
}

TEST(Belt, DoesNotCareWhichPulleyIsInFront) {
  EXPECT_EQ(belt_run({55, 22}, 118)->centre_distance, belt_run({22, 55}, 118)->centre_distance);
}

TEST(Belt, RefusesABeltThatCannotGoAround) {
  const auto run = belt_run({60, 60}, 62);
  ASSERT_FALSE(run);
  EXPECT_EQ(run.error().code, Code::kContradiction);
  EXPECT_EQ(belt_length({60, 60}, 100 * mm).error().code, Code::kContradiction);
  EXPECT_EQ(belt_run({60, 22}, -5).error().code, Code::kOutOfRange);
}

TEST(BeltsThatFit, MatchesAPlainSearch) {
  const BeltSearch search{.fronts = {46, 50, 55},
                          .rears = {20, 22, 24},
                          .belts = {108, 111, 113, 115, 118, 120, 122},
                          .least_centre = 420 * mm,
                          .most_centre = 440 * mm,
                          .room_to_tighten = 3 * mm,
                          .wanted_ratio = 2.3};
  const auto fits = belts_that_fit(search);
  ASSERT_TRUE(fits);
  std::size_t expected = 0;
  for (const int front : search.fronts) {
    for (const int rear : search.rears) {
      for (const int belt : search.belts) {
        const double centre = belt_run({front, rear}, belt)->centre_distance.in(mm);
        expected += centre >= 420 && centre <= 437;
      }
    }
  }
  EXPECT_EQ(fits->size(), expected);
  ASSERT_GT(expected, 1u);
  for (std::size_t i = 1; i < fits->size(); ++i) {
    EXPECT_LE(std::fabs(std::log((*fits)[i - 1].ratio / 2.3)),
              std::fabs(std::log((*fits)[i].ratio / 2.3)));
  }
  for (const BeltFit& fit : *fits) EXPECT_GE(fit.room_left.in(mm), 3);
}

TEST(BeltsThatFit, RefusesARangeWithoutRoom) {
  BeltSearch search{.fronts = {50},
                    .rears = {22},
                    .belts = {113},
                    .least_centre = 420 * mm,
                    .most_centre = 422 * mm,
                    .room_to_tighten = 3 * mm};
  EXPECT_EQ(belts_that_fit(search).error().code, Code::kContradiction);
  search.room_to_tighten = 1 * mm;
  EXPECT_EQ(belts_that_fit(search)->size(), 1u);
  search.belts = {60};
  EXPECT_TRUE(belts_that_fit(search)->empty());
}

TEST(BeltTension, AgreesWithTheCheckValuesAndBack) {
  const BeltSpan heavy{0.070 * kg_per_metre, 430.2 * mm};
  const BeltSpan light{0.065 * kg_per_metre, 420 * mm};
  expect_rows({.unit = "N", .source = "belt-tension"},
              {{"4.25", "belt of 0.070 kg/m, span 430.2 mm, at 60 Hz", 186.6, 0.05,
                belt_tension(heavy, 60 * hertz)->in(newton)},
               {"4.26", "belt of 0.065 kg/m, span 420 mm, at 55 Hz", 138.7, 0.05,
                belt_tension(light, 55 * hertz)->in(newton)}});
  const BeltSpan span{0.07 * kg_per_metre, 430 * mm};
  EXPECT_NEAR(belt_pitch(span, *belt_tension(span, 62 * hertz))->in(hertz), 62, 1e-9);
  EXPECT_FALSE(belt_tension(span, std::nan("") * hertz));
}

struct ChainRow {
  std::string name;
  int front, rear;
  double centre, exact, approximate;
};

// Derived from [chain-length].
const ChainRow kChainRows[] = {
    {"4.10", 48, 18, 430, 101.3910, 101.3899}, {"4.11", 52, 28, 410, 105.0194, 105.0189},
    {"4.12", 44, 16, 445, 100.6463, 100.6455}, {"4.13", 50, 34, 412, 107.0819, 107.0818},
    {"4.14", 32, 51, 440, 111.0554, 111.0553}, {"4.15", 42, 42, 420, 108.1417, 108.1417},
};

TEST(Chain, AgreesWithTheCheckValues) {
  const CheckedRow links_of = {.unit = "links", .source = "chain-length"};
  for (const ChainRow& row : kChainRows) {
    const auto links = chain_links({row.front, row.rear, row.centre * mm});
    ASSERT_TRUE(links);
    const std::string of = std::to_string(row.front) + " × " + std::to_string(row.rear) + " at " +
                           std::to_string(std::lround(row.centre)) + " mm";
    expect_rows(links_of, {{row.name + " exact", "chain around " + of, row.exact, 0.00006,
                            links->exact},
                           {row.name + " handbook", "the same by the handbook form",
                            row.approximate, 0.00006, links->approximate}});
    EXPECT_EQ(links->to_cut % 2, 0);
    EXPECT_GE(links->to_cut, links->exact);
    EXPECT_LT(links->to_cut, links->exact + 2);
  }
  expect_rows({.unit = "mm", .source = "chain-length"},
              {{"4.16", "centre distance of 48 × 18 with 102 links", 433.906, 0.0006,
                chain_centre_distance(48, 18, 102)->in(mm)},
               {"4.17", "centre distance of 44 × 16 with 100 links", 440.86, 0.006,
                chain_centre_distance(44, 16, 100)->in(mm)}});
  EXPECT_EQ(chain_centre_distance(48, 48, 50).error().code, Code::kContradiction);
}

TEST(Chain, FollowsTheDerailleurRule) {
  expect_rows({.unit = "links", .source = "chain-rule"},
              {{"4.18 road", "derailleur chain of 52 × 28 at 410 mm", 108, 0.1,
                static_cast<double>(*derailleur_chain_links({52, 28, 410 * mm}))},
               {"4.18 mountain", "derailleur chain of 32 × 51 at 440 mm", 114, 0.1,
                static_cast<double>(*derailleur_chain_links({32, 51, 440 * mm}))}});
  EXPECT_EQ(*derailleur_capacity({50, 34, 34, 11}), 39);
  EXPECT_EQ(derailleur_capacity({34, 50, 34, 11}).error().code, Code::kContradiction);
}

TEST(ChainsThatFit, MatchAPlainSearch) {
  ChainSearch search{.front = 44,
                     .rear = 16,
                     .least_centre = 430 * mm,
                     .most_centre = 450 * mm,
                     .room_to_tighten = 4 * mm};
  for (const bool half_links : {false, true}) {
    search.half_links = half_links;
    const auto fits = chains_that_fit(search);
    ASSERT_TRUE(fits);
    std::vector<int> expected;
    for (int links = 80; links < 140; links += half_links ? 1 : 2) {
      const double centre = chain_centre_distance(44, 16, links)->in(mm);
      if (centre >= 430 && centre <= 446) expected.push_back(links);
    }
    ASSERT_EQ(fits->size(), expected.size());
    ASSERT_FALSE(expected.empty());
    for (std::size_t i = 0; i < fits->size(); ++i) EXPECT_EQ((*fits)[i].links, expected[i]);
  }
  search.room_to_tighten = 25 * mm;
  EXPECT_EQ(chains_that_fit(search).error().code, Code::kContradiction);
}

TEST(Chain, KnowsItsWear) {
  expect_rows({.unit = "mm", .source = "chain-rule"},
              {{"4.29 narrow", "24 pitches worn by 0.5 %", 306.32, 0.006,
                worn_chain_length(24, 0.005).in(mm)},
               {"4.29 wide", "24 pitches worn by 0.75 %", 307.09, 0.006,
                worn_chain_length(24, 0.0075).in(mm)}});
  EXPECT_NEAR(*chain_wear(306.324 * mm, 24), 0.005, 1e-9);
  EXPECT_EQ(chain_wear(306.324 * mm, 23).error().code, Code::kOutOfRange);
}

}  // namespace
}  // namespace rollwright::mech

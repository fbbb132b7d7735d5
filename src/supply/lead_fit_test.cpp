#include "supply/lead_fit.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "base/random.hpp"

// All suppliers and deliveries in these tests are invented.
namespace rollwright::supply {
namespace {

double normal_below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

/// One way in which a supplier stands with two kinds, drawn from what the model believes.
struct Way {
  std::array<double, 2> log_middle;
  std::array<double, 2> sigma;
};

Way drawn_way(const std::array<LeadHistory, 2>& kinds, Random& random) {
  Way way;
  const double a = LeadModel::kSupplier * random.normal();
  for (std::size_t i = 0; i < 2; ++i) {
    const double b = LeadModel::kKind * random.normal();
    way.log_middle[i] = std::log(kinds[i].middle_days) + kinds[i].sigma * (a + b);
    way.sigma[i] = kinds[i].sigma *
                   random.lognormal(std::log(LeadModel::kWithin), LeadModel::kWithinSpread);
  }
  return way;
}

int drawn_days(const Way& way, std::size_t kind, Random& random) {
  const double width = random.uniform() < LeadModel::kAstray ? LeadModel::kAstrayWidth : 1;
  const double log_days = way.log_middle[kind] + width * way.sigma[kind] * random.normal();
  return std::max(1, static_cast<int>(std::ceil(std::exp(std::min(log_days, 12.0)))));
}

double p_within(const Way& way, std::size_t kind, int days) {
  if (days <= 0) return 0;
  const double z = (std::log(days) - way.log_middle[kind]) / way.sigma[kind];
  return 0.95 * normal_below(z) + 0.05 * normal_below(z / 3);
}

// Second opinion: ways drawn from what is believed before, each weighed by how well it explains the
// receipts and the lines still open. No grid, no table, nothing of the engine but its stated model.
void expect_as_weighed(const std::array<LeadHistory, 2>& kinds, std::uint64_t seed) {
  Random random(seed);
  std::array<std::array<double, 61>, 2> plain{};
  double all = 0;
  for (int i = 0; i < 150000; ++i) {
    const Way way = drawn_way(kinds, random);
    double weight = 1;
    for (std::size_t kind = 0; kind < 2; ++kind) {
      for (const auto& [days, count] : kinds[kind].days) {
        weight *= std::pow(p_within(way, kind, days) - p_within(way, kind, days - 1), count);
      }
      for (const auto& [days, count] : kinds[kind].open) {
        weight *= std::pow(1 - p_within(way, kind, days), count);
      }
    }
    all += weight;
    for (std::size_t kind = 0; kind < 2; ++kind) {
      for (int k = 0; k <= 60; ++k) {
        plain[kind][static_cast<std::size_t>(k)] += weight * p_within(way, kind, k);
      }
    }
  }
  const auto beliefs = learn({kinds[0], kinds[1]});
  for (std::size_t kind = 0; kind < 2; ++kind) {
    const DayOdds odds = next_delivery(beliefs[kind]);
    for (int k = 0; k <= 60; ++k) {
      EXPECT_NEAR(within(odds, k), plain[kind][static_cast<std::size_t>(k)] / all, 0.006)
          << "kind " << kind << ", within " << k << " days";
    }
  }
}

TEST(LeadFit, AgreesWithPlainWeighing) {
  expect_as_weighed({LeadHistory{.middle_days = 6, .sigma = 0.6,
                                 .days = {{9, 1}, {12, 2}, {40, 1}}, .open = {}},
                     LeadHistory{.middle_days = 3, .sigma = 0.4, .days = {{1, 1}, {4, 1}},
                                 .open = {}}},
                    11);
}

TEST(LeadFit, AgreesWithPlainWeighingOfLinesStillOpen) {
  expect_as_weighed({LeadHistory{.middle_days = 6, .sigma = 0.6, .days = {{5, 2}, {7, 1}},
                                 .open = {{3, 4}, {14, 2}, {25, 1}}},
                     LeadHistory{.middle_days = 3, .sigma = 0.4, .days = {}, .open = {{6, 2}}}},
                    12);
}

/// The mean of what is believed of the middle, as a logarithm of working days.
double believed_middle(const LeadHistory& kind) {
  const LeadBelief belief = learn({kind}).at(0);
  double mean = 0;
  for (const LeadNode& node : belief.nodes) mean += node.weight * node.log_middle;
  return mean;
}

// Second opinion: the highest place of the same likelihood times what is believed before, over a
// plain fine grid. With many lines the belief lies close around it.
TEST(LeadFit, LiesAroundTheMostLikelyWayWhenManyLinesAreOpen) {
  const LeadHistory kinds[] = {
      {.middle_days = 5, .sigma = 0.5, .days = {{3, 20}, {4, 25}, {5, 15}, {7, 10}},
       .open = {{2, 10}, {4, 10}, {9, 30}}},
      {.middle_days = 5, .sigma = 0.5, .days = {{5, 30}, {6, 30}}, .open = {{40, 60}}},
      {.middle_days = 20, .sigma = 0.7, .days = {{30, 12}, {41, 9}},
       .open = {{10, 40}, {20, 30}, {60, 8}}}};
  for (const LeadHistory& kind : kinds) {
    double most = -1e300;
    double middle = 0;
    double sigma = 0;
    const double all = kind.sigma * std::hypot(LeadModel::kSupplier, LeadModel::kKind);
    for (int i = -400; i <= 1200; ++i) {
      for (int j = -160; j <= 200; ++j) {
        const double off = i * 0.01 * kind.sigma / 2;
        const double log_s = std::log(LeadModel::kWithin) + j * 0.01;
        const Way way{.log_middle = {std::log(kind.middle_days) + off, 0},
                      .sigma = {kind.sigma * std::exp(log_s), 1}};
        double likely = -off * off / (2 * all * all) -
                        std::pow(j * 0.01 / LeadModel::kWithinSpread, 2) / 2;
        for (const auto& [days, count] : kind.days) {
          likely += count * std::log(p_within(way, 0, days) - p_within(way, 0, days - 1));
        }
        for (const auto& [days, count] : kind.open) {
          likely += count * std::log(1 - p_within(way, 0, days));
        }
        if (likely <= most) continue;
        most = likely;
        middle = way.log_middle[0];
        sigma = way.sigma[0];
      }
    }
    double mean = 0;
    double mean_sigma = 0;
    const LeadBelief belief = learn({kind}).at(0);
    for (const LeadNode& node : belief.nodes) {
      mean += node.weight * node.log_middle;
      mean_sigma += node.weight * node.sigma;
    }
    EXPECT_NEAR(mean, middle, 0.06) << kind.middle_days << ", " << kind.open.size();
    EXPECT_NEAR(mean_sigma, sigma, 0.06) << kind.middle_days << ", " << kind.open.size();
  }
}

TEST(LeadFit, SaysTheSameWhenNothingIsOpen) {
  Random random(31);
  for (int i = 0; i < 20; ++i) {
    LeadHistory kind{.middle_days = 1 + 30 * random.uniform(), .sigma = 0.2 + random.uniform(),
                     .days = {}, .open = {}};
    const int count = static_cast<int>(random.below(30));
    for (int k = 0; k < count; ++k) ++kind.days[static_cast<int>(random.below(40))];
    const DayOdds before = next_delivery(learn({kind}).at(0));
    kind.open[0] = 5;  // ordered today
    EXPECT_EQ(next_delivery(learn({kind}).at(0)).by, before.by);
  }
}

TEST(LeadFit, ExpectsLongerTheLongerLinesAreOpen) {
  LeadHistory kind{.middle_days = 5, .sigma = 0.5, .days = {{4, 4}, {5, 6}, {6, 4}}, .open = {}};
  double before = believed_middle(kind);
  for (const int days : {4, 6, 10, 20}) {
    kind.open = {{days, 5}};
    const double middle = believed_middle(kind);
    EXPECT_GT(middle, before) << days;
    before = middle;
  }
}

// So far beyond all that came, lines count as gone astray: they lengthen the tail, not the middle.
TEST(LeadFit, TakesLinesFarBeyondAllThatCameAsGoneAstray) {
  LeadHistory kind{.middle_days = 5, .sigma = 0.5, .days = {{4, 4}, {5, 6}, {6, 4}}, .open = {}};
  const DayOdds without = next_delivery(learn({kind}).at(0));
  for (const int lines : {1, 5}) {
    kind.open = {{200, lines}};
    const DayOdds with = next_delivery(learn({kind}).at(0));
    EXPECT_LE(days_for(with, 0.5) - days_for(without, 0.5), 1) << lines;
    EXPECT_GT(1 - within(with, 20), 1 - within(without, 20)) << lines;
  }
}

/// A supplier of whom the shop has known for thirty days: it ordered on each of them, and what is
/// quick has come. The middle that is learned, against the truth, as a logarithm.
double learned_off(bool with_open, std::uint64_t seed) {
  Random random(seed);
  const double middle = 20;
  LeadHistory kind{.middle_days = 10, .sigma = 0.7, .days = {}, .open = {}};
  for (int ago = 30; ago >= 1; --ago) {
    const int days = static_cast<int>(std::ceil(random.lognormal(std::log(middle), 0.35)));
    if (days <= ago) {
      ++kind.days[days];
    } else if (with_open) {
      ++kind.open[ago];
    }
  }
  return believed_middle(kind) - std::log(middle);
}

TEST(LeadFit, IsNotTooShortWhereTheSlowOnesAreStillToCome) {
  constexpr int kWorlds = 60;
  double without = 0;
  double with = 0;
  for (std::uint64_t world = 0; world < kWorlds; ++world) {
    without += learned_off(false, 100 + world) / kWorlds;
    with += learned_off(true, 100 + world) / kWorlds;
  }
  EXPECT_LT(without, -0.2) << "receipts alone say too few days";
  EXPECT_NEAR(with, 0, 0.03);
}

TEST(LeadFit, GivesTheRowItselfWithoutReceipts) {
  for (const double sigma : {0.3, 0.6, 0.9}) {
    const double middle = 40;
    const DayOdds odds = next_delivery(learn({{.middle_days = middle, .sigma = sigma}}).at(0));
    const double z90 = 1.2815515655446004;
    const int low = static_cast<int>(std::lround(middle * std::exp(-z90 * sigma)));
    const int high = static_cast<int>(std::lround(middle * std::exp(z90 * sigma)));
    EXPECT_NEAR(within(odds, 40), 0.5, 0.02) << sigma;
    EXPECT_NEAR(within(odds, low), 0.1, 0.025) << sigma;
    EXPECT_NEAR(within(odds, high), 0.9, 0.025) << sigma;
  }
}

/// How often deliveries fell inside the middle 50, 80 and 90 in 100, and in each tenth of the odds.
struct Calibration {
  int count = 0;
  std::array<int, 3> inside{};
  std::array<int, 10> tenth{};

  void add(const DayOdds& odds, int days, Random& random) {
    const double below = within(odds, days - 1);
    const double place = below + random.uniform() * (within(odds, days) - below);
    ++count;
    ++tenth[std::min<std::size_t>(9, static_cast<std::size_t>(place * 10))];
    const std::array<double, 3> ranges = {0.5, 0.8, 0.9};
    for (std::size_t i = 0; i < 3; ++i) {
      if (std::abs(place - 0.5) <= ranges[i] / 2) ++inside[i];
    }
  }
  double share(std::size_t i) const { return static_cast<double>(inside[i]) / count; }
};

/// `draw_way` makes a supplier; it delivers up to 40 times and then once more of each kind.
template <class DrawWay>
Calibration calibrated(std::uint64_t seed, int suppliers, DrawWay draw_way) {
  Calibration result;
  Random random(seed);
  const std::array<int, 6> counts = {0, 1, 2, 5, 12, 40};
  for (int s = 0; s < suppliers; ++s) {
    std::array<LeadHistory, 2> kinds = {LeadHistory{.middle_days = 5, .sigma = 0.5, .days = {}},
                                        LeadHistory{.middle_days = 20, .sigma = 0.7, .days = {}}};
    const Way way = draw_way(kinds, random);
    for (std::size_t kind = 0; kind < 2; ++kind) {
      const int count = counts[random.below(counts.size())];
      for (int i = 0; i < count; ++i) ++kinds[kind].days[drawn_days(way, kind, random)];
    }
    const auto beliefs = learn({kinds[0], kinds[1]});
    for (std::size_t kind = 0; kind < 2; ++kind) {
      const int next = drawn_days(way, kind, random);
      result.add(next_delivery(beliefs[kind]), next, random);
    }
  }
  return result;
}

TEST(LeadFit, KeepsItsOddsOnSimulatedSuppliers) {
  const Calibration seen = calibrated(3, 600, drawn_way);
  EXPECT_NEAR(seen.share(0), 0.5, 0.03);
  EXPECT_NEAR(seen.share(1), 0.8, 0.03);
  EXPECT_NEAR(seen.share(2), 0.9, 0.03);
  // Chi-square of ten equal classes: 27.9 is passed once in a thousand (from memory).
  double chi = 0;
  const double expected = seen.count / 10.0;
  for (const int n : seen.tenth) chi += (n - expected) * (n - expected) / expected;
  EXPECT_LT(chi, 27.9);
}

// The world need not be the model: no stray deliveries, spreads all alike, suppliers further apart.
TEST(LeadFit, KeepsItsOddsNearlyWhenTheWorldIsAnother) {
  const auto other = [](const std::array<LeadHistory, 2>& kinds, Random& random) {
    Way way = drawn_way(kinds, random);
    const double further = 0.4 * (random.uniform() < 0.5 ? -1 : 1);
    for (std::size_t i = 0; i < 2; ++i) {
      way.log_middle[i] += further;
      way.sigma[i] = kinds[i].sigma * 0.6;
    }
    return way;
  };
  const Calibration seen = calibrated(4, 600, other);
  EXPECT_NEAR(seen.share(0), 0.5, 0.06);
  EXPECT_NEAR(seen.share(1), 0.8, 0.06);
  EXPECT_NEAR(seen.share(2), 0.9, 0.06);
}

TEST(LeadFit, IsNotMovedMuchByOneDeliveryGoneAstray) {
  LeadHistory kind{.middle_days = 5, .sigma = 0.5, .days = {{4, 3}, {5, 4}, {6, 3}}};
  const DayOdds before = next_delivery(learn({kind}).at(0));
  kind.days[120] = 1;
  const DayOdds after = next_delivery(learn({kind}).at(0));
  EXPECT_LE(days_for(after, 0.5) - days_for(before, 0.5), 1);
  EXPECT_LE(days_for(after, 0.9) - days_for(before, 0.9), 2);
  EXPECT_GT(1 - within(after, 60), 1 - within(before, 60)) << "but it can happen again";
}

TEST(LeadFit, LearnsOfAKindFromTheSuppliersOtherKinds) {
  const LeadHistory slow{.middle_days = 5, .sigma = 0.5, .days = {{10, 5}, {12, 5}, {14, 5}}};
  const LeadHistory unseen{.middle_days = 20, .sigma = 0.5, .days = {}};
  const auto beliefs = learn({slow, unseen});
  const auto alone = learn({unseen});
  EXPECT_GT(days_for(next_delivery(beliefs[1]), 0.5), days_for(next_delivery(alone[0]), 0.5) + 3);
  EXPECT_LT(beliefs[0].unsure, 0.2);
  EXPECT_LT(beliefs[1].unsure, 1.0);
  EXPECT_GT(beliefs[1].unsure, beliefs[0].unsure);
}

TEST(DayOdds, AreCutExactlyByTheDaysGone) {
  const DayOdds odds{.by = {0, 0.5, 0.75, 0.875, 1}};
  const DayOdds left = given_not_yet(odds, 1);
  EXPECT_DOUBLE_EQ(within(left, 0), 0);
  EXPECT_DOUBLE_EQ(within(left, 1), 0.5);
  EXPECT_DOUBLE_EQ(within(left, 2), 0.75);
  EXPECT_DOUBLE_EQ(within(left, 9), 1);
  EXPECT_TRUE(given_not_yet(odds, 4).by.empty()) << "beyond the table nothing is known";
}

// A delivery that is overdue is one of the slow ones: the longer gone, the longer still.
TEST(DayOdds, WaitLongerTheLongerADeliveryIsOverdue) {
  const DayOdds odds = next_delivery(learn({{.middle_days = 5, .sigma = 0.6}}).at(0));
  int before = 0;
  for (const int gone : {5, 15, 40, 120}) {
    const int left = days_for(given_not_yet(odds, gone), 0.5);
    EXPECT_GT(left, before) << gone;
    before = left;
  }
}

TEST(DayOdds, AddUpAsDrawnWaitsDo) {
  const DayOdds first = next_delivery(learn({{.middle_days = 4, .sigma = 0.5}}).at(0));
  const DayOdds second = next_delivery(learn({{.middle_days = 9, .sigma = 0.4}}).at(0));
  const DayOdds sum = then(first, second);
  Random random(8);
  constexpr int kDraws = 40000;
  std::array<int, 4> seen{};
  const std::array<int, 4> days = {8, 13, 20, 40};
  const auto drawn = [&random](const DayOdds& odds) {
    return days_for(odds, std::max(1e-9, random.uniform()));
  };
  for (int i = 0; i < kDraws; ++i) {
    const int total = drawn(first) + drawn(second);
    for (std::size_t k = 0; k < 4; ++k) seen[k] += total <= days[k] ? 1 : 0;
  }
  for (std::size_t k = 0; k < 4; ++k) {
    EXPECT_NEAR(within(sum, days[k]), static_cast<double>(seen[k]) / kDraws, 0.01) << days[k];
  }
}

// The bound that the header states.
TEST(DayOdds, HaveASpreadThatIsNearThemAboveTheMiddle) {
  for (const double middle : {2.0, 8.0, 40.0}) {
    for (const double sigma : {0.3, 0.6, 0.9}) {
      const DayOdds fresh = next_delivery(learn({{.middle_days = middle, .sigma = sigma}}).at(0));
      for (const int gone : {0, 3, 30}) {
        for (const double bad : {0.0, 0.08}) {
          const DayOdds odds = given_not_yet(mixed(then(fresh, fresh), fresh, bad), gone);
          const trade::Spread spread = spread_like(odds);
          EXPECT_GE(spread.least, 0);
          for (int k = days_for(odds, 0.5); k <= 400; ++k) {
            const double z = std::log(std::max(1e-9, k - spread.least) / spread.median) /
                             std::max(1e-9, spread.sigma);
            EXPECT_NEAR(normal_below(z), within(odds, k), 0.06)
                << middle << ", " << sigma << ", gone " << gone << ", bad " << bad << ", " << k;
          }
        }
      }
    }
  }
}

}  // namespace
}  // namespace rollwright::supply

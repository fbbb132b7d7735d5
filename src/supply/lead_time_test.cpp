#include "supply/lead_time.hpp"

#include <array>
#include <cmath>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/working_days.hpp"

// All suppliers, parts and deliveries in these tests are invented.
namespace rollwright::supply {
namespace {

using trade::PartId;
using trade::SupplierId;

Day day(const char* text) { return parse_day(text).value(); }

std::map<std::string, trade::LeadTimePrior> priors() {
  return {{"hubs", {.group = "hubs", .stocked = {0, 5, 0.5, ""}, .importer = {0, 25, 0.6, ""},
                    .made = {0, 90, 0.7, ""}}}};
}
const std::map<PartId, std::string> kGroups = {{PartId("hub"), "hubs"}, {PartId("far"), "hubs"}};
const trade::Offer kHub{.supplier = SupplierId("nordal"), .part = PartId("hub")};
const trade::Offer kFarHub{.supplier = SupplierId("nordal"), .part = PartId("far"),
                           .availability = "importer"};

trade::Receipt received(const trade::Offer& offer, Day ordered, int days) {
  return {.supplier = offer.supplier, .part = offer.part, .ordered = ordered,
          .received = add_working_days(ordered, days)};
}

std::vector<trade::Receipt> receipts_of(double median, double sigma, int count, Random& random) {
  std::vector<trade::Receipt> receipts;
  for (int i = 0; i < count; ++i) {
    const double days = random.lognormal(std::log(median), sigma);
    receipts.push_back(received(kHub, day("2026-01-05"), static_cast<int>(std::ceil(days))));
  }
  return receipts;
}

TEST(LeadTimes, FollowTheKindWithoutHistory) {
  const LeadTimes none(priors(), kGroups, {});
  EXPECT_NEAR(days_for(none.odds(kHub), 0.5), 5, 1);
  EXPECT_NEAR(none.of(kHub).least + none.of(kHub).median, 5, 0.5);
  EXPECT_NEAR(days_for(none.odds(kFarHub), 0.5), 25, 2);
  EXPECT_EQ(none.of(kHub).basis, "usual for hubs; no receipts from this supplier");
}

TEST(LeadTimes, FindTheTruthFromManyReceiptsAndLeanOnTheKindWithFew) {
  Random random(5);
  std::vector<trade::Receipt> many = receipts_of(14, 0.3, 400, random);
  const DayOdds learned = LeadTimes(priors(), kGroups, many).odds(kHub);
  std::vector<int> fresh;
  for (const trade::Receipt& receipt : receipts_of(14, 0.3, 4000, random)) {
    fresh.push_back(working_days_between(receipt.ordered, receipt.received));
  }
  std::sort(fresh.begin(), fresh.end());
  EXPECT_NEAR(days_for(learned, 0.5), fresh[2000], 1);
  EXPECT_NEAR(days_for(learned, 0.8), fresh[3200], 1);
  const LeadTimes few(priors(), kGroups, receipts_of(14, 0.01, 1, random));
  EXPECT_GT(days_for(few.odds(kHub), 0.5), 5);
  EXPECT_LT(days_for(few.odds(kHub), 0.5), 14);
}

TEST(LeadTimes, SayWhatTheyRestOn) {
  std::vector<trade::Receipt> receipts = {received(kHub, day("2026-01-05"), 4),
                                          received(kHub, day("2026-02-05"), 5),
                                          received(kFarHub, day("2026-03-05"), 30)};
  receipts[1].condition = "damaged";
  const LeadTimes lead_times(priors(), kGroups, receipts, {kHub, kFarHub});
  const LeadEvidence evidence = lead_times.evidence(kHub);
  EXPECT_EQ(evidence.of_kind, 2);
  EXPECT_EQ(evidence.of_supplier, 3);
  EXPECT_EQ(evidence.not_good, 1);
  EXPECT_LT(evidence.unsure, 1);
  EXPECT_EQ(in_words(evidence),
            "2 receipts of hubs from this supplier, 3 in all; 1 of these wrong, damaged or short");
  EXPECT_EQ(lead_times.evidence(kFarHub).of_kind, 1) << "another road is another history";
}

TEST(LeadTimes, CountLinesThatAreNotHereYet) {
  std::vector<trade::Receipt> receipts;
  for (int i = 0; i < 6; ++i) receipts.push_back(received(kHub, day("2026-01-05"), 4 + i % 3));
  const auto open = [](const trade::Offer& offer, int waited) {
    return StillOpen{offer.supplier, offer.part, day("2026-06-01"),
                     add_working_days(day("2026-06-01"), waited)};
  };
  const LeadTimes without(priors(), kGroups, receipts, {kHub, kFarHub});
  // Ordered today, or of a part that nobody knows: nothing is learned.
  const LeadTimes none(priors(), kGroups, receipts, {kHub, kFarHub}, {},
                       {open(kHub, 0), {kHub.supplier, PartId("unknown"), day("2026-01-05"),
                                        day("2026-06-01")}});
  EXPECT_EQ(none.odds(kHub).by, without.odds(kHub).by);
  EXPECT_EQ(in_words(none.evidence(kHub)), in_words(without.evidence(kHub)));
  const LeadTimes with(priors(), kGroups, receipts, {kHub, kFarHub}, {},
                       {open(kHub, 20), open(kHub, 42), open(kFarHub, 9)});
  EXPECT_GT(days_for(with.odds(kHub), 0.8), days_for(without.odds(kHub), 0.8));
  EXPECT_EQ(with.evidence(kHub).open, 2) << "another road is another history";
  EXPECT_EQ(in_words(with.evidence(kHub)),
            "6 receipts of hubs from this supplier, 6 in all; and 2 lines of hubs not here yet, the "
            "first for 42 working days");
  EXPECT_EQ(in_words(LeadTimes(priors(), kGroups, {}, {}, {}, {open(kHub, 1)}).evidence(kHub)),
            "usual for hubs; no receipts from this supplier; and 1 line of hubs not here yet, after "
            "1 working day");
}

TEST(LeadTimes, ReckonThatWhatComesBadIsOrderedAgain) {
  std::vector<trade::Receipt> receipts;
  for (int i = 0; i < 190; ++i) {
    receipts.push_back(received(kHub, day("2026-01-05"), 4 + i % 3));
    if (i % 2 == 0) receipts.back().condition = i % 4 == 0 ? "wrong" : "short";
  }
  const DayOdds odds = LeadTimes(priors(), kGroups, receipts).odds(kHub);
  // 95 and half of ten times 5 in 100, of 200: 0.4775 come again, and none of these within a week.
  EXPECT_NEAR(within(odds, 7), 1 - 0.4775, 0.02);
  EXPECT_GT(within(odds, 13), 0.95);
}

TEST(LeadTimes, ReplaceFromStockWhatTheImporterSentBad) {
  const LeadTimes lead_times(priors(), kGroups, {}, {kFarHub});
  const DayOdds far = lead_times.delivery(kFarHub);
  const DayOdds near = lead_times.delivery(kHub);
  const DayOdds good = lead_times.odds(kFarHub);
  for (const int days : {20, 30, 45, 80}) {
    EXPECT_NEAR(within(good, days),
                0.95 * within(far, days) + 0.05 * within(then(far, near), days), 0.005);
  }
}

TEST(LeadTimes, CutAnOpenPurchaseByTheDaysGone) {
  LeadHistory history{.middle_days = 5, .sigma = 0.5, .days = {}};
  std::vector<trade::Receipt> receipts;
  for (const int days : {3, 4, 4, 5, 6, 8, 9, 14}) {
    ++history.days[days];
    receipts.push_back(received(kHub, day("2026-01-05"), days));
  }
  const LeadTimes lead_times(priors(), kGroups, receipts);
  const trade::PurchaseLine line{.id = "P1", .supplier = SupplierId("nordal"),
                                 .part = PartId("hub"), .placed = day("2026-11-02")};
  const DayOdds left = lead_times.left(line, day("2026-11-16"), {});  // ten working days
  // Plain: draw deliveries, keep those that are not here yet, order again what comes bad.
  const DayOdds delivery = next_delivery(learn({history}).front());
  const double bad = 10 * 0.05 / (8 + 10);
  Random random(6);
  const auto drawn = [&] { return days_for(delivery, std::max(1e-9, random.uniform())); };
  int kept = 0;
  std::array<int, 3> seen{};
  const std::array<int, 3> more = {2, 5, 12};
  for (int i = 0; i < 300000; ++i) {
    int days = drawn() - 10;
    if (days <= 0) continue;
    ++kept;
    if (random.uniform() < bad) days += drawn();
    for (std::size_t k = 0; k < 3; ++k) seen[k] += days <= more[k] ? 1 : 0;
  }
  ASSERT_GT(kept, 10000);
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_NEAR(within(left, more[k]), static_cast<double>(seen[k]) / kept, 0.015) << more[k];
  }
  EXPECT_EQ(within(left, 0), 0) << "it has not come today";
  EXPECT_GT(days_for(left, 0.9), days_for(delivery, 0.9) - 10) << "not the time less days gone";
}

/// A supplier whose deliveries of one week share a share of their luck.
std::vector<trade::Receipt> weeks_together(double together, Random& random) {
  std::vector<trade::Receipt> receipts;
  for (int week = 0; week < 100; ++week) {
    const double shared = std::sqrt(together) * random.normal();
    for (int i = 0; i < 4; ++i) {
      const double luck = shared + std::sqrt(1 - together) * random.normal();
      const double days = std::exp(std::log(12.0) + 0.4 * luck);
      receipts.push_back(received(kHub, day("2024-01-01") + std::chrono::days(7 * week),
                                  static_cast<int>(std::ceil(days))));
    }
  }
  return receipts;
}

TEST(LeadTimes, SeeDeliveriesThatAreLateTogether) {
  Random random(7);
  for (const double together : {0.0, 0.4}) {
    const LeadTimes lead_times(priors(), kGroups, weeks_together(together, random));
    EXPECT_NEAR(lead_times.late_together(SupplierId("nordal")), together, 0.1);
  }
  EXPECT_EQ(LeadTimes(priors(), kGroups, {}).late_together(SupplierId("nordal")), 0);
}

trade::Receipt kept(const std::string& supplier, int ahead, int late) {
  const Day ordered = day("2026-01-05");
  return {.supplier = SupplierId(supplier), .part = PartId("hub"), .ordered = ordered,
          .promised = add_working_days(ordered, ahead),
          .received = add_working_days(ordered, ahead + late)};
}

TEST(KeptDays, KnowWhoIsEarlyAndWhoIsLate) {
  std::vector<trade::Receipt> receipts;
  for (int i = 0; i < 40; ++i) {
    receipts.push_back(kept("punctual", 10, i % 4 == 0 ? -1 : 0));
    receipts.push_back(kept("tardy", 10, 3 + i % 5));
  }
  const KeptDays days(receipts);
  EXPECT_EQ(days.count(SupplierId("tardy"), 12), 40);
  EXPECT_EQ(days.count(SupplierId("tardy"), 3), 0) << "short promises are another matter";
  const auto at = [&](const char* who, double p) {
    return days_for(days.until_here(SupplierId(who), 10, 8), p);
  };
  EXPECT_EQ(at("punctual", 0.5), 8);
  EXPECT_EQ(at("tardy", 0.5), 13);
  EXPECT_LT(at("punctual", 0.8), at("new", 0.8));
  EXPECT_LT(at("new", 0.8), at("tardy", 0.9));
}

TEST(LeadTimes, TrustTheDayOfWhatHasShippedMore) {
  std::vector<trade::Receipt> receipts;
  for (int i = 0; i < 30; ++i) {
    receipts.push_back(kept("nordal", 3, 0));
    receipts.push_back(kept("nordal", 25, i % 3 == 0 ? 0 : 9));
  }
  const LeadTimes lead_times(priors(), kGroups, receipts);
  trade::PurchaseLine line{.id = "P1", .supplier = SupplierId("nordal"), .part = PartId("hub"),
                           .placed = day("2026-11-02"), .confirmed = day("2026-12-07"),
                           .state = trade::PurchaseState::kConfirmed};
  const auto in_time = [&] { return within(lead_times.left(line, day("2026-11-30"), {}), 5); };
  EXPECT_LT(in_time(), 0.6);
  line.state = trade::PurchaseState::kShipped;
  EXPECT_GT(in_time(), 0.8);
}

TEST(KeptDays, ExpectNothingOnDaysThatAreOver) {
  const KeptDays none;
  for (const int until : {-30, -3, 0, 4}) {
    const DayOdds odds = none.until_here(SupplierId("new"), 10, until);
    EXPECT_EQ(within(odds, 0), 0);
    // A day that was confirmed further off than the table reaches early waits at least so long.
    EXPECT_GT(within(odds, 1), 0);
    EXPECT_GT(within(odds, kOddsDays), 0.999) << until;
  }
  EXPECT_GT(days_for(none.until_here(SupplierId("new"), 10, -30), 0.5),
            days_for(none.until_here(SupplierId("new"), 10, -3), 0.5));
}

TEST(KeptDays, KeepTheirOddsOnSimulatedSuppliers) {
  Random random(9);
  int inside[3] = {0, 0, 0};
  int count = 0;
  for (int world = 0; world < 400; ++world) {
    std::vector<trade::Receipt> receipts;
    std::array<std::array<double, 2>, 3> ways{};
    const auto drawn = [&](std::size_t who) {
      return static_cast<int>(std::floor(random.lognormal(ways[who][0], ways[who][1]))) - 2;
    };
    for (std::size_t who = 0; who < 3; ++who) {
      ways[who] = {std::log(3.0) + 0.5 * random.normal(), 0.4 + 0.4 * random.uniform()};
      const int most = std::array<int, 3>{25, 60, 4}[who];
      for (int i = 0; i < most; ++i) receipts.push_back(kept(std::to_string(who), 12, drawn(who)));
    }
    const KeptDays days(receipts);
    for (std::size_t who = 0; who < 3; ++who) {
      const DayOdds odds = days.until_here(SupplierId(std::to_string(who)), 12, 12);
      const int came = 12 + drawn(who);
      const double place =
          within(odds, came - 1) +
          random.uniform() * (within(odds, came) - within(odds, came - 1));
      ++count;
      const double ranges[3] = {0.5, 0.8, 0.9};
      for (int i = 0; i < 3; ++i) inside[i] += std::abs(place - 0.5) <= ranges[i] / 2 ? 1 : 0;
    }
  }
  EXPECT_NEAR(static_cast<double>(inside[0]) / count, 0.5, 0.04);
  EXPECT_NEAR(static_cast<double>(inside[1]) / count, 0.8, 0.04);
  EXPECT_NEAR(static_cast<double>(inside[2]) / count, 0.9, 0.04);
}

}  // namespace
}  // namespace rollwright::supply

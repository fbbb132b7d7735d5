#include "supply/freight_ways.hpp"

#include <gtest/gtest.h>

#include "supply/freight_legs.hpp"
#include "supply/lead_time.hpp"

// The suppliers, parts and roads of these tests are invented.
namespace rollwright::supply {
namespace {

using trade::PartId;
using trade::SupplierId;

const Day kToday = parse_day("2026-11-25").value();
const std::vector<Day> kClosed;

std::vector<trade::FreightLeg> legs() {
  return {{"sea", 30, 50, "invented"}, {"port", 1, 8, "invented"}, {"air", 4, 9, "invented"}};
}

trade::Supplier overseas() {
  return {.id = SupplierId("far"), .name = "Far Works",
          .ways = {{.mode = "sea", .carrier = "sea", .legs = {"sea", "port"}, .ready_low = 15,
                    .ready_high = 30, .price = {6000}, .per_kg = {}, .availability = {"made"}},
                   {.mode = "air", .carrier = "air", .legs = {"air"}, .ready_low = 15,
                    .ready_high = 30, .price = {9000}, .per_kg = {500}, .availability = {"made"}}}};
}

const trade::Offer kFrame{.supplier = SupplierId("far"), .part = PartId("FR-1"),
                          .breaks = {{1, {50000}}}, .availability = "made"};
const std::map<std::string, trade::LeadTimePrior> kPriors = {
    {"frames", {.group = "frames", .stocked = {0, 5, 0.4, ""}, .importer = {0, 20, 0.4, ""},
                .made = {0, 60, 0.4, ""}}}};

LeadTimes lead_times(const std::vector<trade::Receipt>& receipts = {}) {
  return {kPriors, {{kFrame.part, "frames"}}, receipts, {kFrame}, Roads(legs(), {overseas()})};
}

trade::PurchaseLine line() {
  return {.id = "P-1", .supplier = kFrame.supplier, .part = kFrame.part, .quantity = 1,
          .placed = kToday - std::chrono::days(20)};
}

std::vector<FreightMode> modes(const LeadTimes& times, const trade::PurchaseLine* of = nullptr,
                               std::optional<Mass> mass = 2.0 * kg) {
  const trade::Supplier supplier = overseas();
  return freight_modes({.supplier = supplier, .offer = kFrame, .quantity = 3, .mass_each = mass,
                        .line = of, .today = kToday, .closed = kClosed},
                       times);
}

TEST(FreightWays, TheUsualWayIsTheFirstOfItsAvailability) {
  const trade::Supplier supplier = overseas();
  EXPECT_EQ(way_of(supplier, "made")->mode, "sea");
  EXPECT_EQ(way_of(supplier, "made", "air")->mode, "air");
  EXPECT_EQ(way_of(supplier, "stocked"), nullptr);
  EXPECT_EQ(way_of(supplier, "made", "rail"), nullptr);
}

TEST(FreightWays, CostsAreThoseOfTheConsignmentAndTheirMass) {
  const std::vector<FreightMode> found = modes(lead_times());
  ASSERT_EQ(found.size(), 2U);
  EXPECT_TRUE(found[0].usual);
  EXPECT_EQ(found[0].cost_cents, 6000);
  EXPECT_EQ(found[0].extra_cents, 0);
  // 3 pieces of 2 kg at 5.00: 90.00 + 30.00, 60.00 more than by sea.
  EXPECT_EQ(found[1].cost_cents, 12000);
  EXPECT_EQ(found[1].extra_cents, 6000);
  const std::vector<FreightMode> unknown = modes(lead_times(), nullptr, std::nullopt);
  EXPECT_FALSE(unknown[1].cost_cents) << "by mass, and the mass is not known";
  EXPECT_FALSE(unknown[1].extra_cents);
}

// What the legs say: sea and port take about 38.7 + 2.8 days at the middle, air 6; getting ready is
// the same. 35.5 calendar days are about 25 working days.
TEST(FreightWays, ModesDifferAtTheMiddleByWhatTheirLegsDiffer) {
  const std::vector<FreightMode> found = modes(lead_times());
  const int sea = days_for(found[0].days, 0.5);
  const int air = days_for(found[1].days, 0.5);
  EXPECT_NEAR(sea - air, 25, 2);
  EXPECT_EQ(sea, lead_times().days(kFrame, 0.5)) << "the usual one is what all else reckons with";
}

// Receipts that took 20 working days longer than the priors say move both modes alike.
TEST(FreightWays, ReceiptsMoveEveryMode) {
  std::vector<trade::Receipt> receipts;
  for (int i = 0; i < 40; ++i) {
    receipts.push_back({.supplier = kFrame.supplier, .part = kFrame.part,
                        .ordered = kToday - std::chrono::days(400 + i),
                        .received = kToday - std::chrono::days(280 + i)});
  }
  const std::vector<FreightMode> before = modes(lead_times());
  const std::vector<FreightMode> after = modes(lead_times(receipts));
  const int sea = days_for(after[0].days, 0.5) - days_for(before[0].days, 0.5);
  const int air = days_for(after[1].days, 0.5) - days_for(before[1].days, 0.5);
  EXPECT_GT(sea, 10);
  EXPECT_NEAR(air, sea, 1);
}

TEST(FreightWays, ALegDoneIsWhereTheGoodsAre) {
  const LeadTimes times = lead_times();
  trade::PurchaseLine far = line();
  EXPECT_FALSE(times.roads().left(far, "made", kToday, kClosed)) << "nothing was noted";
  far.legs = {{kGettingReady, kToday - std::chrono::days(2)}};
  const int at_sea = days_for(*times.roads().left(far, "made", kToday, kClosed), 0.5);
  far.legs.push_back({"sea", kToday - std::chrono::days(1)});
  const int in_port = days_for(*times.roads().left(far, "made", kToday, kClosed), 0.5);
  far.legs.push_back({"port", kToday});
  const DayOdds at_the_door = *times.roads().left(far, "made", kToday, kClosed);
  // 39 + 3 days less 2 at sea are about 28 working days; 1 to 8 days in port less one, about 2.
  EXPECT_NEAR(at_sea, 28, 2);
  EXPECT_NEAR(in_port, 2, 1);
  EXPECT_EQ(days_for(at_the_door, 0.9), 1);
  EXPECT_EQ(modes(times, &far).size(), 1U) << "what is on its way cannot change its mode";
}

TEST(FreightWays, TheOddsOfALineFollowItsLegsAndNotItsConfirmedDay) {
  const LeadTimes times = lead_times();
  trade::PurchaseLine far = line();
  far.confirmed = kToday + std::chrono::days(3);
  const int by_word = days_for(times.left(far, kToday, kClosed), 0.5);
  far.legs = {{kGettingReady, kToday}};
  const int by_legs = days_for(times.left(far, kToday, kClosed), 0.5);
  EXPECT_LT(by_word, 10);
  EXPECT_GT(by_legs, 25);
}

TEST(FreightWays, ALineNotShippedMayStillGoByAir) {
  const LeadTimes times = lead_times();
  trade::PurchaseLine far = line();
  const std::vector<FreightMode> found = modes(times, &far);
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(days_for(found[0].days, 0.5), days_for(times.left(far, kToday, kClosed), 0.5));
  EXPECT_LT(days_for(found[1].days, 0.5), days_for(found[0].days, 0.5));
  far.mode = "air";
  const std::vector<FreightMode> by_air = modes(times, &far);
  EXPECT_EQ(by_air.front().mode, "air") << "as it was ordered";
  // What everybody else reckons with once the line's mode says so, and the way back.
  EXPECT_EQ(times.left(far, kToday, kClosed).by, found[1].days.by);
  EXPECT_EQ(by_air[0].days.by, found[1].days.by);
  EXPECT_EQ(by_air[1].days.by, found[0].days.by);
  far.mode = "sea";
  EXPECT_EQ(times.left(far, kToday, kClosed).by, found[0].days.by) << "said or not, it is the usual";
}

}  // namespace
}  // namespace rollwright::supply

#include "shop/care_due.hpp"

#include <gtest/gtest.h>

#include "trade/load_trade.hpp"

// Orders, riders and the service plan of these tests are invented.
namespace rollwright::shop {
namespace {

using trade::OrderState;
using Names = std::vector<std::string>;

Day day(const char* text) { return parse_day(text).value(); }

const trade::Trade& shipped() {
  static const trade::Trade kTrade = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade").trade;
  return kTrade;
}

const std::vector<trade::ServiceVisit> kPlan = {
    {.name = "first", .repeats = false, .km = trade::ServiceSpan{200, 500},
     .weeks = trade::ServiceSpan{4, 8}, .hours = {}, .trait = {}, .work = "look",
     .operations = {"C-10"}, .source = "invented"},
    {.name = "half-yearly", .repeats = true, .km = trade::ServiceSpan{1500, 2500},
     .weeks = trade::ServiceSpan{26, 26}, .hours = {}, .trait = {}, .work = "look",
     .operations = {"C-20"}, .source = "invented"},
    {.name = "yearly", .repeats = true, .km = {}, .weeks = trade::ServiceSpan{52, 52}, .hours = {},
     .trait = {}, .work = "look", .operations = {"C-10", "C-20"}, .source = "invented"},
    {.name = "belt", .repeats = true, .km = {}, .weeks = trade::ServiceSpan{10, 10}, .hours = {},
     .trait = "belt", .work = "look", .operations = {"C-35"}, .source = "invented"},
    {.name = "oil", .repeats = true, .km = {}, .weeks = {}, .hours = 50, .trait = {}, .work = "look",
     .operations = {"C-70"}, .source = "invented"},
};

class CareIsDue : public testing::Test {
 protected:
  void add(const char* id, OrderState state, const char* in_care, const char* first_service) {
    trade::Order order{.id = trade::OrderId(id), .state = state};
    order.build = "B1";
    order.rider.name = "Test Rider";
    order.rider.contact = "rider@example.invalid";
    files_.orders.push_back(order);
    files_.order_moves.push_back({.order = order.id, .number = 12, .from = OrderState::kHandedOver,
                                  .to = OrderState::kInCare, .by = "pia", .day = day(in_care),
                                  .said = {}, .note = {}});
    if (*first_service != 0) files_.order_moves.back().said["first_service"] = first_service;
  }
  void was_here(const char* id, const char* about, const char* since, std::optional<double> km,
                bool to_be_ridden = true) {
    visits_[trade::OrderId(id)].visits.push_back({.since = day(since), .about = about, .km = km,
                                                  .back = day(since),
                                                  .to_be_ridden = to_be_ridden});
  }
  std::vector<CareDue> due(const char* today) {
    state_ = make_state(files_, 1);
    return care_due({.trade = shipped(), .state = *state_, .plan = kPlan, .visits = visits_,
                     .today = day(today)});
  }
  std::vector<std::string> bikes(const char* today) {
    std::vector<std::string> ids;
    for (const CareDue& each : due(today)) ids.push_back(each.order->id.text);
    return ids;
  }

  /// Of the one bike there is.
  std::vector<std::string> visits(const char* today) {
    const std::vector<CareDue> found = due(today);
    return found.empty() ? Names{} : found.front().visits;
  }

  trade::ShopFiles files_;
  CareVisits visits_;
  std::shared_ptr<const State> state_;
};

TEST_F(CareIsDue, FromTwoWeeksBeforeUntilFourMonthsAfter) {
  add("1", OrderState::kInCare, "2026-10-28", "2026-12-09");
  EXPECT_EQ(bikes("2026-11-24"), Names{});
  EXPECT_EQ(bikes("2026-11-25"), Names{"1"});
  EXPECT_EQ(visits("2026-11-25"), Names{"first"});
  EXPECT_EQ(visits("2027-04-08"), Names{"first"});
  EXPECT_EQ(visits("2027-04-09"), Names{}) << "the first is let go";
  EXPECT_EQ(visits("2027-04-14"), Names{"half-yearly"}) << "26 weeks after the handover";
}

TEST_F(CareIsDue, ForBikesInCareThatAreNotHereByDay) {
  add("1", OrderState::kInCare, "2026-10-28", "2026-12-04");
  add("2", OrderState::kInCare, "2026-10-28", "2026-12-02");
  add("3", OrderState::kClosed, "2026-10-28", "2026-12-03");
  add("4", OrderState::kInCare, "2026-10-28", "2026-12-03");
  visits_[trade::OrderId("4")].visits.push_back({.since = day("2026-11-24"), .about = "first",
                                                 .km = {}, .back = {}});
  EXPECT_EQ(bikes("2026-11-25"), (Names{"2", "1"}));
}

TEST_F(CareIsDue, NoMoreOnceAVisitDidAsMuch) {
  add("1", OrderState::kInCare, "2026-10-28", "2026-12-02");
  was_here("1", "yearly", "2026-11-20", {}, false);
  EXPECT_EQ(bikes("2026-11-25"), Names{"1"}) << "given back not to be ridden is not done";
  was_here("1", "repair, yearly", "2026-11-22", {});
  EXPECT_EQ(bikes("2026-11-25"), Names{}) << "the yearly service does all of the first";
  was_here("1", "half-yearly", "2026-11-23", {});
  EXPECT_EQ(bikes("2026-11-25"), Names{});
}

TEST_F(CareIsDue, ByWeeksFromTheLastVisitThatDidAsMuch) {
  add("1", OrderState::kInCare, "2025-01-06", "2025-02-06");
  was_here("1", "half-yearly", "2026-06-01", {});
  const auto half = due("2026-11-20");
  ASSERT_EQ(half.size(), 1U);
  EXPECT_EQ(half.front().visits, Names{"half-yearly"});
  EXPECT_EQ(half.front().from, day("2026-11-30"));
  EXPECT_EQ(half.front().because, "26 weeks after the last");
}

TEST_F(CareIsDue, ByTheKmThatWereShownWhenTheseComeFirst) {
  add("1", OrderState::kInCare, "2026-06-01", "");
  // 100 days and 1,000 km: 10 km a day; 1,500 to 2,500 km are reached 50 to 150 days later.
  was_here("1", "first", "2026-09-09", 1000);
  const auto by_weeks = due("2026-11-20");
  ASSERT_EQ(by_weeks.size(), 1U);
  EXPECT_EQ(by_weeks.front().visits, Names{"half-yearly"});
  EXPECT_EQ(by_weeks.front().to, day("2026-11-30")) << "26 weeks come before 150 days";
  visits_.clear();
  was_here("1", "first", "2026-09-09", 2000);
  // 20 km a day: 25 days before to 25 days after.
  const auto sooner = due("2026-09-10");
  ASSERT_EQ(sooner.size(), 1U);
  EXPECT_EQ(sooner.front().from, day("2026-08-15"));
  EXPECT_EQ(sooner.front().to, day("2026-10-04"));
  EXPECT_EQ(sooner.front().because, "about 2500 km after the handover, at 20 km a day");
}

TEST_F(CareIsDue, SaysNothingOfKmAfterTooFewDays) {
  add("1", OrderState::kInCare, "2026-09-01", "");
  was_here("1", "first", "2026-09-10", 2000);
  EXPECT_EQ(bikes("2026-09-20"), Names{});
}

TEST_F(CareIsDue, OnlyForBikesThatHaveWhatItIsFor) {
  add("1", OrderState::kInCare, "2026-09-01", "");
  was_here("1", "first", "2026-09-10", {});
  EXPECT_EQ(bikes("2026-11-05"), Names{}) << "ten weeks after the handover, and no belt";
}

TEST_F(CareIsDue, DistancesAreHalvedForChildren) {
  add("1", OrderState::kInCare, "2026-06-01", "");
  files_.orders.front().need.child_seat = true;
  was_here("1", "first", "2026-09-09", 1000);
  // 10 km a day, and 750 to 1,250 km: 25 days before to 25 days after.
  const auto halved = due("2026-09-10");
  ASSERT_EQ(halved.size(), 1U);
  EXPECT_EQ(halved.front().to, day("2026-10-04"));
}

TEST_F(CareIsDue, NothingIsKnownOfABikeThatWasHandedOverNobodyKnowsWhen) {
  add("1", OrderState::kInCare, "2026-10-28", "2026-12-02");
  files_.order_moves.clear();
  EXPECT_EQ(bikes("2026-11-25"), Names{});
  was_here("1", "half-yearly", "2026-06-01", {});
  EXPECT_EQ(bikes("2026-11-25"), Names{"1"}) << "but from its last visit it is";
}

TEST_F(CareIsDue, FromTheDayItWasReadyWhenNothingElseIsKnown) {
  add("1", OrderState::kInCare, "2026-10-28", "");
  files_.order_moves.clear();
  files_.promises.push_back({.order = trade::OrderId("1"), .said = day("2026-03-04"),
                             .promised = day("2026-05-27"), .ready = day("2026-05-12"), .odds = {}});
  const auto found = due("2026-11-25");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found.front().visits, Names{"half-yearly"});
  EXPECT_EQ(found.front().to, day("2026-11-10"));
  EXPECT_EQ(found.front().because, "26 weeks after it was ready");
}

TEST_F(CareIsDue, FromTheHandoverAndNotFromTheDayItWasReadyWhereBothAreKnown) {
  add("1", OrderState::kInCare, "2026-10-28", "2026-12-02");
  files_.promises.push_back({.order = trade::OrderId("1"), .said = day("2026-03-04"),
                             .promised = day("2026-05-27"), .ready = day("2026-05-12"), .odds = {}});
  EXPECT_EQ(visits("2026-11-25"), Names{"first"});
}

TEST_F(CareIsDue, ARiderWhoWasToldIsToldAgainAfterFourWeeks) {
  add("1", OrderState::kInCare, "2026-10-28", "2026-12-02");
  ASSERT_EQ(due("2026-11-25").size(), 1U);
  EXPECT_TRUE(is_to_be_told(due("2026-11-25").front(), day("2026-11-25")));
  visits_[trade::OrderId("1")].reminded = Reminder{.on = day("2026-11-25"), .said = "on Tuesday"};
  const CareDue told = due("2026-11-25").front();
  ASSERT_TRUE(told.reminded);
  EXPECT_EQ(told.reminded->said, "on Tuesday");
  EXPECT_FALSE(is_to_be_told(told, day("2026-12-22")));
  EXPECT_TRUE(is_to_be_told(told, day("2026-12-23")));
}

TEST(OnceByOrder, WorksAnAnswerOutOnceForEachVersionOfAnOrder) {
  const OnceByOrder<int> kept;
  int worked = 0;
  const auto ask = [&](const char* id, std::int64_t revision) {
    trade::Order order{.id = trade::OrderId(id)};
    order.revision = revision;
    return kept.once(order, [&worked] { return ++worked; });
  };
  EXPECT_EQ(ask("1", 1), 1);
  EXPECT_EQ(ask("1", 1), 1) << "known";
  EXPECT_EQ(ask("2", 1), 2) << "another order";
  EXPECT_EQ(ask("1", 2), 3) << "another version";
  EXPECT_EQ(ask("2", 1), 2);
}

TEST_F(CareIsDue, SaysHowTheRiderIsReached) {
  add("1", OrderState::kInCare, "2026-10-28", "2026-12-04");
  ASSERT_FALSE(due("2026-11-25").empty());
  EXPECT_EQ(sentence_of(due("2026-11-25").front()),
            "1 Test Rider: first, set for Friday 4 December. To be reached at "
            "rider@example.invalid.");
  files_.orders.front().rider.contact.clear();
  EXPECT_NE(sentence_of(due("2026-11-25").front()).find("No way to reach the rider"),
            std::string::npos);
}

TEST(CareVisits, AreReadFromTheLinesOfTheRecords) {
  const trade::OrderId bike("7");
  const auto line = [&](const char* at, trade::Deed deed, const char* about, trade::Outcome outcome) {
    return book::LineFound{bike, {.at = parse_instant(at).value(), .deed = deed, .about = about,
                                  .outcome = outcome}};
  };
  const CareVisits visits = care_visits(
      {line("2026-11-20T23:00:00Z", trade::Deed::kNoted, "", trade::Outcome::kNone),
       line("2026-11-20T23:30:00Z", trade::Deed::kVisit, "first, belt", trade::Outcome::kNone),
       line("2026-11-21T10:00:00Z", trade::Deed::kDone, "C-10", trade::Outcome::kNone),
       line("2026-11-22T10:00:00Z", trade::Deed::kBack, "", trade::Outcome::kPass),
       line("2026-11-23T23:30:00Z", trade::Deed::kReminded, "belt", trade::Outcome::kNone),
       line("2026-11-24T10:00:00Z", trade::Deed::kVisit, "repair", trade::Outcome::kNone)},
      "Europe/Berlin");
  const std::vector<CareVisit>& of_bike = visits.at(bike).visits;
  ASSERT_EQ(of_bike.size(), 2U);
  EXPECT_EQ(of_bike.front().since, day("2026-11-21")) << "the shop's own day";
  EXPECT_TRUE(of_bike.front().to_be_ridden);
  EXPECT_FALSE(of_bike.back().back);
  EXPECT_TRUE(is_here(visits.at(bike)));
  EXPECT_FALSE(visits.at(bike).reminded) << "it came since";
  const CareVisits told = care_visits(
      {line("2026-11-23T23:30:00Z", trade::Deed::kReminded, "belt", trade::Outcome::kNone)},
      "Europe/Berlin");
  ASSERT_TRUE(told.at(bike).reminded);
  EXPECT_EQ(told.at(bike).reminded->on, day("2026-11-24"));
  EXPECT_FALSE(is_here(told.at(bike)));
  EXPECT_EQ(visits_named("first, belt"), (Names{"first", "belt"}));
}

}  // namespace
}  // namespace rollwright::shop

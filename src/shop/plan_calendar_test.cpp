#include "shop/plan_calendar.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "trade/load_trade.hpp"

// On the demo of data/demo, which is invented. Mara works on Thursday from 9:00 to 12:30 and from 13:00
// to 18:00, on Friday the same, on Saturday from 9:30.
namespace rollwright::shop {
namespace {

const trade::Trade& the_trade() {
  static const trade::LoadedTrade kLoaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded.trade;
}

trade::PlannedWork work(const char* operation, const char* person, trade::WallTime start,
                        trade::WallTime end) {
  return {.operation = operation, .person = trade::PersonId(person), .area = "assembly",
          .stand = 2, .start = start, .end = end, .pinned_by = {}};
}

Day day(const char* text) { return parse_day(text).value(); }

trade::ShopFiles demo_with(std::vector<trade::PlannedWork> planned) {
  trade::ShopFiles files =
      trade::read_shop_files(the_trade(), ROLLWRIGHT_ROOT "/data/demo").files;
  files.agreed_plans = {{.number = 4, .agreed = parse_instant("2026-11-25T07:45:00Z").value(),
                         .who = "mara"}};
  files.order_plans = {{.order = trade::OrderId("2020"), .work = std::move(planned)}};
  return files;
}

documents::CalendarFeed feed_of(const trade::ShopFiles& files, const char* person) {
  return calendar_of(the_trade(), *make_state(files, 1), person).value();
}

TEST(PlanCalendar, HasOneAppointmentForEachDayOfAnOperationInUtc) {
  const auto feed = feed_of(
      demo_with({work("A-20", "mara", {day("2026-11-26"), 1020}, {day("2026-11-27"), 600})}),
      "mara");
  ASSERT_EQ(feed.entries.size(), 2u);
  EXPECT_EQ(iso(feed.entries[0].start), "2026-11-26T16:00:00Z") << "17:00 in winter";
  EXPECT_EQ(iso(feed.entries[0].end), "2026-11-26T17:00:00Z") << "Mara goes at 18:00";
  EXPECT_EQ(iso(feed.entries[1].start), "2026-11-27T08:00:00Z") << "she comes at 9:00";
  EXPECT_EQ(iso(feed.entries[1].end), "2026-11-27T09:00:00Z");
  EXPECT_EQ(feed.entries[0].location, "assembly, stand 2");
  EXPECT_EQ(feed.entries[1].description, "Day 2 of 2");
  EXPECT_NE(feed.entries[0].uid, feed.entries[1].uid);
  EXPECT_EQ(feed.sequence, 4);
  EXPECT_EQ(iso(feed.stamp), "2026-11-25T07:45:00Z");
}

TEST(PlanCalendar, KeepsTheNameOfAnAppointmentThatMoves) {
  const auto before = feed_of(
      demo_with({work("A-20", "mara", {day("2026-11-26"), 560}, {day("2026-11-26"), 600})}),
      "mara");
  const auto after = feed_of(
      demo_with({work("A-20", "mara", {day("2026-12-02"), 560}, {day("2026-12-02"), 600})}),
      "mara");
  EXPECT_EQ(before.entries.at(0).uid, after.entries.at(0).uid);
  EXPECT_NE(before.entries.at(0).start, after.entries.at(0).start);
}

TEST(PlanCalendar, HasTheTimeOfWhoLendsAHandToo) {
  trade::PlannedWork lift =
      work("T-60", "mara", {day("2026-11-26"), 560}, {day("2026-11-26"), 572});
  lift.lending = {trade::PersonId("ilka"), trade::PersonId("tove")};
  const trade::ShopFiles files = demo_with({lift});
  const auto of = [&](const char* person) { return feed_of(files, person).entries; };
  ASSERT_EQ(of("mara").size(), 1u);
  ASSERT_EQ(of("ilka").size(), 1u);
  EXPECT_TRUE(of("senad").empty());
  EXPECT_EQ(of("ilka")[0].start, of("mara")[0].start);
  EXPECT_EQ(of("ilka")[0].end, of("mara")[0].end);
  const auto name = [&](const char* id) {
    return std::ranges::find(files.people, trade::PersonId(id), &trade::Person::id)->name;
  };
  EXPECT_EQ(of("mara")[0].description, "with " + name("ilka") + " and " + name("tove"));
  EXPECT_EQ(of("ilka")[0].description,
            "lends a hand to " + name("mara") + ", with " + name("tove"));
}

TEST(PlanCalendar, LeavesOutOthersWorkWhatIsDoneAndOrdersThatAreOver) {
  trade::ShopFiles files =
      demo_with({work("A-20", "mara", {day("2026-11-26"), 560}, {day("2026-11-26"), 600}),
                 work("A-30", "ilka", {day("2026-11-26"), 620}, {day("2026-11-26"), 640}),
                 work("A-40", "mara", {day("2026-11-26"), 660}, {day("2026-11-26"), 680})});
  const auto order = std::ranges::find(files.orders, trade::OrderId("2020"), &trade::Order::id);
  order->done.insert("A-40");
  const auto feed = feed_of(files, "mara");
  ASSERT_EQ(feed.entries.size(), 1u);
  EXPECT_EQ(feed.entries[0].summary.rfind("2020 A-20 ", 0), 0u) << feed.entries[0].summary;
  const std::string text = documents::calendar_text(feed);
  EXPECT_EQ(text.find(order->rider.name), std::string::npos);
  EXPECT_EQ(text.find(order->rider.contact.substr(0, 12)), std::string::npos);
  order->state = trade::OrderState::kCancelled;
  EXPECT_TRUE(feed_of(files, "mara").entries.empty());
}

TEST(PlanCalendar, IsRefusedForNobodyAndWithoutAPlan) {
  trade::ShopFiles files = demo_with({});
  EXPECT_EQ(calendar_of(the_trade(), *make_state(files, 1), "nobody").error().code,
            Code::kNotFound);
  files.agreed_plans.clear();
  EXPECT_EQ(calendar_of(the_trade(), *make_state(files, 1), "mara").error().code, Code::kRefused);
}

TEST(InstantOf, IsTheWallClockThroughBothClockChanges) {
  const auto at = [](const char* text, int minute) {
    return iso(instant_of("Europe/Berlin", {day(text), minute}).value());
  };
  EXPECT_EQ(at("2027-01-15", 570), "2027-01-15T08:30:00Z");
  EXPECT_EQ(at("2027-07-15", 570), "2027-07-15T07:30:00Z");
  EXPECT_EQ(at("2027-03-28", 150), "2027-03-28T01:00:00Z") << "2:30 is not there that night";
  EXPECT_EQ(at("2027-10-31", 150), "2027-10-31T00:30:00Z") << "2:30 is there twice";
  EXPECT_EQ(instant_of("Nowhere/Else", {}).error().code, Code::kBadInput);
  for (const char* text : {"2027-01-15", "2027-07-15", "2027-03-28", "2027-10-31"}) {
    const LocalTime time{day(text), 540};
    EXPECT_EQ(local_time("Europe/Berlin", instant_of("Europe/Berlin", time).value()).value(), time);
  }
}

}  // namespace
}  // namespace rollwright::shop

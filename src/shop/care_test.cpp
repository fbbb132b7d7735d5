#include "shop/care_desk.hpp"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"
#include "shop/life_desk.hpp"
#include "shop/recall_desk.hpp"
#include "units/unit_table.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

constexpr const char* kBelt = "2004";    // belt e-bike in care
constexpr const char* kChain = "2003";   // chain bike in care

using Names = std::vector<std::string>;

Names ids(const std::vector<CareOperation>& operations) {
  Names names;
  for (const CareOperation& each : operations) names.push_back(each.operation);
  return names;
}

const CareOffer* offer_in(const CareView& view, const std::string& about) {
  const auto found = std::ranges::find(view.offers, about, &CareOffer::about);
  return found == view.offers.end() ? nullptr : &*found;
}

/// Another part than the bike's that fits there.
std::string another(Shop& shop, const char* slot) {
  const SlotChoicesView places = shop.choices(kChain, slot).value();
  for (const ChoiceView& choice : places.choices) {
    if (choice.status == "open" && !choice.chosen) return choice.part.id;
  }
  return {};
}

/// Everything that the visit asks for, done by one and checked by another.
void do_it_all(Shop& shop, const std::string& order, const char* who, const char* second) {
  for (;;) {
    const BenchView view = shop.bench().bike(order).value();
    const auto next = std::ranges::find_if(view.operations, [](const BenchOperation& each) {
      return each.standing == "redo" && each.waits_for.empty();
    });
    if (next == view.operations.end()) break;
    DeedsGiven deeds{.who = next->second_person ? second : who, .key = {},
                     .deeds = {{.deed = "started", .about = next->operation}}};
    for (const BenchReading& reading : next->readings) {
      for (int point = 1; point <= reading.value.count; ++point) {
        DeedGiven deed{.deed = "read", .about = next->operation, .reading = reading.value.reading,
                       .point = point};
        if (reading.value.pass_or_fail) {
          deed.outcome = "pass";
        } else {
          const bool is_torque = reading.value.dimension == Dimension::kTorque;
          double read = reading.value.target.value_or(
              reading.value.strictest.least.value_or(reading.value.strictest.most.value_or(1)));
          if (is_torque) read = std::max(read, 2.0);  // what the smaller wrench shows
          deed.value = fmt::format("{} {}", read, own_unit(reading.value.dimension));
          if (is_torque) deed.tool = read > 20 ? "T3" : "T2";
        }
        deeds.deeds.push_back(std::move(deed));
      }
    }
    deeds.deeds.push_back({.deed = "done", .about = next->operation});
    const auto written = shop.bench().write(order, deeds);
    ASSERT_TRUE(written) << next->operation << ": " << written.error().full();
  }
  const BenchView done = shop.bench().bike(order).value();
  for (const BenchCheck& check : done.checks) {
    if (check.list != "care" && check.because.empty()) continue;
    const auto written = shop.bench().write(
        order, {.who = second, .key = {},
                .deeds = {{.deed = "checked", .about = check.id, .outcome = "pass"}}});
    ASSERT_TRUE(written) << check.id << ": " << written.error().full();
  }
}

TEST(CareDesk, OffersTheVisitsOfTheServicePlanThatThisBikeNeeds) {
  const CareView belt = CareDesk(shared_demo()).look(kBelt).value();
  EXPECT_TRUE(belt.may_open);
  ASSERT_NE(offer_in(belt, "first service of the belt"), nullptr);
  EXPECT_EQ(ids(offer_in(belt, "first service of the belt")->operations),
            (Names{"C-35", "C-40", "C-95"}));
  const CareView chain = CareDesk(shared_demo()).look(kChain).value();
  EXPECT_EQ(offer_in(chain, "first service of the belt"), nullptr);
  EXPECT_NE(offer_in(chain, "yearly service"), nullptr);
  const Names yearly = ids(offer_in(chain, "yearly service")->operations);
  EXPECT_EQ(std::ranges::count(yearly, "C-30"), 1) << "its chain is measured";
  EXPECT_EQ(std::ranges::count(yearly, "C-35"), 0);
}

TEST(CareDesk, KnowsNothingOfBikesThatWereNotHandedOver) {
  EXPECT_EQ(CareDesk(shared_demo()).look("2016").error().code, Code::kRefused);
  EXPECT_EQ(CareDesk(shared_demo()).look("no such").error().code, Code::kNotFound);
}

TEST(CareDesk, ABikeComesIsServedByTwoAndGoesBackAndItsOrderIsAsItWas) {
  const auto shop = demo();
  CareDesk desk(*shop);
  const auto opened = desk.open(kBelt, {.who = "pia", .key = "k1",
                                        .visits = {"first service", "first service of the belt"},
                                        .km = "412,5 km", .note = "squeals", .operations = {}});
  ASSERT_TRUE(opened) << opened.error().full();
  ASSERT_TRUE(opened->open);
  EXPECT_EQ(opened->open->km, 412.5);
  EXPECT_EQ(opened->open->about, "first service, first service of the belt");
  EXPECT_EQ(std::ranges::count(ids(opened->open->asked), "C-95"), 1) << "asked for once";
  EXPECT_FALSE(opened->may_open);
  const BenchListView list = shop->bench().list().value();
  const auto bike = std::ranges::find(list.bikes, kBelt, &BenchBike::order);
  ASSERT_NE(bike, list.bikes.end()) << "it stands at the bench";
  EXPECT_EQ(bike->visit, opened->open->about);
  EXPECT_EQ(bike->done + static_cast<int>(opened->open->asked.size()), bike->operations);
  const auto early = desk.give_back(kBelt, {.who = "pia", .key = {}, .note = {}});
  ASSERT_FALSE(early);
  EXPECT_NE(early.error().sentence.find("C-10"), std::string::npos) << early.error().full();
  do_it_all(*shop, kBelt, "mara", "ilka");
  if (HasFatalFailure()) return;
  const auto back = desk.give_back(kBelt, {.who = "pia", .key = {}, .note = {}});
  ASSERT_TRUE(back) << back.error().full();
  EXPECT_FALSE(back->open);
  ASSERT_EQ(back->visits.size(), 1U);
  EXPECT_EQ(back->visits.front().back_by, "Pia Lindqvast");
  const OrderView order = shop->order(kBelt).value();
  EXPECT_EQ(order.line.state, "In care");
  const BenchListView after = shop->bench().list().value();
  EXPECT_EQ(std::ranges::count(after.bikes, kBelt, &BenchBike::order), 0);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(CareDesk, WritesAVisitThatIsSentTwiceOnce) {
  const auto shop = demo();
  CareDesk desk(*shop);
  const VisitGiven given{.who = "pia", .key = "twice", .visits = {"dropper"}, .km = {}, .note = {},
                         .operations = {"C-10"}};
  ASSERT_TRUE(desk.open(kChain, given));
  const auto lines = shop->bench().history(kChain).value().lines.size();
  const auto again = desk.open(kChain, given);
  ASSERT_TRUE(again) << again.error().full();
  EXPECT_EQ(shop->bench().history(kChain).value().lines.size(), lines);
}

TEST(CareDesk, RefusesAVisitForNothingAndOperationsOfOtherBikes) {
  const auto shop = demo();
  CareDesk desk(*shop);
  const auto open = [&](VisitGiven given) {
    given.who = "pia";
    const auto opened = desk.open(kChain, given);
    return opened ? std::string() : opened.error().place.field + ": " + opened.error().sentence;
  };
  EXPECT_NE(open({.visits = {"repair"}}).find("operations: say what is to be done"),
            std::string::npos);
  EXPECT_NE(open({.visits = {"repair"}, .operations = {"C-35"}}).find("no such operation"),
            std::string::npos);
  EXPECT_NE(open({.visits = {"repair"}, .km = "far", .operations = {"C-10"}}).find("as in 412"),
            std::string::npos);
  EXPECT_TRUE(shop->bench().history(kChain).value().lines.empty());
}

TEST(CareDesk, ARecalledPartIsReplacedInAVisitOfItsOwn) {
  const auto shop = demo();
  const std::string stem = [&] {
    const OrderView order = shop->order(kChain).value();
    for (const SlotView& slot : order.spec.slots) {
      if (slot.slot == "stem") return slot.part->id;
    }
    return std::string();
  }();
  const auto recall = RecallDesk(*shop).open({.who = "mara", .notice = "invented",
                                              .part = stem, .wrong = "cracks", .danger = true,
                                              .remedy = "another stem"});
  ASSERT_TRUE(recall) << recall.error().full();
  const std::string about = "recall " + recall->line.number;
  const CareView view = CareDesk(*shop).look(kChain).value();
  ASSERT_NE(offer_in(view, about), nullptr);
  EXPECT_EQ(ids(offer_in(view, about)->operations), Names{"A-20"}) << "where the stem comes on";
  const auto opened = CareDesk(*shop).open(kChain, {.who = "pia", .key = {}, .visits = {about},
                                                    .km = "1500", .note = {}, .operations = {}});
  ASSERT_TRUE(opened) << opened.error().full();
  const BenchView bench = shop->bench().bike(kChain).value();
  const auto audit = std::ranges::find(bench.operations, "T-10", &BenchOperation::operation);
  EXPECT_EQ(audit->standing, "redo") << "a second person looks at it again";

  const auto told = [&] {
    const RecallView view = RecallDesk(*shop).recall(recall->line.number).value();
    const auto bike = std::ranges::find(view.bikes, kChain, &RecalledBike::order);
    return bike == view.bikes.end() ? std::string("not there") : bike->status;
  };
  ASSERT_TRUE(RecallDesk(*shop).tell(recall->line.number,
                                     {.who = "pia", .order = kChain, .status = "booked",
                                      .channel = "telephone", .note = {}}));
  do_it_all(*shop, kChain, "mara", "ilka");
  if (HasFatalFailure()) return;
  ASSERT_TRUE(CareDesk(*shop).give_back(kChain, {.who = "pia", .key = {}, .note = {}}));
  EXPECT_EQ(told(), "booked") << "the stem that cracks is on the bike by its record";

  ASSERT_TRUE(CareDesk(*shop).open(kChain, {.who = "pia", .key = {}, .visits = {about}, .km = {},
                                            .note = {}, .operations = {}}));
  const std::string other = another(*shop, "stem");
  ASSERT_FALSE(other.empty());
  ASSERT_TRUE(shop->bench().write(kChain, {.who = "mara", .key = {},
                                           .deeds = {{.deed = "on", .about = "stem", .part = other,
                                                      .lot = "L1", .note = "called back"}}}));
  do_it_all(*shop, kChain, "mara", "ilka");
  if (HasFatalFailure()) return;
  EXPECT_EQ(told(), "booked") << "not before it goes out";
  ASSERT_TRUE(CareDesk(*shop).give_back(kChain, {.who = "pia", .key = {}, .note = {}}));
  EXPECT_EQ(told(), "fixed");
  EXPECT_EQ(offer_in(CareDesk(*shop).look(kChain).value(), about), nullptr);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(CareDesk, AnotherPartThatFitsGoesOnAndIsTheBikesFromThen) {
  const auto shop = demo();
  CareDesk desk(*shop);
  ASSERT_TRUE(desk.open(kChain, {.who = "pia", .key = {}, .visits = {"repair"}, .km = {}, .note = {},
                                 .operations = {"A-85"}}));
  const auto put = [&](const char* part, const char* note) {
    const auto written = shop->bench().write(
        kChain, {.who = "mara", .key = {},
                 .deeds = {{.deed = "on", .about = "saddle", .part = part, .lot = "L1",
                            .note = note}}});
    return written ? std::string() : written.error().full();
  };
  EXPECT_NE(put("NO-SUCH", "worn").find("NO-SUCH"), std::string::npos);
  EXPECT_NE(put("ST-0004", "worn"), "") << "a stem is no saddle";
  const std::string other = another(*shop, "saddle");
  ASSERT_FALSE(other.empty());
  EXPECT_NE(put(other.c_str(), "").find("why another part"), std::string::npos);
  EXPECT_EQ(put(other.c_str(), "torn"), "");
  const BenchView bench = shop->bench().bike(kChain).value();
  const auto saddle = std::ranges::find(bench.kit, "saddle", &KitPart::slot);
  EXPECT_EQ(saddle->part, other);
  EXPECT_TRUE(saddle->bound);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(CareDesk, AnotherPieceLeavesTheShelfAndOneThatIsThereAlreadyDoesNot) {
  const auto shop = demo();
  ASSERT_TRUE(CareDesk(*shop).open(kChain, {.who = "pia", .key = {}, .visits = {"repair"}, .km = {},
                                            .note = {}, .operations = {"A-85"}}));
  const auto write = [&](const std::vector<DeedGiven>& deeds) {
    const auto written = shop->bench().write(kChain, {.who = "mara", .key = {}, .deeds = deeds});
    EXPECT_TRUE(written) << written.error().full();
    return written ? written->lines.back().sentence : std::string();
  };
  const auto saddle = [&] {
    const BenchView bench = shop->bench().bike(kChain).value();
    return *std::ranges::find(bench.kit, "saddle", &KitPart::slot);
  };
  const auto on_shelf = [&](const std::string& part) { return shop->part(part).value().row.on_shelf; };
  const std::string part = saddle().part;
  const auto taken_off = [](const char* why) {
    return DeedGiven{.deed = "off", .about = "saddle", .note = why};
  };
  const DeedGiven put_on{.deed = "on", .about = "saddle", .lot = "L1"};
  const std::string counted = testing::TempDir() + "rollwright_care_shelf";
  std::filesystem::create_directories(counted);
  std::ofstream(counted + "/stock.csv") << "part,on_shelf\n" << part << ",2\n";
  ASSERT_TRUE(shop->import(counted, "pia"));

  write({put_on});  // the one that the bike was handed over with, now on record
  EXPECT_EQ(on_shelf(part), 2);
  write({taken_off("torn")});
  EXPECT_EQ(saddle().here, "2 free in store");
  EXPECT_EQ(write({put_on}).find("elsewhere"), std::string::npos);
  EXPECT_EQ(on_shelf(part), 1);
  EXPECT_NE(write({taken_off("squeaks"), put_on, taken_off("too wide"), put_on})
                .find("from elsewhere: none was free on the shelf"), std::string::npos);
  EXPECT_EQ(on_shelf(part), 0) << "the last one, then one that the count does not know";
  write({taken_off("squeaks, too")});
  EXPECT_EQ(saddle().here, "none free in store");
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(CareDesk, TodayNamesBikesThatAreHere) {
  const auto shop = demo();
  ASSERT_TRUE(CareDesk(*shop).open(kChain, {.who = "pia", .key = {}, .visits = {"yearly service"},
                                            .km = {}, .note = {}, .operations = {}}));
  const TodayView today = shop->today().value();
  const auto here = std::ranges::find(today.lines, "here for a visit", &TodayLine::kind);
  ASSERT_NE(here, today.lines.end());
  EXPECT_EQ(here->sentence.find("2003 Anneke Birkhoff: yearly service, here since"), 0U)
      << here->sentence;
}

TEST(CareDesk, WhoIsToldToComeIsOnTodayNoMore) {
  const auto shop = demo();
  const auto on_today = [&shop](const char* order) {
    const TodayView today = shop->today().value();
    return std::ranges::count_if(today.lines, [order](const TodayLine& line) {
      return line.kind == "to come back" && line.order == order;
    });
  };
  const auto due_in = [](const ComingBackView& view) {
    return std::ranges::find(view.due, kChain, &CareDueLine::order);
  };
  const ComingBackView before = CareDesk(*shop).coming_back().value();
  ASSERT_NE(due_in(before), before.due.end());
  EXPECT_EQ(due_in(before)->visits, Names{"half-yearly service"});
  EXPECT_EQ(due_in(before)->because, "26 weeks after it was ready");
  EXPECT_TRUE(due_in(before)->to_be_told);
  EXPECT_EQ(before.sentence, "No bike is here for a visit. 2 bikes should come back, 0 of 2 riders "
                             "were told.");
  EXPECT_EQ(on_today(kChain), 1);
  const auto told = CareDesk(*shop).remind(kChain, {.who = "mara", .key = {}, .visits = {},
                                                    .note = "comes on Tuesday"});
  ASSERT_TRUE(told) << told.error().full();
  ASSERT_TRUE(told->due);
  EXPECT_EQ(told->due->said, "comes on Tuesday");
  EXPECT_FALSE(told->due->to_be_told);
  EXPECT_EQ(on_today(kChain), 0);
  EXPECT_EQ(on_today(kBelt), 1);
  const ComingBackView after = CareDesk(*shop).coming_back().value();
  ASSERT_NE(due_in(after), after.due.end()) << "it stays in the list of all";
  EXPECT_FALSE(due_in(after)->to_be_told);
  EXPECT_EQ(shop->bench().history(kChain).value().lines.back().sentence,
            "rider told: half-yearly service: comes on Tuesday");
  // Once it is here nobody need be told.
  ASSERT_TRUE(CareDesk(*shop).open(kChain, {.who = "pia", .key = {},
                                            .visits = {"half-yearly service"}, .km = {},
                                            .note = {}, .operations = {}}));
  const ComingBackView here = CareDesk(*shop).coming_back().value();
  EXPECT_EQ(due_in(here), here.due.end());
  ASSERT_EQ(here.here.size(), 1U);
  EXPECT_EQ(here.here.front().about, "half-yearly service");
  EXPECT_EQ(here.sentence,
            "One bike is here for a visit. One bike should come back; its rider was not told.");
  const auto late = CareDesk(*shop).remind(kChain, {.who = "mara", .key = {},
                                                    .visits = {"yearly service"}, .note = {}});
  ASSERT_FALSE(late);
  EXPECT_NE(late.error().sentence.find("nobody need be told"), std::string::npos);
}

TEST(CareDesk, SaysWhatIsMissingWhereNothingIsDue) {
  const auto shop = demo();
  const auto other = CareDesk(*shop).remind("2041", {.who = "mara", .key = {}, .visits = {},
                                                     .note = {}});
  ASSERT_FALSE(other);
  EXPECT_NE(other.error().sentence.find("was not handed over"), std::string::npos);
}

TEST(CareDesk, WhatAnotherProgramWroteIsKnownAtTheBench) {
  const std::string path = testing::TempDir() + "rollwright_care_two.book";
  const auto remove_all = [&] {
    for (const char* end : {"", "-wal", "-shm"}) std::remove((path + end).c_str());
  };
  remove_all();
  {
    const auto shop = demo(path);
    const auto here = [](Shop& at, const char* order) {
      const BenchListView list = at.bench().list().value();
      return std::ranges::count(list.bikes, order, &BenchBike::order) == 1;
    };
    EXPECT_FALSE(here(*shop, kChain));
    const auto other = open_demo(path, false);
    const VisitGiven given{.who = "pia", .key = {}, .visits = {"yearly service"}, .km = {},
                           .note = {}, .operations = {}};
    ASSERT_TRUE(CareDesk(*other).open(kChain, given));
    EXPECT_TRUE(here(*shop, kChain));
    ASSERT_TRUE(CareDesk(*shop).open(kBelt, given));
    EXPECT_TRUE(here(*shop, kChain)) << "and stays so when another bike comes";
    EXPECT_TRUE(here(*other, kBelt));
    ASSERT_TRUE(CareDesk(*other).give_back(kChain, {.who = "pia", .key = {}, .to_be_ridden = false,
                                                    .note = "waits for a part; told"}));
    EXPECT_FALSE(here(*shop, kChain));
  }
  remove_all();
}

TEST(CareDesk, ABikeThatIsHereIsNotClosed) {
  const auto shop = demo();
  ASSERT_TRUE(CareDesk(*shop).open(kChain, {.who = "pia", .key = {}, .visits = {"yearly service"},
                                            .km = {}, .note = {}, .operations = {}}));
  const LifeView life = LifeDesk(*shop).look(kChain).value();
  const auto closed = std::ranges::find(life.next, "Closed", &NextMoveView::to);
  ASSERT_NE(closed, life.next.end());
  EXPECT_EQ(std::ranges::count(closed->missing, "a visit is not over: yearly service"), 1);
}

}  // namespace
}  // namespace rollwright::shop

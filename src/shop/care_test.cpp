#include "shop/care_desk.hpp"

#include <algorithm>
#include <cstdio>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"
#include "shop/life_desk.hpp"
#include "shop/recall_desk.hpp"

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
          const double read = reading.value.target.value_or(
              reading.value.strictest.least.value_or(reading.value.strictest.most.value_or(1)));
          deed.value = std::to_string(read);
          if (reading.value.dimension == Dimension::kTorque) deed.tool = read > 20 ? "T3" : "T2";
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
  std::string other;
  const SlotChoicesView saddles = shop->choices(kChain, "saddle").value();
  for (const ChoiceView& choice : saddles.choices) {
    if (choice.status == "open" && !choice.chosen) other = choice.part.id;
  }
  ASSERT_FALSE(other.empty());
  EXPECT_NE(put(other.c_str(), "").find("why another part"), std::string::npos);
  EXPECT_EQ(put(other.c_str(), "torn"), "");
  const BenchView bench = shop->bench().bike(kChain).value();
  const auto saddle = std::ranges::find(bench.kit, "saddle", &KitPart::slot);
  EXPECT_EQ(saddle->part, other);
  EXPECT_TRUE(saddle->bound);
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

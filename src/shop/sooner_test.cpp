#include <algorithm>
#include <set>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

constexpr int kDraws = 300;

TEST(Sooner, SaysTheSameOfTheOrderAsItIsAsThePromise) {
  Shop& shop = shared_demo();
  const SoonerView view = shop.sooner("2022", kDraws).value();
  const PromiseView promise = shop.promise("2022", kDraws).value();
  EXPECT_EQ(view.day_50, promise.day_50);
  EXPECT_EQ(view.day_90, promise.day_90);
  ASSERT_TRUE(view.chance_kept && promise.chance_kept);
  EXPECT_DOUBLE_EQ(*view.chance_kept, *promise.chance_kept);
}

TEST(Sooner, EveryWayWinsWhatItSaysAndTheCheapestDayComesFirst) {
  Shop& shop = shared_demo();
  std::set<std::string> kinds;
  for (const std::string id : {"2020", "2024", "2027", "2030", "2033", "2036"}) {
    const auto view = shop.sooner(id, 100);
    ASSERT_TRUE(view) << id << ": " << view.error().full();
    double dearest = -1;
    for (const WayView& way : view->ways) {
      kinds.insert(way.kind);
      EXPECT_GE(way.mean_days, 0.5) << id << " " << way.what;
      const double per_day =
          static_cast<double>(std::max<std::int64_t>(0, way.price_cents)) / way.mean_days;
      EXPECT_GE(per_day, dearest - 1e-9) << id << " " << way.what;
      dearest = per_day;
      if (way.day_90) {
        EXPECT_EQ(way.days_90, (view->day_90 - *way.day_90).count());
      }
      for (const OtherPromiseView& other : way.others) EXPECT_NE(other.order, id);
    }
    for (const WayView& way : view->no_help) EXPECT_LT(way.mean_days, 0.5) << id;
    for (std::size_t i = 1; i < view->together.size(); ++i) {
      EXPECT_GE(view->together[i].way.mean_days, view->together[i - 1].way.mean_days + 0.5) << id;
    }
  }
  // The demo has bikes that wait for parts, for people and for the sea.
  EXPECT_GE(kinds.size(), 3u);
}

TEST(Sooner, AnotherPartReallyChosenGivesTheDaysThatWereSaid) {
  const auto shop = demo();
  int compared = 0;
  for (const std::string id : {"2038", "2039", "2040"}) {
    const SoonerView view = shop->sooner(id, kDraws).value();
    for (const std::vector<WayView>* ways : {&view.ways, &view.no_help}) {
      for (const WayView& way : *ways) {
        if (way.kind != "other part") continue;
        const OrderView before = shop->order(id).value();
        std::string held;
        for (const SlotView& slot : before.spec.slots) {
          if (slot.slot == way.slot && slot.part) held = slot.part->id;
        }
        const auto changed = shop->choose(id, way.slot, way.part, before.revision, "desk");
        ASSERT_TRUE(changed) << changed.error().full();
        EXPECT_NE(changed->spec.verdict, "does not fit");
        const PromiseView promise = shop->promise(id, kDraws).value();
        EXPECT_EQ(way.day_50, promise.day_50) << id << " " << way.what;
        EXPECT_EQ(way.day_90, promise.day_90) << id << " " << way.what;
        EXPECT_EQ(way.price_cents, changed->spec.price_cents - before.spec.price_cents);
        ASSERT_TRUE(shop->choose(id, way.slot, held, changed->revision, "desk"));
        ++compared;
      }
    }
  }
  EXPECT_GE(compared, 1);
}

TEST(Sooner, FreightReallyChangedGivesTheDaysThatWereSaid) {
  const auto shop = demo();
  const std::string by_sea = "P-3150";  // the maker's bike of order 2032, not shipped yet
  const SoonerView view = shop->sooner("2032", kDraws).value();
  const auto way = std::ranges::find(view.ways, std::string("freight"), &WayView::kind);
  ASSERT_NE(way, view.ways.end());
  EXPECT_NE(way->what.find("by air"), std::string::npos) << way->what;
  EXPECT_GT(way->price_cents, 0);
  EXPECT_GT(way->mean_days, 10);  // 35 to 60 days at sea against 5 to 12 in the air
  ASSERT_TRUE(shop->freight_mode(by_sea, "air", "desk"));
  const PromiseView promise = shop->promise("2032", kDraws).value();
  EXPECT_EQ(way->day_50, promise.day_50);
  EXPECT_EQ(way->day_90, promise.day_90);
}

TEST(Sooner, WritesNothingAndAnswersTheSameAgain) {
  const auto shop = demo();
  const std::int64_t before = shop->verify().value().entries;
  const SoonerView one = shop->sooner("2024", 100).value();
  const SoonerView two = shop->sooner("2024", 100).value();
  EXPECT_EQ(shop->verify().value().entries, before);
  ASSERT_EQ(one.ways.size(), two.ways.size());
  for (std::size_t i = 0; i < one.ways.size(); ++i) {
    EXPECT_EQ(one.ways[i].what, two.ways[i].what);
    EXPECT_EQ(one.ways[i].mean_days, two.ways[i].mean_days);
  }
  EXPECT_EQ(one.sentence, two.sentence);
}

TEST(Sooner, RefusesWhereNoDayIsAsked) {
  const auto ready = shared_demo().sooner("2010", kDraws);
  ASSERT_FALSE(ready);
  EXPECT_EQ(ready.error().code, Code::kRefused);
  EXPECT_NE(ready.error().sentence.find("nothing left to promise"), std::string::npos);
  EXPECT_EQ(shared_demo().sooner("9999", kDraws).error().code, Code::kNotFound);
}

}  // namespace
}  // namespace rollwright::shop

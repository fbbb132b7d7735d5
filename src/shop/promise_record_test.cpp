#include "shop/promise_record.hpp"

#include <algorithm>
#include <chrono>
#include <filesystem>

#include <gtest/gtest.h>
#include <unistd.h>

#include "book/book.hpp"
#include "shop/demo_shop.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

/// A folder or book that is gone after the test.
struct Temporary {
  explicit Temporary(const std::string& name)
      : path((std::filesystem::temp_directory_path() /
              ("rollwright-" + name + std::to_string(::getpid())))
                 .string()) {
    clear();
  }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  ~Temporary() { clear(); }
  void clear() const {
    for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove_all(path + tail);
  }
  std::string path;
};

TEST(PromiseRecord, APromiseIsSetRightByThoseBeforeIt) {
  const PromiseView view = shared_demo().promise("2022", 500).value();
  EXPECT_EQ(view.promises_known, shared_demo().kept().value().all.promises);
  EXPECT_GT(view.promises_known, 50);
  // Of the demo's promises fewer were kept than said, so no day comes sooner.
  EXPECT_GE(view.day_90, view.day_90_simulated);
  EXPECT_NE(view.sentence.find("earlier promises"), std::string::npos) << view.sentence;
  double before = 0;
  for (const CurvePoint& point : view.curve) {
    EXPECT_GE(point.probability, before);
    before = point.probability;
  }
  EXPECT_EQ(before, 1);
}

TEST(PromiseRecord, WithoutAnyTheSimulationSpeaksForItself) {
  const Temporary folder("no-promises");
  std::filesystem::copy(ROLLWRIGHT_ROOT "/data/demo", folder.path,
                        std::filesystem::copy_options::recursive);
  std::filesystem::remove(folder.path + "/promises.csv");
  const auto shop = open_demo(":memory:", true);
  ASSERT_TRUE(shop->import(folder.path, "owner")->imported);
  const PromiseView view = shop->promise("2022", 500).value();
  EXPECT_EQ(view.promises_known, 0);
  EXPECT_EQ(view.day_90, view.day_90_simulated);
  EXPECT_NE(view.sentence.find("No promise of the past"), std::string::npos) << view.sentence;
}

TEST(PromiseRecord, TheOddsOfTheDayAreKeptWhole) {
  const Temporary book("odds-said");
  {
    const auto shop = demo(book.path);
    std::string agreed;
    Day simulated = {};
    const std::vector<OrderLine> lines = shop->orders().value();
    for (const OrderLine& line : lines) {
      if (!agreed.empty() || (line.state != "Offer" && line.state != "Draft")) continue;
      const auto odds = shop->promise(line.id, 1000);
      const std::int64_t revision = shop->order(line.id).value().revision;
      if (!odds || !shop->agree(line.id, odds->day_90, 10000, revision, "desk")) continue;
      agreed = line.id;
      simulated = odds->day_90_simulated;
    }
    const trade::ShopFiles held = book::Book::open(book.path, false).value().read_all().value();
    const auto said =
        std::ranges::find_if(held.promises, [&](const trade::PromiseSaid& promise) {
          return promise.order.text == agreed;
        });
    ASSERT_NE(said, held.promises.end());
    EXPECT_EQ(said->day_90, simulated);
    ASSERT_FALSE(said->odds.empty());
    EXPECT_LE(said->odds.size(), 101u);
    EXPECT_GE(said->odds.back().second, 950);  // the rest lies beyond the horizon
  }
}

TEST(PromiseRecord, TheOddsKeptAreThoseSaidToAHundredth) {
  plan::Promise promise;
  const Day first = *parse_day("2027-01-04");
  for (int day = 1; day <= 300; ++day) {
    promise.curve.push_back({first + std::chrono::days(day), day / 300.0});
  }
  const auto odds = odds_said(promise);
  EXPECT_LE(odds.size(), 101u);
  for (const plan::CurvePoint& point : promise.curve) {
    int said = 0;
    for (const auto& [day, in_1000] : odds) {
      if (day <= point.day) said = in_1000;
    }
    EXPECT_NEAR(said / 1000.0, point.probability, 0.0101);
  }
}

}  // namespace
}  // namespace rollwright::shop

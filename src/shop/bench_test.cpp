#include "shop/bench_desk.hpp"

#include <algorithm>
#include <atomic>
#include <cstdio>
#include <map>
#include <thread>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

namespace rollwright::shop {
namespace {

// An e-bike of the demo that is being built: fork, stem and most of the rest are on.
constexpr const char* kBike = "2016";

DeedsGiven by(const char* who, std::vector<DeedGiven> deeds, std::string key = {}) {
  return {.who = who, .key = std::move(key), .deeds = std::move(deeds)};
}

const BenchOperation& operation_in(const BenchView& view, const std::string& id) {
  return *std::ranges::find(view.operations, id, &BenchOperation::operation);
}

std::string open_operation(const BenchView& view) {
  return std::ranges::find(view.operations, "open", &BenchOperation::standing)->operation;
}

TEST(BenchDesk, ListsTheBikesThatCanBeWorkedOnWithWhatIsNext) {
  const BenchListView view = shared_demo().bench().list().value();
  ASSERT_FALSE(view.bikes.empty());
  for (const BenchBike& bike : view.bikes) {
    EXPECT_LE(bike.done, bike.operations);
    EXPECT_TRUE(!bike.now.empty() || bike.done == bike.operations) << bike.order;
  }
  EXPECT_TRUE(std::ranges::is_sorted(view.bikes, {}, [](const BenchBike& bike) {
    return bike.promised.value_or(Day::max());
  }));
  const auto old = std::ranges::find(view.tools, "T4", &ToolView::id);
  ASSERT_NE(old, view.tools.end());
  EXPECT_FALSE(old->good);
  EXPECT_NE(old->sentence.find("calibration was due"), std::string::npos) << old->sentence;
}

TEST(BenchDesk, RefusesABikeThatIsNotAgreed) {
  const auto orders = shared_demo().orders().value();
  for (const OrderLine& line : orders) {
    const bool agreed = line.state != "Enquiry" && line.state != "Draft" && line.state != "Offer";
    EXPECT_EQ(shared_demo().bench().bike(line.id).has_value(), agreed) << line.id;
  }
}

TEST(BenchDesk, WhatIsDoneAtTheStandIsDoneInTheOrderAndTaughtToThePlan) {
  const auto shop = demo();
  BenchView view = shop->bench().bike(kBike).value();
  const std::string id = open_operation(view);
  const int done_before = view.done;
  ASSERT_TRUE(shop->bench().write(kBike, by("mara", {{.deed = "started", .about = id,
                                                      .at = "2026-11-25T07:00:00Z"}})));
  std::vector<DeedGiven> deeds;
  for (const BenchReading& reading : operation_in(view, id).readings) {
    for (std::size_t point = 0; point < reading.points.size(); ++point) {
      DeedGiven deed{.deed = "read", .about = id, .reading = reading.value.reading,
                     .point = static_cast<int>(point) + 1};
      if (reading.value.pass_or_fail) {
        deed.outcome = "pass";
      } else {
        deed.value = std::to_string(reading.value.target.value_or(
            reading.value.strictest.least.value_or(reading.value.strictest.most.value_or(1))));
        std::ranges::replace(deed.value, '.', ',');  // as a German thumb types it
        if (reading.value.dimension == Dimension::kTorque) deed.tool = "T3";
      }
      deeds.push_back(deed);
    }
  }
  deeds.push_back({.deed = "done", .about = id});
  const auto written = shop->bench().write(kBike, by("mara", deeds));
  ASSERT_TRUE(written) << written.error().full();
  ASSERT_EQ(written->lines.size(), deeds.size());
  EXPECT_EQ(written->lines.back().number, written->last);
  EXPECT_EQ(written->lines.back().deed, "done");
  EXPECT_NE(written->lines.back().sentence.find(id), std::string::npos);
  view = shop->bench().bike(kBike).value();
  EXPECT_EQ(view.last, written->last);
  EXPECT_EQ(view.done, done_before + 1);
  EXPECT_EQ(operation_in(view, id).doers, std::vector<std::string>{"Mara Hollis"});
  EXPECT_NEAR(operation_in(view, id).minutes_taken, 45, 1);
  EXPECT_TRUE(shop->verify().value().whole);
  const trade::Sheet sheet = shop->sheet(kBike).value();
  EXPECT_TRUE(std::ranges::find(sheet.steps, id, &trade::SheetStep::operation)->done);
  // To be done again, it is open in the order as well.
  ASSERT_TRUE(shop->bench().write(kBike, by("mara", {{.deed = "redo", .about = id,
                                                      .note = "loose"}})));
  const trade::Sheet again = shop->sheet(kBike).value();
  EXPECT_FALSE(std::ranges::find(again.steps, id, &trade::SheetStep::operation)->done);
}

TEST(BenchDesk, WritesAllOrNothingAndNamesTheDeedThatWasWrong) {
  const auto shop = demo();
  const std::string id = open_operation(shop->bench().bike(kBike).value());
  const auto refused = shop->bench().write(
      kBike, by("mara", {{.deed = "started", .about = id}, {.deed = "paused", .about = id}}));
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().place.field, "deeds[1].note");
  EXPECT_TRUE(shop->bench().history(kBike).value().lines.empty());
  EXPECT_EQ(shop->bench().write(kBike, by("nobody", {{.deed = "noted", .note = "x"}})).error().code,
            Code::kNotFound);
  EXPECT_EQ(shop->bench().write(kBike, by("mara", {{.deed = "hammered"}})).error().place.field,
            "deeds[0].deed");
  EXPECT_FALSE(shop->bench().write(kBike, by("mara", {{.deed = "noted", .note = "x",
                                                       .at = "2027-01-01T00:00:00Z"}})));
}

TEST(BenchDesk, WhatIsSentTwiceIsWrittenOnce) {
  const auto shop = demo();
  for (int sent = 0; sent < 3; ++sent) {
    const auto written =
        shop->bench().write(kBike, by("mara", {{.deed = "noted", .note = "once"}}, "k1"));
    ASSERT_TRUE(written) << written.error().full();
    EXPECT_EQ(written->already, sent > 0);
    EXPECT_EQ(written->lines.size(), sent > 0 ? 0U : 1U);
    EXPECT_EQ(written->last, 1);
  }
  EXPECT_EQ(shop->bench().history(kBike).value().lines.size(), 1U);
}

/// A book in a file of its own, which is gone afterwards.
struct BookFile {
  explicit BookFile(const char* name) : path(testing::TempDir() + name) { remove_all(); }
  ~BookFile() { remove_all(); }
  void remove_all() const {
    for (const char* end : {"", "-wal", "-shm"}) std::remove((path + end).c_str());
  }
  std::string path;
};

TEST(BenchDesk, WhatAnotherProgramWroteIsSeenAndJudgedOver) {
  const BookFile file("rollwright_bench_two_programs.book");
  const auto here = demo(file.path);
  const auto there = open_demo(file.path, false);
  const std::string id = open_operation(here->bench().bike(kBike).value());
  const DeedGiven started{.deed = "started", .about = id};
  ASSERT_TRUE(there->bench().write(kBike, by("mara", {started})));
  EXPECT_EQ(operation_in(here->bench().bike(kBike).value(), id).running, "Mara Hollis");
  EXPECT_FALSE(here->bench().write(kBike, by("mara", {started}))) << "it is running already";
  const auto paused = here->bench().write(
      kBike, by("mara", {{.deed = "paused", .about = id, .note = "lunch"}}));
  ASSERT_TRUE(paused) << paused.error().full();
  EXPECT_EQ(paused->last, 2);
  EXPECT_EQ(operation_in(there->bench().bike(kBike).value(), id).standing, "paused");
}

TEST(BenchDesk, HowABikeIsIsTheSameWhetherItsRecordWasFollowedOrReadAnew) {
  const BookFile file("rollwright_bench_anew.book");
  const auto shop = demo(file.path);
  int turn = 0;
  for (;; ++turn) {
    const BenchView before = shop->bench().bike(kBike).value();
    if (std::ranges::count(before.operations, "open", &BenchOperation::standing) == 0) break;
    const std::string id = open_operation(before);
    ASSERT_TRUE(shop->bench().write(kBike, by("mara", {{.deed = "started", .about = id}})));
    const bool fault = turn % 2 == 0;
    ASSERT_TRUE(shop->bench().write(kBike, by("mara", {{.deed = fault ? "fault" : "redo",
                                                        .about = id, .note = "so"}})));
    const BenchView followed = shop->bench().bike(kBike).value();
    const BenchView anew = open_demo(file.path, false)->bench().bike(kBike).value();
    EXPECT_EQ(followed.last, anew.last);
    EXPECT_EQ(followed.done, anew.done);
    for (const BenchOperation& operation : followed.operations) {
      EXPECT_EQ(operation.standing, operation_in(anew, operation.operation).standing);
      EXPECT_EQ(operation.because, operation_in(anew, operation.operation).because);
      EXPECT_EQ(operation.waits_for, operation_in(anew, operation.operation).waits_for);
    }
  }
  EXPECT_GE(turn, 2);
}

TEST(BenchDesk, EachWheelHangsWithOneOperationOfABike) {
  const auto orders = shared_demo().orders().value();
  int both = 0;
  for (const OrderLine& line : orders) {
    const auto sheet = shared_demo().sheet(line.id);
    if (!sheet) continue;
    std::map<std::string, std::string> hung;
    for (const trade::SheetStep& step : sheet->steps) {
      for (const std::string& wheel : step.hangs) {
        EXPECT_TRUE(hung.emplace(wheel, step.operation).second) << line.id << " " << wheel;
      }
    }
    const auto has = [&](const char* id) {
      return std::ranges::count(sheet->steps, id, &trade::SheetStep::operation) > 0;
    };
    if (has("A-30")) {
      EXPECT_EQ(hung["front_wheel"], "A-30") << line.id;
    }
    if (has("A-30") || has("A-31")) {
      EXPECT_EQ(hung["rear_wheel"], has("A-31") ? "A-31" : "A-30") << line.id;
    }
    both += has("A-30") && has("A-31") ? 1 : 0;
  }
  EXPECT_GT(both, 0) << "no bike of the demo has a bolted hub gear behind a thru-axle";
}

TEST(LastAsked, ForgetsWhatNobodyAskedForLongest) {
  LastAsked<int> kept(2);
  kept.put("a", 1);
  kept.put("b", 2);
  EXPECT_EQ(kept.find("a"), 1);
  kept.put("c", 3);
  EXPECT_FALSE(kept.find("b")) << "a was asked for since";
  EXPECT_EQ(kept.find("a"), 1);
  kept.put("a", 4);
  EXPECT_EQ(kept.find("a"), 4);
  EXPECT_EQ(kept.find("c"), 3);
  kept.forget("c");
  EXPECT_FALSE(kept.find("c"));
}

TEST(BenchDesk, ManyWritersInTwoProgramsLoseAndDoubleNothing) {
  const BookFile file("rollwright_bench_test.book");
  {
    const auto shop = demo(file.path);
    const auto other = open_demo(file.path, false);
    std::vector<std::thread> writers;
    std::atomic<int> failed = 0;
    constexpr int kWriters = 8;
    constexpr int kEach = 12;
    for (int writer = 0; writer < kWriters; ++writer) {
      writers.emplace_back([&, writer] {
        for (int number = 0; number < kEach; ++number) {
          const std::string key = std::to_string(writer) + "-" + std::to_string(number);
          const DeedsGiven given = by("mara", {{.deed = "noted", .note = key}}, key);
          // Tablets whose answer was lost send once more.
          for (int sent = 0; sent < 1 + number % 2; ++sent) {
            BenchDesk& desk = (writer + sent) % 2 == 0 ? shop->bench() : other->bench();
            auto written = desk.write(kBike, given);
            while (!written && written.error().code == Code::kConflict) {
              written = desk.write(kBike, given);
            }
            if (!written) ++failed;
          }
        }
      });
    }
    for (std::thread& writer : writers) writer.join();
    EXPECT_EQ(failed, 0);
    std::map<std::string, int> seen;
    const HistoryView history = shop->bench().history(kBike).value();
    for (const HistoryLine& line : history.lines) {
      ++seen[line.sentence];
    }
    EXPECT_EQ(seen.size(), static_cast<std::size_t>(kWriters * kEach));
    for (const auto& [sentence, times] : seen) EXPECT_EQ(times, 1) << sentence;
    EXPECT_TRUE(shop->verify().value().whole);
  }
}

TEST(BenchDesk, ALotIsFoundOnItsBikesAndPossiblyOnThoseWhoseLotNobodyWroteDown) {
  const auto shop = demo();
  const BenchView view = shop->bench().bike(kBike).value();
  const auto plain = std::ranges::find_if(view.kit, [](const KitPart& part) {
    return !part.has_serial;
  });
  const auto numbered = std::ranges::find_if(view.kit, [](const KitPart& part) {
    return part.has_serial;
  });
  ASSERT_NE(plain, view.kit.end());
  ASSERT_NE(numbered, view.kit.end());
  ASSERT_TRUE(shop->bench().write(kBike, by("mara", {{.deed = "kitted", .about = plain->slot,
                                                      .lot = "L0412"},
                                                     {.deed = "kitted", .about = numbered->slot,
                                                      .serial = "SN100200"}})));
  TraceView found = shop->bench().trace({.part = plain->part, .lot_from = "L0400",
                                         .lot_to = "L0499"}).value();
  ASSERT_EQ(found.bikes.size(), 1U);
  EXPECT_EQ(found.bikes[0].order, kBike);
  EXPECT_EQ(found.bikes[0].certainty, "certain");
  EXPECT_FALSE(found.bikes[0].rider.empty());
  EXPECT_TRUE(shop->bench().trace({.lot_from = "L0500", .lot_to = "L0599"}).value().bikes.empty());
  EXPECT_FALSE(shop->bench().trace({.lot_from = "L9", .lot_to = "L10"}));
  EXPECT_FALSE(shop->bench().trace({}));
  // A lot that nobody wrote down may be any.
  found = shop->bench().trace({.part = numbered->part, .lot_from = "L0001"}).value();
  ASSERT_EQ(found.bikes.size(), 1U);
  EXPECT_EQ(found.bikes[0].certainty, "possible");
  ASSERT_TRUE(shop->bench().write(kBike, by("mara", {{.deed = "off", .about = plain->slot,
                                                      .note = "recalled"}})));
  EXPECT_EQ(shop->bench().trace({.lot_from = "L0412"}).value().bikes.at(0).certainty, "was on");
}

TEST(BenchDesk, ANumberIsOnOneBikeOnly) {
  const auto shop = demo();
  std::map<std::string, std::pair<std::string, std::string>> first;  // part -> order, slot
  const BenchListView list = shop->bench().list().value();
  for (const BenchBike& bike : list.bikes) {
    const BenchView view = shop->bench().bike(bike.order).value();
    for (const KitPart& part : view.kit) {
      if (!part.has_serial) continue;
      const auto [held, is_new] = first.emplace(part.part, std::pair(bike.order, part.slot));
      if (is_new || held->second.first == bike.order) continue;
      const DeedGiven kitted{.deed = "kitted", .about = part.slot, .serial = "SN7"};
      DeedGiven before = kitted;
      before.about = held->second.second;
      ASSERT_TRUE(shop->bench().write(held->second.first, by("mara", {before})));
      const auto again = shop->bench().write(bike.order, by("mara", {kitted}));
      ASSERT_FALSE(again);
      EXPECT_EQ(again.error().code, Code::kConflict);
      EXPECT_NE(again.error().sentence.find(held->second.first), std::string::npos);
      return;
    }
  }
  FAIL() << "no two bikes of the demo have a part in common that has a number";
}

TEST(BenchDesk, AShortKitSaysWhatIsMissingAndWhatCanBeBuiltWithout) {
  bool some_short = false;
  const BenchListView list = shared_demo().bench().list().value();
  for (const BenchBike& bike : list.bikes) {
    const BuildAsFar far = shared_demo().bench().bike(bike.order).value().as_far;
    EXPECT_EQ(far.missing.empty(), far.sentence.starts_with("Every part")) << far.sentence;
    if (far.missing.empty()) {
      EXPECT_TRUE(far.not_possible.empty());
    }
    some_short = some_short || !far.not_possible.empty();
  }
  EXPECT_TRUE(some_short);
}

}  // namespace
}  // namespace rollwright::shop

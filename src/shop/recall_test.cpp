#include "shop/recall_desk.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>

#include <fmt/ranges.h>
#include <gtest/gtest.h>

#include "base/csv.hpp"
#include "shop/bench_desk.hpp"
#include "shop/demo_shop.hpp"

// The notices in these tests are invented.
namespace rollwright::shop {
namespace {

constexpr const char* kBuilding = "2016";  // an e-bike of the demo that is being built

RecallGiven notice_of(const std::string& part) {
  return {.who = "mara", .notice = "maker's letter 7", .part = part, .wrong = "cracks at the clamp",
          .danger = true, .remedy = "replace it"};
}

std::string part_in(Shop& shop, const std::string& order, const std::string& slot) {
  const OrderView view = shop.order(order).value();
  return std::ranges::find(view.spec.slots, slot, &SlotView::slot)->part->id;
}

std::vector<std::string> flags_of(Shop& shop, const std::string& order) {
  return shop.order(order).value().line.flags;
}

bool is_stopped(Shop& shop, const std::string& order) {
  return std::ranges::count(flags_of(shop, order), "Stop-sale") > 0;
}

bool names(const std::vector<RecalledBike>& bikes, const std::string& order) {
  return std::ranges::count(bikes, order, &RecalledBike::order) > 0;
}

Result<WrittenView> at_bench(Shop& shop, DeedGiven deed) {
  return shop.bench().write(kBuilding, {.who = "mara", .deeds = {std::move(deed)}});
}

TEST(Recalls, OpeningOneStopsTheSaleOfLiveOrdersAndNamesBikesWithTheirRiders) {
  const auto shop = demo();
  const std::string stem = part_in(*shop, kBuilding, "stem");
  const auto view = shop->recalls().open(notice_of(stem));
  ASSERT_TRUE(view) << view.error().full();
  EXPECT_EQ(view->line.number, "R1");
  EXPECT_TRUE(names(view->orders, kBuilding));
  int handed_over = 0;
  for (int number = 2001; number <= 2042; ++number) {  // open orders and those that are over
    const auto order = shop->order(std::to_string(number));
    if (!order) continue;
    const OrderLine& line = order->line;
    const bool has = std::ranges::any_of(order->spec.slots, [&](const SlotView& slot) {
      return slot.part && slot.part->id == stem;
    });
    const bool over = line.state == "Handed over" || line.state == "In care" || line.state == "Closed";
    handed_over += has && over ? 1 : 0;
    EXPECT_EQ(names(view->bikes, line.id), has && over) << line.id;
    const bool drafted = line.state == "Enquiry" || line.state == "Draft" || line.state == "Offer";
    const bool live = !over && !drafted && line.state != "Cancelled";
    EXPECT_EQ(is_stopped(*shop, line.id), has && live) << line.id << line.state;
  }
  EXPECT_EQ(view->line.riders, handed_over);
  EXPECT_GT(handed_over, 0);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Recalls, WhatIsHeldStaysHeldAndSaysWhy) {
  const auto shop = demo();
  const auto orders = shop->orders().value();
  for (const OrderLine& line : orders) {
    if (std::ranges::count(line.flags, "Held") == 0) continue;
    const std::string before = shop->order(line.id).value().held_because;
    ASSERT_TRUE(shop->recalls().open(notice_of(part_in(*shop, line.id, "frame"))));
    const OrderView after = shop->order(line.id).value();
    EXPECT_EQ(after.held_because, before);
    EXPECT_EQ(std::ranges::count(after.line.flags, "Held"), 1);
    return;
  }
}

TEST(Recalls, ALotOutsideIsNotTouchedAndOneNotWrittenDownIsPossible) {
  const auto shop = demo();
  const std::string stem = part_in(*shop, kBuilding, "stem");
  RecallGiven given = notice_of(stem);
  given.lot_from = "L10";
  given.lot_to = "L19";
  ASSERT_TRUE(at_bench(*shop, {.deed = "kitted", .about = "stem", .lot = "L20"}));
  const RecallView outside = shop->recalls().open(given).value();
  EXPECT_FALSE(names(outside.orders, kBuilding));
  EXPECT_FALSE(is_stopped(*shop, kBuilding));
  for (const RecalledBike& bike : outside.orders) EXPECT_EQ(bike.certainty, "possible");
}

TEST(Recalls, ReplacingThePartOnRecordTakesTheStopOffAndFittingItSetsIt) {
  const auto shop = demo();
  RecallGiven given = notice_of(part_in(*shop, kBuilding, "stem"));
  given.lot_from = "L10";
  ASSERT_TRUE(at_bench(*shop, {.deed = "kitted", .about = "stem", .lot = "L10"}));
  const RecallView view = shop->recalls().open(given).value();
  ASSERT_TRUE(is_stopped(*shop, kBuilding));
  const auto bike = std::ranges::find(view.orders, kBuilding, &RecalledBike::order);
  EXPECT_EQ(bike->certainty, "certain");
  EXPECT_TRUE(bike->bound);
  const auto off = at_bench(*shop, {.deed = "off", .about = "stem", .note = "recall R1"});
  ASSERT_TRUE(off) << off.error().full();
  EXPECT_TRUE(is_stopped(*shop, kBuilding)) << "nothing else is in its place yet";
  ASSERT_TRUE(at_bench(*shop, {.deed = "on", .about = "stem", .lot = "L11", .note = "new lot"}));
  EXPECT_FALSE(is_stopped(*shop, kBuilding));
  ASSERT_TRUE(at_bench(*shop, {.deed = "off", .about = "stem", .note = "scratched"}));
  ASSERT_TRUE(at_bench(*shop, {.deed = "on", .about = "stem", .lot = "L10", .note = "old one"}));
  EXPECT_TRUE(is_stopped(*shop, kBuilding)) << "a piece that is called back came on again";
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Recalls, FixedTakesTheStopOffUnlessAnotherRecallTouchesTheOrder) {
  const auto shop = demo();
  ASSERT_TRUE(shop->recalls().open(notice_of(part_in(*shop, kBuilding, "stem"))));
  ASSERT_TRUE(shop->recalls().open(notice_of(part_in(*shop, kBuilding, "frame"))));
  const ToldGiven fixed{.who = "mara", .order = kBuilding, .status = "fixed", .channel = "",
                        .note = "looked at, marked"};
  ASSERT_TRUE(shop->recalls().tell("R1", fixed));
  EXPECT_TRUE(is_stopped(*shop, kBuilding));
  ASSERT_TRUE(shop->recalls().tell("R2", fixed));
  EXPECT_FALSE(is_stopped(*shop, kBuilding));
}

TEST(Recalls, AreCountedAsASentence) {
  const auto shop = demo();
  RecallView view = shop->recalls().open(notice_of(part_in(*shop, "2001", "frame"))).value();
  ASSERT_FALSE(view.bikes.empty()) << "2001 of the demo was handed over";
  const std::string order = view.bikes[0].order;
  const std::string of = std::to_string(view.line.riders);
  const auto tell = [&](const char* status) {
    return shop->recalls()
        .tell("R1", {.who = "mara", .order = order, .status = status, .channel = "telephone"})
        .value();
  };
  EXPECT_EQ(tell("no answer").line.told, 0);
  EXPECT_EQ(tell("told").line.told, 1);
  view = tell("fixed");
  EXPECT_EQ(view.line.fixed, 1);
  EXPECT_EQ(view.line.progress, "1 of " + of + (of == "1" ? " rider" : " riders") + " told; 1 fixed");
  EXPECT_EQ(view.bikes[0].steps.size(), 3U);
}

TEST(Recalls, ClosingNeedsAReasonWhileSomethingIsOpenAndTakesTheStopOff) {
  const auto shop = demo();
  ASSERT_TRUE(shop->recalls().open(notice_of(part_in(*shop, kBuilding, "stem"))));
  const auto refused = shop->recalls().close("R1", {.who = "mara", .note = ""});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().place.field, "note");
  ASSERT_TRUE(shop->recalls().close("R1", {.who = "mara", .note = "the maker took it back"}));
  EXPECT_FALSE(is_stopped(*shop, kBuilding));
  EXPECT_EQ(shop->recalls().close("R1", {.who = "mara", .note = "again"}).error().code,
            Code::kRefused);
  EXPECT_EQ(shop->recalls().tell("R1", {.who = "mara", .order = kBuilding, .status = "told"})
                .error().code,
            Code::kRefused);
}

struct BadNotice {
  const char* field;
  void (*make)(RecallGiven&);
};

TEST(Recalls, RefuseANoticeNamingTheField) {
  const BadNotice bad[] = {
      {"who", [](RecallGiven& given) { given.who = "nobody"; }},
      {"part", [](RecallGiven& given) { given.part = "XX-1"; }},
      {"part", [](RecallGiven& given) { given.part.clear(); }},
      {"kind", [](RecallGiven& given) { given = {.who = "mara", .kind = "K-XX", .maker = "a",
                                                 .wrong = "b"}; }},
      {"wrong", [](RecallGiven& given) { given.wrong = "  "; }},
      {"lot_to", [](RecallGiven& given) { given.lot_from = "L9"; given.lot_to = "L10"; }},
      {"serial_to", [](RecallGiven& given) { given.serial_from = "2"; given.serial_to = "1"; }},
      {"remedy", [](RecallGiven& given) { given.remedy = std::string(2000, 'x'); }},
  };
  Shop& shop = shared_demo();
  for (const BadNotice& each : bad) {
    RecallGiven given = notice_of(part_in(shop, kBuilding, "stem"));
    each.make(given);
    const auto refused = shop.recalls().open(given);
    ASSERT_FALSE(refused) << each.field;
    EXPECT_EQ(refused.error().place.field, each.field) << refused.error().full();
  }
  EXPECT_TRUE(shop.recalls().list().value().recalls.empty());
}

TEST(Recalls, OfAKindAndItsMakerMeanEveryPartOfBoth) {
  const auto shop = demo();
  const PartView part = shop->part(part_in(*shop, kBuilding, "stem")).value();
  RecallGiven given = notice_of("");
  given.kind = part.row.part.kind;
  given.maker = part.row.part.maker;
  const auto view = shop->recalls().open(given);
  ASSERT_TRUE(view) << view.error().full();
  EXPECT_TRUE(names(view->orders, kBuilding));
}

/// The stems of the demo as a list, with another maker; its path.
std::string stems_by(const std::string& maker) {
  const std::string folder = testing::TempDir() + "stems";
  std::filesystem::create_directories(folder + "/parts");
  std::ifstream held(ROLLWRIGHT_ROOT "/data/demo/parts/K-ST.csv");
  std::string text{std::istreambuf_iterator<char>(held), {}};
  Csv stems = parse_csv(text, "K-ST.csv").value();
  const auto column = stems.column("maker");
  std::ofstream out(folder + "/parts/K-ST.csv");
  out << fmt::format("{}\n", fmt::join(stems.headings, ","));
  for (CsvRow& row : stems.rows) {
    row.cells[static_cast<std::size_t>(column)] = maker;
    for (std::string& cell : row.cells) cell = csv_cell(cell);
    out << fmt::format("{}\n", fmt::join(row.cells, ","));
  }
  return folder;
}

TEST(Recalls, AListThatMakesAPartOneOfThoseCalledBackStopsTheSaleToo) {
  const auto shop = demo();
  RecallGiven given = notice_of("");
  given.kind = shop->part(part_in(*shop, kBuilding, "stem")).value().row.part.kind;
  given.maker = "Invented Stems";
  ASSERT_TRUE(shop->recalls().open(given));
  EXPECT_FALSE(is_stopped(*shop, kBuilding));
  const auto read = shop->import(stems_by("Invented Stems"), "owner");
  ASSERT_TRUE(read && read->imported) << (read ? read->problems.front() : read.error().full());
  EXPECT_TRUE(is_stopped(*shop, kBuilding));
  ASSERT_TRUE(shop->import(stems_by("Others"), "owner").value().imported);
  EXPECT_FALSE(is_stopped(*shop, kBuilding));
}

TEST(Recalls, OrdersReadAnewFromAFileStayStopped) {
  const auto shop = demo();
  ASSERT_TRUE(shop->recalls().open(notice_of(part_in(*shop, kBuilding, "stem"))));
  const auto read = shop->import(ROLLWRIGHT_ROOT "/data/demo/orders.toml", "owner");
  ASSERT_TRUE(read && read->imported) << (read ? read->problems.front() : read.error().full());
  EXPECT_TRUE(is_stopped(*shop, kBuilding));
}

TEST(Recalls, AReadingAtTheBenchDoesNotWriteTheOrderAnew) {
  const auto shop = demo();
  ASSERT_TRUE(shop->recalls().open(notice_of("SA-0001")));
  const auto before = shop->order(kBuilding).value().revision;
  ASSERT_TRUE(at_bench(*shop, {.deed = "kitted", .about = "stem", .lot = "L1"}));
  EXPECT_EQ(shop->order(kBuilding).value().revision, before);
}

TEST(Recalls, AreListedAsPdfAndAsCsvWithEveryBike) {
  const auto shop = demo();
  const RecallView view =
      shop->recalls().open(notice_of(part_in(*shop, kBuilding, "stem"))).value();
  EXPECT_TRUE(shop->recalls().list_pdf("R1").value().starts_with("%PDF"));
  const auto csv = parse_csv(shop->recalls().list_csv("R1").value(), "list.csv");
  ASSERT_TRUE(csv) << csv.error().full();
  EXPECT_EQ(csv->rows.size(), view.bikes.size() + view.orders.size());
  EXPECT_EQ(shop->recalls().list_pdf("R2").error().code, Code::kNotFound);
}

TEST(Recalls, AreStillThereWhenTheBookIsOpenedAgain) {
  const std::string path = testing::TempDir() + "recalls.book";
  std::remove(path.c_str());
  std::string stem;
  {
    const auto shop = demo(path);
    stem = part_in(*shop, kBuilding, "stem");
    RecallGiven given = notice_of(stem);
    given.day_from = parse_day("2026-01-01").value();
    ASSERT_TRUE(shop->recalls().open(given));
    ASSERT_TRUE(shop->recalls().tell("R1", {.who = "mara", .order = kBuilding, .status = "booked",
                                            .channel = "letter", .note = "Monday"}));
  }
  const auto again = open_demo(path, false);
  const RecallView view = again->recalls().recall("R1").value();
  EXPECT_EQ(view.part, stem);
  EXPECT_EQ(view.ranges, "that came from Thursday 1 January 2026");
  const auto bike = std::ranges::find(view.orders, kBuilding, &RecalledBike::order);
  ASSERT_NE(bike, view.orders.end());
  EXPECT_EQ(bike->status, "booked");
  EXPECT_EQ(bike->steps.at(0).note, "Monday");
  EXPECT_TRUE(again->verify().value().whole);
  std::remove(path.c_str());
}

}  // namespace
}  // namespace rollwright::shop

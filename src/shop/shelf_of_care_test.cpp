#include "shop/shelf_of_care.hpp"

#include <gtest/gtest.h>

namespace rollwright::shop {
namespace {

using namespace std::chrono_literals;

constexpr Day kToday = 2026y / 11 / 25;
const trade::PartId kStem("ST-1");

struct ShelfCase {
  const char* name;
  std::vector<build::FittedNow> was;  // in the place
  const char* serial;
  int on_shelf;
  int left;  // free afterwards
  const char* came_by;
};

std::ostream& operator<<(std::ostream& out, const ShelfCase& each) { return out << each.name; }

build::FittedNow was(const char* serial, bool off) {
  build::FittedNow part{.slot = "stem", .part = kStem, .serial = serial, .lot = {}, .came_by = {},
                        .who = {}, .off = {}, .why_off = {}};
  if (off) part.off = Instant{};
  return part;
}

class Shelf : public testing::TestWithParam<ShelfCase> {};

TEST_P(Shelf, GivesAPieceOnlyInPlaceOfAnother) {
  trade::ShopFiles files;
  files.stock = {{.part = kStem, .on_shelf = GetParam().on_shelf, .put_by = {{trade::OrderId("9"), 1}}}};
  files.used = {{.part = kStem, .day = kToday, .what_for = "care of 7", .quantity = 3}};
  const auto state = make_state(std::move(files), 1);
  trade::Order order;
  order.id = trade::OrderId("7");
  trade::Sheet sheet;
  sheet.parts = {{.slot = "stem", .position = "stem", .part = kStem.text, .name = "stem"}};
  build::BenchState now;
  now.parts = GetParam().was;
  build::DeedWanted wanted;
  wanted.deed = trade::Deed::kOn;
  wanted.about = "stem";
  wanted.part = kStem;
  wanted.serial = GetParam().serial;
  wanted.came_by = "stock";

  ShelfOfCare shelf(*state, order);
  shelf.give(sheet, now, wanted);
  trade::ShopFiles put;
  shelf.into(put, kToday);
  EXPECT_EQ(wanted.came_by, GetParam().came_by);
  const int before = GetParam().on_shelf - 1;
  if (GetParam().left == before) {
    EXPECT_TRUE(put.stock.empty());
    EXPECT_TRUE(put.used.empty());
    return;
  }
  ASSERT_EQ(put.stock.size(), 1U);
  EXPECT_EQ(trade::free_pieces(put.stock.front()), GetParam().left);
  ASSERT_EQ(put.used.size(), 1U);
  EXPECT_EQ(put.used.front().quantity, 4) << "takings of a day are one";
  EXPECT_EQ(put.used.front().what_for, "care of 7");
}

const ShelfCase kCases[] = {
    {"NothingOnRecordYet", {}, "", 3, 2, "stock"},
    {"AfterOneThatWasTakenOff", {was("", true)}, "", 3, 1, "stock"},
    {"TheLastIsPutByForAnother", {was("", true)}, "", 1, 0, "elsewhere"},
    {"TheSameByItsNumber", {was("N1", true)}, "N1", 3, 2, "stock"},
    {"AnotherNumber", {was("N1", true)}, "N2", 3, 1, "stock"},
};

INSTANTIATE_TEST_SUITE_P(Pieces, Shelf, testing::ValuesIn(kCases),
                         [](const auto& info) { return info.param.name; });

TEST(ShelfOfCare, AnotherPartThanTheBikesIsAnotherPieceAndTwoNeedTwo) {
  trade::ShopFiles files;
  const trade::PartId other("ST-2");
  files.stock = {{.part = other, .on_shelf = 3, .put_by = {}}};
  const auto state = make_state(std::move(files), 1);
  trade::Order order;
  order.id = trade::OrderId("7");
  trade::Sheet sheet;
  sheet.parts = {{.slot = "pads", .position = "pads", .part = "ST-1", .name = "pads", .quantity = 2}};
  build::DeedWanted wanted;
  wanted.deed = trade::Deed::kOn;
  wanted.about = "pads";
  wanted.part = other;
  wanted.came_by = "stock";
  ShelfOfCare shelf(*state, order);
  shelf.give(sheet, {}, wanted);
  EXPECT_EQ(wanted.came_by, "stock");
  shelf.give(sheet, {}, wanted);
  EXPECT_EQ(wanted.came_by, "elsewhere") << "one is not enough";
  trade::ShopFiles put;
  shelf.into(put, kToday);
  ASSERT_EQ(put.stock.size(), 1U);
  EXPECT_EQ(put.stock.front().on_shelf, 1);
}

}  // namespace
}  // namespace rollwright::shop

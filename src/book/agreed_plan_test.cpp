#include <filesystem>

#include <gtest/gtest.h>

#include "book/book.hpp"
#include "book/database.hpp"
#include "book/record.hpp"

// Everything in these tests is invented.
namespace rollwright::book {
namespace {

Day day(const char* text) { return parse_day(text).value(); }

trade::OrderPlan work_on(const char* order) {
  return {.order = trade::OrderId(order),
          .work = {{.operation = "A-20", .person = trade::PersonId("mara"), .area = "assembly",
                    .stand = 2, .start = {day("2026-11-26"), 540},
                    .end = {day("2026-11-26"), 600}, .pinned_by = "mara"},
                   {.operation = "A-61", .person = trade::PersonId("ilka"), .area = "assembly",
                    .start = {day("2026-11-26"), 1050}, .end = {day("2026-11-27"), 570}},
                   {.operation = "P-21", .person = trade::PersonId("mara"), .area = "packing",
                    .stand = 1, .start = {day("2026-11-27"), 600},
                    .end = {day("2026-11-27"), 660},
                    .lending = {trade::PersonId("ilka"), trade::PersonId("tove")}}}};
}

trade::ShopFiles with_plan(std::int64_t number) {
  trade::ShopFiles files;
  if (number == 1) {
    files.orders = {{.id = trade::OrderId("2031")}, {.id = trade::OrderId("2041")}};
  }
  files.plan_settings = {{.frozen_days = 2, .moved = 7}};
  files.agreed_plans = {{.number = number, .agreed = parse_instant("2026-11-25T07:45:00Z").value(),
                         .who = "mara"}};
  files.order_plans = {work_on("2031"), work_on("2041")};
  return files;
}

Change change_with(trade::ShopFiles files) {
  return {.who = "mara", .what = "agree plan", .why = "test", .put = std::move(files)};
}

TEST(AgreedPlan, IsGivenBackAsItWasPut) {
  Book book = Book::open(":memory:", true).value();
  const trade::ShopFiles files = with_plan(1);
  ASSERT_TRUE(book.write(change_with(files)));
  const trade::ShopFiles held = book.read_all().value();
  EXPECT_EQ(record_of(held.plan_settings.at(0)).text, record_of(files.plan_settings[0]).text);
  EXPECT_EQ(record_of(held.agreed_plans.at(0)).text, record_of(files.agreed_plans[0]).text);
  ASSERT_EQ(held.order_plans.size(), 2u);
  EXPECT_EQ(held.order_plans[1].work, files.order_plans[1].work);
  EXPECT_TRUE(book.verify().value().whole);
}

TEST(AgreedPlan, WhoLendsAHandIsPartOfTheJournalAndOfItsProof) {
  auto database = open_sqlite(":memory:").value();
  Database* const raw = database.get();
  Book book = Book::over(std::move(database), true).value();
  ASSERT_TRUE(book.write(change_with(with_plan(1))));
  EXPECT_TRUE(book.verify().value().whole);
  ASSERT_TRUE(raw->run("update planned_hand set person = 'jonas' where person = 'tove' and "
                       "order_id = '2041'",
                       {}));
  EXPECT_FALSE(book.verify().value().whole);
  // Written before anybody lent a hand a plan reads as it did.
  trade::OrderPlan plain = work_on("2031");
  for (trade::PlannedWork& work : plain.work) work.lending.clear();
  EXPECT_EQ(record_of(plain).text.find("lending"), std::string::npos);
}

TEST(AgreedPlan, ABookOfTheVersionBeforeGetsItsTableAndKeepsItsPlan) {
  const std::string path = testing::TempDir() + "book_before_hands.db";
  const auto remove_all = [&path] {
    for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(path + tail);
  };
  remove_all();
  trade::ShopFiles files = with_plan(1);
  for (trade::OrderPlan& plan : files.order_plans) {
    for (trade::PlannedWork& work : plan.work) work.lending.clear();
  }
  ASSERT_TRUE(Book::open(path, true).value().write(change_with(files)));
  ASSERT_TRUE(open_sqlite(path).value()->run_script(
      "drop table maker_form_line; drop table maker_form; drop table maker_list_line; "
      "drop table maker_list; drop table difference_answer; drop table planned_hand; "
      "alter table customer_order drop column budget_asked; "
      "alter table customer_order drop column budget_cents; "
      "alter table customer_order drop column follow_up; "
      "alter table customer_order drop column follow_up_about; "
      "drop index bike_line_care; "
      "update book set version = 13"));
  Book book = Book::open(path, false).value();
  EXPECT_TRUE(book.verify().value().whole);
  EXPECT_EQ(book.read_all().value().order_plans.at(1).work, files.order_plans[1].work);
  ASSERT_TRUE(book.write(change_with(with_plan(2))));
  EXPECT_EQ(book.read_all().value().order_plans.at(1).work, with_plan(2).order_plans[1].work);
  EXPECT_TRUE(book.verify().value().whole);
  remove_all();
}

TEST(AgreedPlan, OverAnOlderOneIsRefusedAndNothingOfItIsKept) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(change_with(with_plan(1))));
  trade::ShopFiles late = with_plan(1);
  late.orders.clear();
  late.order_plans[0].work.clear();
  const auto refused = book.write(change_with(late));
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kConflict);
  EXPECT_EQ(refused.error().place.field, "plan");
  EXPECT_EQ(book.read_all().value().order_plans.size(), 2u);
  EXPECT_TRUE(book.write(change_with(with_plan(2))));
}

TEST(AgreedPlan, WritesOnlyOrdersThatMovedAndLeavesOutOrdersItNoLongerKnows) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(change_with(with_plan(1))));
  trade::ShopFiles next = with_plan(2);
  next.order_plans[0].work.clear();
  EXPECT_EQ(book.write(change_with(next)).value().things, 2) << "the plan and order 2031";
  const trade::ShopFiles held = book.read_all().value();
  ASSERT_EQ(held.order_plans.size(), 1u);
  EXPECT_EQ(held.order_plans[0].order.text, "2041");
  EXPECT_TRUE(book.verify().value().whole);
  const auto entries = book.entries("plan of order 2031", 5).value();
  ASSERT_EQ(entries.size(), 2u);
  EXPECT_TRUE(entries[0].after.empty());
  EXPECT_FALSE(entries[0].before.empty());
}

}  // namespace
}  // namespace rollwright::book

#include <filesystem>

#include <gtest/gtest.h>
#include <unistd.h>

#include "book/book.hpp"
#include "book/record.hpp"

// What the book keeps of an order's life. Everything in these tests is invented.
namespace rollwright::book {
namespace {

Day day_of(const char* text) { return parse_day(text).value(); }

Change life_change() {
  Change change{.who = "mara", .what = "sign", .why = "test"};
  trade::Order order{.id = trade::OrderId("2041"), .build = "B1",
                     .state = trade::OrderState::kGathering, .opened = day_of("2026-11-01")};
  order.flags = {"Held", "Date at risk"};
  order.flags_said["Held"] = {"belt has a kink", day_of("2026-12-04"), "mara",
                              day_of("2026-11-20")};
  order.held_because = "belt has a kink";
  const trade::SlotId hub("rear_hub");
  const trade::SlotId bell("bell");
  change.put.orders = {order};
  change.put.signed_specs = {
      {.order = order.id, .version = 1, .signed_by = "A. Rider", .who = "mara",
       .day = day_of("2026-11-01"), .price = {41000},
       .lines = {{hub, trade::PartId("HG-1"), 1, {41000}}}},
      {.order = order.id, .version = 2, .signed_by = "A. Rider", .who = "mara",
       .day = day_of("2026-11-05"), .price = {86500}, .changes = {4500},
       .lines = {{bell, trade::PartId("AC-1"), 2, {0}}, {hub, trade::PartId("HG-1"), 2, {41000}}}}};
  change.put.order_moves = {{.order = order.id, .number = 1, .from = trade::OrderState::kOffer,
                             .to = trade::OrderState::kAgreed, .by = "mara",
                             .day = day_of("2026-11-01"),
                             .said = {{"terms_shown", "yes"}, {"lever_side", "yes"}}},
                            {.order = order.id, .number = 2, .from = trade::OrderState::kAgreed,
                             .to = trade::OrderState::kGathering, .by = "ida",
                             .day = day_of("2026-11-02"), .note = "all at Nordal"}};
  return change;
}

TEST(OrderLife, IsGivenBackAsItWasPut) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(life_change()));
  const trade::ShopFiles put = life_change().put;
  const trade::ShopFiles held = book.read_all().value();
  ASSERT_EQ(held.signed_specs.size(), 2u);
  ASSERT_EQ(held.order_moves.size(), 2u);
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_EQ(record_of(held.signed_specs[i]).text, record_of(put.signed_specs[i]).text);
    EXPECT_EQ(record_of(held.order_moves[i]).text, record_of(put.order_moves[i]).text);
  }
  trade::Order expected = put.orders[0];
  expected.revision = 1;
  EXPECT_EQ(record_of(held.orders.at(0)).text, record_of(expected).text);
  const trade::FlagSaid& said = held.orders[0].flags_said.at("Held");
  EXPECT_EQ(said.until, day_of("2026-12-04"));
  EXPECT_FALSE(held.orders[0].flags_said.contains("Date at risk"));
  EXPECT_TRUE(book.verify().value().whole);
}

TEST(OrderLife, ForgetsWhyAFlagStoodOnceItIsCleared) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(life_change()));
  Change cleared = life_change();
  cleared.put.orders = {book.read_order(trade::OrderId("2041")).value()};
  cleared.put.orders[0].flags.erase("Held");
  cleared.put.orders[0].flags_said.clear();
  ASSERT_TRUE(book.write(cleared));
  EXPECT_TRUE(book.read_all().value().orders[0].flags_said.empty());
  EXPECT_TRUE(book.verify().value().whole);
}

Change enquiry_change(std::optional<trade::Budget> budget,
                      std::optional<trade::FollowUp> follow_up) {
  Change change{.who = "mara", .what = "budget", .why = "test"};
  change.put.orders = {{.id = trade::OrderId("2044"), .build = "B1", .budget = budget,
                        .follow_up = follow_up, .opened = day_of("2026-11-01")}};
  return change;
}

TEST(OrderLife, KeepsBudgetAndFollowUpAndWhatIsTakenOut) {
  Book book = Book::open(":memory:", true).value();
  const trade::FollowUp calls{.day = day_of("2026-11-24"), .about = "Pia calls"};
  const std::vector<std::optional<trade::Budget>> budgets = {
      trade::Budget{.at_most = Money{250050}}, trade::Budget{}, std::nullopt};
  std::int64_t revision = 0;
  for (const auto& budget : budgets) {
    for (const auto& follow_up : {std::optional(calls), std::optional<trade::FollowUp>()}) {
      Change change = enquiry_change(budget, follow_up);
      change.put.orders[0].revision = revision;
      ASSERT_TRUE(book.write(change));
      const trade::Order held = book.read_order(trade::OrderId("2044")).value();
      EXPECT_EQ(held.budget, budget);
      EXPECT_EQ(held.follow_up, follow_up);
      revision = held.revision;
      EXPECT_TRUE(book.verify().value().whole);
    }
  }
}

TEST(OrderLife, ABookOfTheVersionBeforeBudgetsGetsThemAndKeepsItsJournalWhole) {
  const std::string path = testing::TempDir() + "book_before_budgets.db";
  const auto remove_all = [&path] {
    for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(path + tail);
  };
  remove_all();
  ASSERT_TRUE(Book::open(path, true).value().write(enquiry_change({}, {})));
  ASSERT_TRUE(open_sqlite(path).value()->run_script(
      "alter table customer_order drop column budget_asked; "
      "alter table customer_order drop column budget_cents; "
      "alter table customer_order drop column follow_up; "
      "alter table customer_order drop column follow_up_about; "
      "drop index bike_line_care; "
      "update book set version = 15"));
  {
    Book book = Book::open(path, false).value();
    EXPECT_TRUE(book.verify().value().whole);
    EXPECT_FALSE(book.read_order(trade::OrderId("2044")).value().budget.has_value());
    Change change = enquiry_change(trade::Budget{}, trade::FollowUp{day_of("2026-11-24"), "Pia"});
    change.put.orders[0].revision = 1;
    ASSERT_TRUE(book.write(change));
    EXPECT_TRUE(book.verify().value().whole);
  }
  for (const char* past : {"update customer_order set budget_cents = 100",
                           "update customer_order set budget_asked = 0",
                           "update customer_order set follow_up = '2026-12-24'",
                           "update customer_order set follow_up_about = 'Ida'"}) {
    ASSERT_TRUE(open_sqlite(path).value()->run_script(past));
    EXPECT_FALSE(Book::open(path, false).value().verify().value().whole) << past;
    ASSERT_TRUE(open_sqlite(path).value()->run_script(
        "update customer_order set budget_cents = null, budget_asked = 1, "
        "follow_up = '2026-11-24', follow_up_about = 'Pia'"));
  }
  remove_all();
}

TEST(OrderLife, ChangedPastTheJournalIsFound) {
  const std::string path = (std::filesystem::temp_directory_path() /
                            ("rollwright-life-" + std::to_string(::getpid()) + ".book"))
                               .string();
  const auto remove_all = [&path] {
    for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(path + tail);
  };
  for (const char* sql : {"update order_flag_said set reason = 'none'",
                          "update order_flag_said set until = null",
                          "delete from order_flag_said",
                          "update signed_spec set price_cents = 1 where version = 1",
                          "update signed_spec set signed_by = 'B. Rider' where version = 2",
                          "delete from signed_line where version = 2 and slot = 'bell'",
                          "update signed_line set part = 'HG-2' where version = 1",
                          "update signed_line set quantity = 3 where slot = 'bell'",
                          "update order_moved set by_whom = 'eve' where number = 2",
                          "update order_moved set to_state = 'Kitted' where number = 2",
                          "update order_moved_said set said = 'no' where what = 'lever_side'",
                          "delete from order_moved_said"}) {
    remove_all();
    ASSERT_TRUE(Book::open(path, true).value().write(life_change()));
    EXPECT_TRUE(Book::open(path, false).value().verify().value().whole);
    {
      auto database = open_sqlite(path).value();
      ASSERT_TRUE(database->run_script(sql)) << sql;
    }
    EXPECT_FALSE(Book::open(path, false).value().verify().value().whole) << sql;
  }
  remove_all();
}

}  // namespace
}  // namespace rollwright::book

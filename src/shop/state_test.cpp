#include "shop/state.hpp"

#include <gtest/gtest.h>

#include "book/book.hpp"
#include "book/record.hpp"
#include "trade/load_trade.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

trade::ShopFiles demo_files() {
  const auto loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  auto read = trade::read_shop_files(loaded.trade, ROLLWRIGHT_ROOT "/data/demo");
  EXPECT_TRUE(read.problems.empty());
  return std::move(read.files);
}

/// Every order and part in the state's order, as the journal would write it.
std::vector<std::string> records_of(const State& state) {
  std::vector<std::string> records;
  for (const trade::Part& part : state.held.parts) records.push_back(book::record_of(part).text);
  for (const trade::Order& order : state.held.orders) {
    records.push_back(book::record_of(order).text);
  }
  return records;
}

TEST(State, CarriedOverIsTheSameAsReadAnew) {
  auto opened = book::Book::open(":memory:", true);
  ASSERT_TRUE(opened);
  book::Book& book = *opened;
  ASSERT_TRUE(book.write({.who = "a", .what = "import", .put = demo_files()}));
  const auto before = make_state(book.read_all().value(), book.last_entry().value());

  trade::Order changed = *before->orders.at(trade::OrderId("2041"));
  changed.held_because = "waits for the rider";
  trade::Order added = changed;
  added.id = trade::OrderId("1999");  // sorts before all others
  added.revision = 0;
  trade::Part part = before->held.parts[7];
  part.name += ", new";
  book::Change change{.who = "a", .what = "choose"};
  change.put.orders = {changed, added};
  change.put.parts = {part};
  const auto written = book.write(change);
  ASSERT_TRUE(written) << written.error().full();
  ASSERT_EQ(written->things, 3);
  for (trade::Order& order : change.put.orders) order = book.read_order(order.id).value();

  const auto after = next_state(*before, change.put, written->last_entry);
  const auto anew = make_state(book.read_all().value(), book.last_entry().value());
  EXPECT_EQ(after->entry, anew->entry);
  EXPECT_EQ(records_of(*after), records_of(*anew));
  EXPECT_NE(records_of(*after), records_of(*before));
  EXPECT_EQ(after->part(part.id)->name, part.name);
  EXPECT_EQ(after->orders.at(added.id)->revision, 1);
  EXPECT_NE(before->part(part.id)->name, part.name) << "a state that is looked at never changes";
  EXPECT_FALSE(before->orders.contains(added.id));
}

TEST(State, SharesWhatAChangeLeftAlone) {
  const auto before = make_state(demo_files(), 1);
  trade::Order changed = *before->held.orders.begin();
  changed.held_because = "waits";
  const auto after = next_state(*before, {.orders = {changed}}, 2);
  EXPECT_EQ(after->catalogue, before->catalogue);
  EXPECT_EQ(after->all_else, before->all_else);
  EXPECT_NE(after->orders.at(changed.id), before->orders.at(changed.id));
  const trade::OrderId other = std::next(before->held.orders.begin())->id;
  EXPECT_EQ(after->orders.at(other), before->orders.at(other));
  EXPECT_EQ(after->part(before->held.parts[0].id), &before->held.parts[0]);
}

}  // namespace
}  // namespace rollwright::shop

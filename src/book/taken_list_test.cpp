#include <gtest/gtest.h>

#include "book/book.hpp"
#include "book/record.hpp"

// Everything in these tests is invented.
namespace rollwright::book {
namespace {

Change lists_change() {
  Change change{.who = "mara", .what = "take in list", .why = "list 1: a.csv of nordal"};
  trade::Part part{.id = trade::PartId("TY-9"), .kind = trade::KindId("K-TY"), .name = "Tyre",
                   .maker = "Brack", .price = {4200}};
  part.facts["mass"] = {trade::Standing::kKnown, 0.62, "a.csv", "", parse_day("2026-09-01").value()};
  part.facts["flag"] = {trade::Standing::kMeasured, true, "eye", "mara", {}};
  part.facts["word"] = {trade::Standing::kKnown, std::string("PL \"x\""), "a.csv", "", {}};
  part.facts["words"] = {trade::Standing::kKnown, std::vector<std::string>{"a", "b"}, "l", "", {}};
  change.put.suppliers = {{.id = trade::SupplierId("nordal"), .name = "Nordal"}};
  change.put.parts = {part};
  change.put.offers = {{.supplier = trade::SupplierId("nordal"), .part = part.id,
                        .article = "N 7", .breaks = {{1, {2000}}, {10, {1900}}}, .pack = 5,
                        .availability = "importer"}};
  change.put.mappings["nordal"] = "supplier = \"nordal\"\n";
  change.put.taken_lists = {{.number = 1, .supplier = trade::SupplierId("nordal"),
                             .file = "a.csv", .who = "mara", .added = 1}};
  return change;
}

TEST(TakenLists, AreKeptWithTheirMapping) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(lists_change()));
  const trade::ShopFiles held = book.read_all().value();
  EXPECT_EQ(held.mappings.at("nordal"), "supplier = \"nordal\"\n");
  ASSERT_EQ(held.taken_lists.size(), 1u);
  EXPECT_EQ(record_of(held.taken_lists[0]).text,
            record_of(lists_change().put.taken_lists[0]).text);
  EXPECT_TRUE(book.verify().value().whole);
}

TEST(Records, OfPartsAndOffersReadBack) {
  const Change change = lists_change();
  const trade::Part& part = change.put.parts[0];
  const Record said = record_of(part);
  EXPECT_EQ(record_of(part_from(part.id, said.text).value()).text, said.text);
  const trade::Offer& offer = change.put.offers[0];
  const Record offered = record_of(offer);
  EXPECT_EQ(record_of(offer_from(offer.supplier, offer.part, offered.text).value()).text,
            offered.text);
  for (const std::string& wrong : {std::string(), std::string("[]"), std::string("{}"),
                                   said.text.substr(1), std::string("{\"facts\": {\"a\": 1}}")}) {
    EXPECT_EQ(part_from(part.id, wrong).error().code, Code::kDamaged) << wrong;
    EXPECT_EQ(offer_from(offer.supplier, offer.part, wrong).error().code, Code::kDamaged);
  }
}

TEST(TakenAway, LeavesTheJournalWholeAndTheTablesWithoutThem) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(lists_change()));
  Change away{.who = "mara", .what = "take back list", .why = "list 1"};
  away.take_away.offers = {{trade::SupplierId("nordal"), trade::PartId("TY-9")}};
  away.take_away.parts = {trade::PartId("TY-9")};
  EXPECT_EQ(book.write(away).value().things, 2);
  EXPECT_TRUE(book.read_all().value().parts.empty());
  EXPECT_TRUE(book.read_all().value().offers.empty());
  EXPECT_TRUE(book.verify().value().whole) << book.verify().value().sentence;
  EXPECT_EQ(book.write(away).value().things, 0) << "what is not there is not taken away";
  EXPECT_EQ(book.entries_of("take in list", "list 1: a.csv of nordal").value().size(), 5u);
  EXPECT_TRUE(book.entries_of("take in list", "list 2").value().empty());
  ASSERT_TRUE(book.write(lists_change())) << "and may come again";
  EXPECT_TRUE(book.verify().value().whole);
}

TEST(TakenAway, RefusesAPartThatAnOrderNames) {
  Book book = Book::open(":memory:", true).value();
  Change change = lists_change();
  trade::Order order{.id = trade::OrderId("9"), .build = "B1"};
  order.choices[trade::SlotId("front_tyre")] = trade::PartId("TY-9");
  change.put.orders = {order};
  ASSERT_TRUE(book.write(change));
  Change away{.who = "mara", .what = "take back list", .why = "list 1"};
  away.take_away.offers = {{trade::SupplierId("nordal"), trade::PartId("TY-9")}};
  away.take_away.parts = {trade::PartId("TY-9")};
  EXPECT_EQ(book.write(away).error().code, Code::kConflict);
  EXPECT_EQ(book.read_all().value().offers.size(), 1u) << "all or nothing";
}

}  // namespace
}  // namespace rollwright::book

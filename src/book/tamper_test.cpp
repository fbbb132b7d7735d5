#include <cstdio>
#include <filesystem>

#include <gtest/gtest.h>

#include "book/book.hpp"
#include "book/database.hpp"

namespace rollwright::book {
namespace {

trade::BikeLine line(int number, trade::Deed deed) {
  return {.number = number, .at = parse_instant("2026-11-25T08:00:00Z").value(),
          .who = trade::PersonId("mara"), .deed = deed, .about = "A-20",
          .reading = "stem \"bolts\"\n", .point = 1, .value = 5.25,
          .outcome = trade::Outcome::kPass, .limit = "4 to 6 N·m", .tool = "T2",
          .part = trade::PartId("HG-0001"), .serial = "S1", .lot = "L1", .came_by = "P-1",
          .note = "c:\\ok"};
}

Change two_lines() {
  Change change{.who = "mara", .what = "bench", .why = "A-20"};
  change.record = {{.order = trade::OrderId("2041"), .key = "tablet 1",
                    .lines = {line(1, trade::Deed::kStarted), line(2, trade::Deed::kRead)}}};
  change.record[0].lines[0].value.reset();
  return change;
}

class BikeLines : public testing::Test {
 protected:
  void SetUp() override { remove_all(); }
  void TearDown() override { remove_all(); }
  void remove_all() {
    for (const char* end : {"", "-wal", "-shm"}) std::remove((path_ + end).c_str());
  }
  const std::string path_ = testing::TempDir() + "rollwright_tamper_test.book";
};

TEST_F(BikeLines, AreGivenBackAsTheyWerePutAndOnlyOncePerKey) {
  Book book = Book::open(path_, true).value();
  ASSERT_TRUE(book.write(two_lines()));
  EXPECT_EQ(book.bike_lines(trade::OrderId("2041")).value(), two_lines().record[0].lines);
  EXPECT_TRUE(book.write(two_lines()).value().sent_before);
  EXPECT_EQ(book.bike_lines(trade::OrderId("2041")).value().size(), 2U);
  EXPECT_TRUE(book.verify().value().whole) << book.verify().value().sentence;
  Change late = two_lines();
  late.record[0].key = "tablet 2";
  EXPECT_EQ(book.write(late).error().code, Code::kConflict);
}

TEST_F(BikeLines, OfVisitsAreFoundByAnIndexOfTheirOwn) {
  Book book = Book::open(path_, true).value();
  for (const char* order : {"9", "10"}) {
    Change change = two_lines();
    change.record[0].order = trade::OrderId(order);
    change.record[0].key = order;
    change.record[0].lines = {line(1, trade::Deed::kVisit), line(2, trade::Deed::kAsked),
                              line(3, trade::Deed::kBack)};
    ASSERT_TRUE(book.write(change));
  }
  const auto visits = book.bike_visits(0).value();
  ASSERT_EQ(visits.size(), 4U);
  EXPECT_EQ(visits[0].order.text, "10");
  EXPECT_EQ(visits[1].line.deed, trade::Deed::kBack);
  EXPECT_EQ(visits[1].line.number, 3);
  // Of the bikes into whose record somebody wrote since then, all of it.
  EXPECT_EQ(book.bike_visits(book.last_entry().value()).value().size(), 0U);
  const auto later = book.bike_visits(book.last_entry().value() - 1).value();
  ASSERT_EQ(later.size(), 2U);
  EXPECT_EQ(later[0].order.text, "10");
  const auto how = open_sqlite(path_).value()->run(
      "explain query plan select order_id from bike_line where deed in ('visit', 'given back', 'reminded') "
      "order by order_id, number", {});
  ASSERT_TRUE(how);
  EXPECT_NE(std::get<std::string>(how->front().back()).find("bike_line_care"), std::string::npos);
}

TEST_F(BikeLines, AreFoundByLotAndSerialInARange) {
  Book book = Book::open(path_, true).value();
  Change change = two_lines();
  change.record[0].lines[0].deed = trade::Deed::kKitted;
  ASSERT_TRUE(book.write(change));
  EXPECT_EQ(book.find_marks({.lot_from = "L0", .lot_to = "L2"}).value().size(), 1U);
  EXPECT_EQ(book.find_marks({.lot_from = "L2", .lot_to = "L3"}).value().size(), 0U);
  EXPECT_EQ(book.find_marks({.lot_from = "L10"}).value().size(), 0U);
  EXPECT_EQ(book.find_marks({.serial_to = "S1"}).value().size(), 1U);
  EXPECT_FALSE(book.find_marks({}));
}

/// Every cell of a record, changed past the journal in every way that a cell can be.
TEST_F(BikeLines, AnyCellThatIsChangedPastTheJournalIsFound) {
  ASSERT_TRUE(Book::open(path_, true).value().write(two_lines()));
  const char* columns[] = {"order_id", "number", "at", "who", "deed", "about", "reading", "point",
                           "value", "outcome", "limit_words", "tool", "part", "serial", "lot",
                           "came_by", "note"};
  const std::string kept = path_ + ".kept";
  std::filesystem::copy_file(path_, kept, std::filesystem::copy_options::overwrite_existing);
  int found = 0;
  for (const std::string column : columns) {
    for (const char* value : {"7", "'other'", "'2026-11-25T08:00:00+00:00'", "x'00'", "5.250001"}) {
      auto database = open_sqlite(path_).value();
      const auto changed = database->run_script("update bike_line set " + column + " = " + value +
                                                " where number = 2");
      database.reset();
      const auto report = Book::open(path_, false).value().verify();
      EXPECT_TRUE(!report || !report->whole) << column << " = " << value;
      if (changed) ++found;
      remove_all();
      std::filesystem::copy_file(kept, path_);
    }
  }
  EXPECT_EQ(found, 85);
  for (const char* sql : {"delete from bike_line where number = 2", "delete from sent_once",
                          "update sent_once set key = 'x'", "update sent_once set number = 2",
                          "insert into sent_once values ('y', '2041', 2)",
                          "insert into bike_line select order_id, 3, at, who, deed, about, reading, "
                          "point, value, outcome, limit_words, tool, part, serial, lot, came_by, "
                          "note from bike_line where number = 2",
                          "update journal set at = '2026-11-25T08:00:00.000Z'",
                          "update journal set after = after || ' ' where subject = 'bike 2041'"}) {
    auto database = open_sqlite(path_).value();
    ASSERT_TRUE(database->run_script(sql)) << sql;
    database.reset();
    const auto report = Book::open(path_, false).value().verify();
    EXPECT_TRUE(!report || !report->whole) << sql;
    remove_all();
    std::filesystem::copy_file(kept, path_);
  }
  std::filesystem::remove(kept);
}

}  // namespace
}  // namespace rollwright::book

#include "book/person_secret.hpp"

#include <filesystem>

#include <gtest/gtest.h>
#include <unistd.h>

#include "book/book.hpp"

// Everything in these tests is invented; the texts stand for hashes.
namespace rollwright::book {
namespace {

PersonSecret secret_of(const char* person, const char* password, const char* pin) {
  return {.person = trade::PersonId(person), .password = password, .pin = pin};
}

Change change_with(PersonSecret secret) {
  Change change{.who = "mara", .what = "set password", .why = "test"};
  change.secrets = {std::move(secret)};
  return change;
}

TEST(PersonSecret, IsGivenBackAsItWasPut) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(change_with(secret_of("mara", "hash one", ""))));
  ASSERT_TRUE(book.write(change_with(secret_of("jonas", "", "hash two"))));
  const auto held = book.secrets().value();
  ASSERT_EQ(held.size(), 2u);
  EXPECT_EQ(held[0].person.text, "jonas");
  EXPECT_EQ(held[0].pin, "hash two");
  EXPECT_EQ(held[1].password, "hash one");
  EXPECT_TRUE(book.verify().value().whole);
}

TEST(PersonSecret, IsNotInTheJournalOnlyThatItIsThere) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(change_with(secret_of("mara", "hash one", ""))));
  const Entry entry = book.entries("sign-in of mara", 1).value().at(0);
  EXPECT_EQ(entry.after.find("hash one"), std::string::npos) << entry.after;
  EXPECT_NE(entry.after.find(R"("password":true,"pin":false,"mark":")"), std::string::npos);
  EXPECT_EQ(entry.who, "mara");
}

TEST(PersonSecret, ChangedByOneLetterHasAnotherMark) {
  const std::string text = record_of(secret_of("mara", "ab", "c")).text;
  EXPECT_NE(text, record_of(secret_of("mara", "a", "bc")).text) << "nor by moving one";
  EXPECT_NE(text, record_of(secret_of("mara", "ab", "d")).text);
  EXPECT_NE(text, record_of(secret_of("jonas", "ab", "c")).text);
  EXPECT_EQ(text, record_of(secret_of("mara", "ab", "c")).text);
}

TEST(PersonSecret, WithNothingSetIsTakenAway) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(change_with(secret_of("mara", "hash one", ""))));
  EXPECT_EQ(book.write(change_with(secret_of("mara", "", ""))).value().things, 1);
  EXPECT_TRUE(book.secrets().value().empty());
  EXPECT_TRUE(book.entries("sign-in of mara", 1).value().at(0).after.empty());
  EXPECT_TRUE(book.verify().value().whole);
  EXPECT_EQ(book.write(change_with(secret_of("mara", "", ""))).value().things, 0);
}

TEST(PersonSecret, SetAgainAsItWasIsNoChange) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(change_with(secret_of("mara", "hash one", ""))));
  EXPECT_EQ(book.write(change_with(secret_of("mara", "hash one", ""))).value().things, 0);
}

TEST(PersonSecret, AlteredAddedOrRemovedPastTheJournalIsFound) {
  const std::string path = std::filesystem::temp_directory_path() /
                           ("rollwright-secret-" + std::to_string(::getpid()) + ".book");
  for (const char* sql : {"update person_secret set password = 'hash of another' where person = 'mara'",
                          "update person_secret set pin = '' where person = 'mara'",
                          "insert into person_secret (person, password, pin) values ('eve', 'x', '')",
                          "delete from person_secret"}) {
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
    Book book = Book::open(path, true).value();
    ASSERT_TRUE(book.write(change_with(secret_of("mara", "hash one", "hash two"))));
    ASSERT_TRUE(book.verify().value().whole);
    ASSERT_TRUE(open_sqlite(path).value()->run_script(sql)) << sql;
    const ChainReport report = book.verify().value();
    EXPECT_FALSE(report.whole) << sql;
    EXPECT_NE(report.sentence.find("sign-in of"), std::string::npos) << report.sentence;
  }
  for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
}

}  // namespace
}  // namespace rollwright::book

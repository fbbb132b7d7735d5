#include "book/picture.hpp"

#include <cstdio>
#include <filesystem>

#include <gtest/gtest.h>

#include "book/book.hpp"

// Pictures are a few bytes that begin as pictures do; everything in them is invented.
namespace rollwright::book {
namespace {

const std::string kJpeg = std::string("\xFF\xD8\xFF\xE0", 4) + std::string("\0a\0picture", 10);
const std::string kPng = std::string("\x89PNG\r\n\x1A\n", 8) + "another";

Change photograph(const std::string& bytes, int number = 1) {
  Change change{.who = "mara", .what = "photo", .why = "boxes"};
  Picture picture = picture_of(bytes).value();
  change.record = {{.order = trade::OrderId("2041"), .after = number - 1, .key = {},
                    .lines = {{.number = number,
                               .at = parse_instant("2026-11-25T08:00:00Z").value(),
                               .who = trade::PersonId("mara"), .deed = trade::Deed::kPhoto,
                               .about = "boxes", .reading = {}, .limit = {}, .tool = {}, .part = {},
                               .serial = picture.hash, .lot = {}, .came_by = {}, .note = {}}}}};
  change.pictures.push_back(std::move(picture));
  return change;
}

Change of_goods(const std::string& line, int claim, const std::string& bytes) {
  Change change{.who = "pia", .what = "photograph", .why = line};
  change.put.suppliers.emplace_back().id = trade::SupplierId("nordal");
  change.put.parts.emplace_back().id = trade::PartId("HG-0001");
  trade::PurchaseLine& purchase = change.put.purchases.emplace_back();
  purchase.id = "P-1";
  purchase.supplier = change.put.suppliers[0].id;
  purchase.part = change.put.parts[0].id;
  Picture picture = picture_of(bytes).value();
  change.goods_photos = {{.line = line, .claim = claim, .picture = picture.hash,
                          .at = parse_instant("2026-11-25T08:00:00Z").value(), .who = "pia",
                          .note = "corner \"crushed\""}};
  change.pictures.push_back(std::move(picture));
  return change;
}

TEST(Picture, IsAJpegOrAPngByItsFirstBytesAndNothingElse) {
  EXPECT_EQ(picture_of(kJpeg).value().type, "image/jpeg");
  EXPECT_EQ(picture_of(kPng).value().type, "image/png");
  for (const std::string& bytes :
       {std::string(), std::string("\xFF\xD8"), std::string("GIF89a"), std::string("<svg></svg>"),
        std::string("%PDF-1.7"), " " + kJpeg}) {
    const auto refused = picture_of(bytes);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, Code::kBadInput);
  }
}

TEST(Picture, HasAtMostEightMebibytes) {
  std::string bytes = kJpeg;
  bytes.resize(kMostPictureBytes, 'x');
  EXPECT_TRUE(picture_of(bytes));
  const auto refused = picture_of(bytes + "x");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kTooLarge);
  EXPECT_NE(refused.error().sentence.find("at most 8 MiB"), std::string::npos);
}

// By another program:
// `printf '\xff\xd8\xff' | b2sum -l 256`.
TEST(Picture, IsNamedByTheHashOfItsBytes) {
  EXPECT_EQ(picture_of("\xFF\xD8\xFF").value().hash,
            "f4c28334eb6db577e2d91fde87cf095ff1cd43b539fd0687e8d22b6a5c380d33");
}

TEST(Picture, IsGivenBackJustAsItWasGiven) {
  Book book = Book::open(":memory:", true).value();
  for (const std::string& bytes : {kJpeg, kPng}) {
    const bool first = bytes == kJpeg;
    ASSERT_TRUE(book.write(photograph(bytes, first ? 1 : 2)));
    const Picture held = book.picture(picture_of(bytes).value().hash).value();
    EXPECT_EQ(held.bytes, bytes);
    EXPECT_EQ(held.type, first ? "image/jpeg" : "image/png");
  }
  EXPECT_EQ(book.bike_photos(trade::OrderId("2041")).value().size(), 2U);
  EXPECT_TRUE(book.verify().value().whole) << book.verify().value().sentence;
  EXPECT_EQ(book.picture("nothing").error().code, Code::kNotFound);
}

TEST(Picture, IsWrittenWithWhatItShowsOrNotAtAll) {
  Book book = Book::open(":memory:", true).value();
  Change without = photograph(kJpeg);
  without.pictures.clear();
  EXPECT_EQ(book.write(without).error().code, Code::kNotFound);
  Change late = photograph(kJpeg);
  late.record[0].after = 7;
  late.record[0].lines[0].number = 8;
  EXPECT_EQ(book.write(late).error().code, Code::kConflict);
  EXPECT_FALSE(book.picture(picture_of(kJpeg).value().hash)) << "the line was refused";
  EXPECT_EQ(book.last_entry().value(), 0);
  Change of_line = of_goods("P-1", 0, kPng);
  of_line.pictures.clear();
  EXPECT_EQ(book.write(of_line).error().code, Code::kNotFound);
  EXPECT_EQ(book.last_entry().value(), 0);
}

TEST(Picture, TakenTwiceIsKeptOnce) {
  Book book = Book::open(":memory:", true).value();
  ASSERT_TRUE(book.write(photograph(kJpeg)));
  const std::int64_t entries = book.last_entry().value();
  ASSERT_TRUE(book.write(photograph(kJpeg, 2)));
  EXPECT_EQ(book.last_entry().value(), entries + 1) << "the second line only";
  EXPECT_TRUE(book.verify().value().whole);
}

TEST(Picture, OfGoodsStandsAtItsLineAndClaim) {
  Book book = Book::open(":memory:", true).value();
  const Change change = of_goods("P-1", 2, kPng);
  ASSERT_TRUE(book.write(change));
  EXPECT_EQ(book.goods_photos("P-1").value(), change.goods_photos);
  EXPECT_EQ(book.goods_photos("").value(), change.goods_photos);
  EXPECT_TRUE(book.goods_photos("P-2").value().empty());
  EXPECT_EQ(book.write(change).value().things, 0) << "sent twice, written once";
  Change purchase = change;  // the line itself is written anew now and then
  purchase.put.purchases[0].quantity = 3;
  ASSERT_TRUE(book.write(purchase));
  EXPECT_TRUE(book.verify().value().whole) << book.verify().value().sentence;
}

/// Everything about a picture, changed past the journal.
TEST(Picture, WhateverIsChangedPastTheJournalIsFound) {
  const std::string path = testing::TempDir() + "rollwright_picture_test.book";
  const auto remove_all = [&path] {
    for (const char* end : {"", "-wal", "-shm"}) std::remove((path + end).c_str());
  };
  const std::string kept = path + ".kept";
  remove_all();
  {
    Book book = Book::open(path, true).value();
    ASSERT_TRUE(book.write(photograph(kJpeg)));
    ASSERT_TRUE(book.write(of_goods("P-1", 1, kPng)));
    ASSERT_TRUE(book.verify().value().whole);
  }
  std::filesystem::copy_file(path, kept, std::filesystem::copy_options::overwrite_existing);
  for (const char* sql :
       {"update picture set bytes = bytes || x'00'", "update picture set bytes = x'ffd8ff'",
        "update picture set bytes = x''", "update picture set type = 'image/png'",
        "update picture set type = 'text/html'", "update picture set hash = 'f' || hash",
        "delete from picture where type = 'image/jpeg'",
        "insert into picture values ('0', 'image/png', x'89504e470d0a1a0a')",
        "update goods_photo set purchase = 'P-1', claim = 2", "update goods_photo set note = ''",
        "update goods_photo set at = '2026-11-25T08:00:01Z'",
        "update goods_photo set at = '2026-11-25T08:00:00.000Z'",
        "update goods_photo set who = 'mara'", "update goods_photo set picture = '0'",
        "delete from goods_photo",
        "insert into goods_photo select purchase, 3, picture, at, who, note from goods_photo",
        "update bike_line set serial = '0' where deed = 'photo'",
        "update journal set after = replace(after, 'jpeg', 'png')"}) {
    auto database = open_sqlite(path).value();
    ASSERT_TRUE(database->run_script(sql)) << sql;
    database.reset();
    const auto report = Book::open(path, false).value().verify();
    EXPECT_TRUE(!report || !report->whole) << sql;
    remove_all();
    std::filesystem::copy_file(kept, path);
  }
  EXPECT_TRUE(Book::open(path, false).value().verify().value().whole);
  remove_all();
  std::filesystem::remove(kept);
}

}  // namespace
}  // namespace rollwright::book

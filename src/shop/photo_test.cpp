#include "shop/photo_desk.hpp"

#include <algorithm>
#include <cstdio>
#include <optional>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "pictures/write_jpeg.hpp"
#include "shop/bench_desk.hpp"
#include "shop/demo_shop.hpp"

// Pictures are a few bytes that begin as pictures do; the shop is that of data/demo, invented.
namespace rollwright::shop {
namespace {

constexpr const char* kBike = "2016";
constexpr const char* kLine = "P-3165";  // has a claim

std::string picture(const std::string& what) { return "\xFF\xD8\xFF" + what; }

BikePhotoGiven by(const char* who, const char* about, const char* key = "") {
  return {.who = who, .about = about, .note = "drive side", .at = {}, .key = key};
}

TEST(Photos, OfABikeStandInItsRecordWithThePictureBehindThem) {
  const auto shop = demo();
  const auto taken = shop->photos().take_of_bike(kBike, picture("one"), by("mara", "T-60"));
  ASSERT_TRUE(taken) << taken.error().full();
  ASSERT_EQ(taken->photos.size(), 1U);
  const PhotoView& photo = taken->photos.front();
  EXPECT_EQ(photo.about, "T-60");
  EXPECT_EQ(photo.at, "2026-11-25T07:45:00Z");
  EXPECT_EQ(shop->photos().picture(photo.picture).value().bytes, picture("one"));
  const HistoryView history = shop->bench().history(kBike).value();
  EXPECT_EQ(history.lines.back().deed, "photo");
  EXPECT_EQ(history.lines.back().serial, photo.picture);
  EXPECT_EQ(history.lines.back().sentence,
            "photograph, T-60 Weigh, photograph, serials, papers: drive side");
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Photos, SentTwiceUnderOneKeyAreWrittenOnce) {
  const auto shop = demo();
  ASSERT_TRUE(shop->photos().take_of_bike(kBike, picture("one"), by("mara", "", "tablet 1")));
  const auto again = shop->photos().take_of_bike(kBike, picture("one"), by("mara", "", "tablet 1"));
  EXPECT_EQ(again.value().photos.size(), 1U);
  ASSERT_TRUE(shop->photos().take_of_goods(kLine, picture("two"), {.claim = 1}, "pia"));
  const auto line = shop->photos().take_of_goods(kLine, picture("two"), {.claim = 1}, "jonas");
  ASSERT_EQ(line.value().claims[0].photos.size(), 1U);
  EXPECT_EQ(line->claims[0].photos[0].who, "Pia Lindqvast") << "who was first";
}

TEST(Photos, OfGoodsStandAtTheDeliveryOrAtTheClaim) {
  const auto shop = demo();
  ASSERT_TRUE(shop->photos().take_of_goods(kLine, picture("box"), {.note = "corner"}, "pia"));
  const ArrivalLine line =
      shop->photos().take_of_goods(kLine, picture("damage"), {.claim = 1}, "pia").value();
  ASSERT_EQ(line.photos.size(), 1U);
  EXPECT_EQ(line.photos[0].note, "corner");
  ASSERT_EQ(line.claims.at(0).photos.size(), 1U);
  const ArrivalsView all = shop->arrivals().value();
  const auto claimed = std::ranges::find(all.claims, std::string(kLine), &ArrivalLine::id);
  ASSERT_NE(claimed, all.claims.end());
  EXPECT_EQ(claimed->claims.at(0).photos.size(), 1U);
  const auto told = shop->claim_step(kLine, {.number = 1, .what = "told"}, "pia");
  EXPECT_EQ(told.value().claims[0].photos.size(), 1U) << "they stay whatever becomes of the claim";
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Photos, AreRefusedInASentenceAndLeaveNothingBehind) {
  const auto shop = demo();
  const auto entries = shop->verify().value().entries;
  PhotoDesk& desk = shop->photos();
  const auto code = [](const auto& result) {
    return result ? std::optional<Code>() : result.error().code;
  };
  EXPECT_EQ(code(desk.take_of_bike(kBike, "GIF89a", by("mara", ""))), Code::kBadInput);
  EXPECT_EQ(code(desk.take_of_bike(kBike, picture("x"), by("mara", "box"))), Code::kNotFound);
  EXPECT_EQ(code(desk.take_of_bike(kBike, picture("x"), by("nobody", ""))), Code::kNotFound);
  EXPECT_EQ(code(desk.take_of_bike("9999", picture("x"), by("mara", ""))), Code::kNotFound);
  EXPECT_EQ(code(desk.take_of_goods("P-0", picture("x"), {}, "pia")), Code::kNotFound);
  EXPECT_EQ(code(desk.take_of_goods(kLine, picture("x"), {.claim = 2}, "pia")), Code::kNotFound);
  EXPECT_EQ(code(desk.take_of_goods(kLine, picture("x"), {.note = "a\nb"}, "pia")),
            Code::kOutOfRange);
  EXPECT_EQ(code(desk.take_of_goods(kLine, picture("x"), {.at = "2027-01-01T00:00:00Z"}, "pia")),
            Code::kOutOfRange);
  EXPECT_EQ(code(desk.take_of_goods(kLine, "", {}, "pia")), Code::kBadInput);
  EXPECT_EQ(shop->verify().value().entries, entries);
}

/// A photograph of 1200 by 900 pixels with as much in it as one of a workshop.
std::string photograph(std::uint64_t number) {
  Random random(number);
  pictures::Pixels pixels{.width = 1200, .height = 900, .rgb = {}};
  for (int i = 0; i < 1200 * 900 * 3; ++i) {
    const auto shade = 40 + 150 * (i / 3 % 1200) / 1200;
    pixels.rgb.push_back(static_cast<std::uint8_t>(shade + static_cast<int>(random.below(60))));
  }
  return pictures::write_jpeg(pixels, 90);
}

TEST(Photos, AreSmallWhereTheyAreListedAndWholeWhereTheyAreAskedFor) {
  const auto shop = demo();
  const std::string whole = photograph(1);
  const auto taken = shop->photos().take_of_bike(kBike, whole, by("mara", "")).value();
  const std::string hash = taken.photos.front().picture;
  const auto entries = shop->verify().value().entries;
  const pictures::SmallCopy copy = shop->photos().small_copy(hash).value();
  EXPECT_EQ(copy.width, 320);
  EXPECT_EQ(copy.height, 240);
  EXPECT_LT(copy.jpeg.size() * 10, whole.size());
  EXPECT_EQ(shop->photos().small_copy(hash).value(), copy);
  EXPECT_EQ(shop->photos().picture(hash).value().bytes, whole);
  EXPECT_EQ(shop->verify().value().entries, entries) << "a small copy is written nowhere";
  EXPECT_EQ(shop->photos().small_copy("none").error().code, Code::kNotFound);
}

TEST(Photos, OfWhichNoSmallCopyCanBeMadeAreKeptWhole) {
  const auto shop = demo();
  const auto taken = shop->photos().take_of_bike(kBike, picture("broken"), by("mara", "")).value();
  const std::string hash = taken.photos.front().picture;
  for (int again = 0; again < 2; ++again) {
    EXPECT_EQ(shop->photos().small_copy(hash).error().code, Code::kRefused);
  }
  EXPECT_EQ(shop->photos().picture(hash).value().bytes, picture("broken"));
  EXPECT_TRUE(shop->bench().history_pdf(kBike).value().starts_with("%PDF"));
}

TEST(Photos, MakeTheHistoryOnPaperOnlyALittleLarger) {
  const auto shop = demo();
  const std::size_t before = shop->bench().history_pdf(kBike).value().size();
  std::size_t whole = 0;
  constexpr std::size_t kMany = 24;
  for (std::uint64_t i = 0; i < kMany; ++i) {
    const std::string jpeg = photograph(i);
    whole += jpeg.size();
    ASSERT_TRUE(shop->photos().take_of_bike(kBike, jpeg, by("mara", "")));
  }
  const std::string pdf = shop->bench().history_pdf(kBike).value();
  constexpr std::size_t kMostEach = 30'000;  // bytes for one photograph and its line
  EXPECT_LT(pdf.size(), before + kMany * kMostEach);
  EXPECT_LT(pdf.size() * 10, whole);
}

/// A book on disk whose picture is another one than was written down.
TEST(Photos, ChangedPastTheJournalAreFoundAndNeverShownSmall) {
  const std::string path = testing::TempDir() + "rollwright_small_copy_test.book";
  const auto remove_all = [&path] {
    for (const char* end : {"", "-wal", "-shm"}) std::remove((path + end).c_str());
  };
  remove_all();
  const std::string first = photograph(1);
  const std::string other = photograph(2);
  const std::string hash = book::picture_of(first).value().hash;
  {
    book::Book book = book::Book::open(path, true).value();
    book::Change change{.who = "pia", .what = "photograph", .why = ""};
    change.pictures.push_back(book::picture_of(first).value());
    ASSERT_TRUE(book.write(change));
    EXPECT_TRUE(SmallCopies(book).of(hash));
  }
  {
    auto database = book::open_sqlite(path).value();
    ASSERT_TRUE(database->run("update picture set bytes = ?", {book::Bytes{other}}));
  }
  book::Book book = book::Book::open(path, false).value();
  SmallCopies copies(book);
  for (int again = 0; again < 2; ++again) {
    EXPECT_EQ(copies.of(hash).error().code, Code::kDamaged);
  }
  EXPECT_FALSE(book.verify().value().whole);
  remove_all();
}

TEST(Photos, ARecordNamesNoPictureThatNobodyGave) {
  const auto shop = demo();
  const DeedsGiven deeds{.who = "mara", .key = {}, .deeds = {{.deed = "photo", .serial = "0123"}}};
  const auto written = shop->bench().write(kBike, deeds);
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().code, Code::kNotFound);
}

}  // namespace
}  // namespace rollwright::shop

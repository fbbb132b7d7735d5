#include "shop/photo_desk.hpp"

#include <algorithm>
#include <optional>

#include <gtest/gtest.h>

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

TEST(Photos, ARecordNamesNoPictureThatNobodyGave) {
  const auto shop = demo();
  const DeedsGiven deeds{.who = "mara", .key = {}, .deeds = {{.deed = "photo", .serial = "0123"}}};
  const auto written = shop->bench().write(kBike, deeds);
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().code, Code::kNotFound);
}

}  // namespace
}  // namespace rollwright::shop

#include "shop/miscounts.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "shop/bench_desk.hpp"
#include "shop/demo_shop.hpp"

// Deliveries to the demo shop of data/demo that were counted wrong; everything in it is invented.
namespace rollwright::shop {
namespace {

Received delivered(int quantity, std::vector<std::string> serials = {}, std::string lot = {}) {
  return {.quantity = quantity, .serials = std::move(serials), .lot = std::move(lot)};
}

MiscountGiven wrong_by(int counted, int right) {
  return {.counted = counted, .right = right, .day = {}, .serials = {}, .right_line = {},
          .why = "counted again"};
}

PartRow shelf_of(Shop& shop, const char* part) { return shop.part(part).value().row; }

std::string why_refused(const Result<ArrivalLine>& result, Code code) {
  if (result) return "was not refused";
  EXPECT_EQ(result.error().code, code) << result.error().full();
  return result.error().sentence;
}

/// What the offer's lead time rests on.
std::string basis_of(Shop& shop, const char* part, const char* supplier) {
  const PartView view = shop.part(part).value();
  const auto offer = std::ranges::find(view.offers, std::string(supplier), &OfferView::supplier);
  return offer == view.offers.end() ? "no offer" : offer->basis;
}

TEST(Miscounts, TooManyLeaveTheShelfAndAreStillToCome) {
  const auto shop = demo();
  const PartRow before = shelf_of(*shop, "RO-0005");
  ASSERT_TRUE(shop->receive("P-3163", delivered(7), "desk"));
  EXPECT_EQ(shop->arrival("P-3163").value().state, "Accepted");
  const ArrivalLine line = shop->miscounted("P-3163", wrong_by(7, 5), "desk").value();
  EXPECT_EQ(line.state, "Confirmed") << "as before it came";
  EXPECT_EQ(line.accepted, 5);
  EXPECT_EQ(line.to_come, 2);
  ASSERT_EQ(line.deliveries.size(), 1U);
  EXPECT_EQ(line.deliveries[0].pieces, 5);
  EXPECT_EQ(shelf_of(*shop, "RO-0005").on_shelf, before.on_shelf + 5);
  EXPECT_EQ(shelf_of(*shop, "RO-0005").under_way, before.under_way - 5);
  EXPECT_EQ(shop->receive("P-3163", delivered(2), "desk").value().state, "Accepted");
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Miscounts, WhatNeverCameLeavesEverythingAsItWas) {
  const auto shop = demo();
  const PartRow shelf = shelf_of(*shop, "TY-0001");
  const ArrivalLine before = shop->arrival("P-3110").value();
  const std::string basis = basis_of(*shop, "TY-0001", "Veldkamp Parts");
  ASSERT_TRUE(shop->receive("P-3110", delivered(2), "desk"));
  ASSERT_NE(basis_of(*shop, "TY-0001", "Veldkamp Parts"), basis);
  const ArrivalLine after = shop->miscounted("P-3110", wrong_by(2, 0), "desk").value();
  EXPECT_EQ(basis_of(*shop, "TY-0001", "Veldkamp Parts"), basis) << "no receipt is left";
  EXPECT_EQ(after.state, before.state);
  EXPECT_EQ(after.word, before.word);
  EXPECT_EQ(after.to_come, 2);
  EXPECT_EQ(after.basis, before.basis);
  EXPECT_EQ(after.day_50, before.day_50);
  EXPECT_TRUE(after.deliveries.empty());
  EXPECT_EQ(shelf_of(*shop, "TY-0001").on_shelf, shelf.on_shelf);
  EXPECT_EQ(shelf_of(*shop, "TY-0001").put_by, shelf.put_by);
  EXPECT_EQ(shelf_of(*shop, "TY-0001").under_way, shelf.under_way);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Miscounts, PiecesOfAnotherLineAreBookedInThere) {
  const auto shop = demo();
  const PartRow shelf = shelf_of(*shop, "TU-0001");
  ASSERT_TRUE(shop->receive("P-3158", delivered(2, {}, "L-9"), "desk"));
  MiscountGiven other = wrong_by(2, 0);
  other.right_line = "P-3111";
  const ArrivalLine wrong = shop->miscounted("P-3158", other, "desk").value();
  EXPECT_EQ(wrong.to_come, 4);
  EXPECT_TRUE(wrong.marked.empty());
  const ArrivalLine right = shop->arrival("P-3111").value();
  EXPECT_EQ(right.state, "Put by");
  EXPECT_EQ(right.accepted, 2);
  ASSERT_EQ(right.marked.size(), 1U);
  EXPECT_EQ(right.marked[0].lot, "L-9");
  ASSERT_EQ(right.deliveries.size(), 1U);
  EXPECT_EQ(shelf_of(*shop, "TU-0001").on_shelf, shelf.on_shelf + 2);
  EXPECT_EQ(shelf_of(*shop, "TU-0001").put_by, shelf.put_by + 2);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Miscounts, ThePiecesMayBeAnotherPart) {
  const auto shop = demo();
  const PartRow rotors = shelf_of(*shop, "RO-0005");
  const PartRow tyres = shelf_of(*shop, "TY-0004");
  ASSERT_TRUE(shop->receive("P-3163", delivered(5), "desk"));
  MiscountGiven other = wrong_by(5, 2);
  other.right_line = "P-3156";
  ASSERT_TRUE(shop->miscounted("P-3163", other, "desk"));
  EXPECT_EQ(shelf_of(*shop, "RO-0005").on_shelf, rotors.on_shelf + 2);
  EXPECT_EQ(shelf_of(*shop, "TY-0004").on_shelf, tyres.on_shelf + 3);
  EXPECT_EQ(shop->arrival("P-3156").value().to_come, 4);
  EXPECT_NE(why_refused(shop->miscounted("P-3163", wrong_by(5, 2), "desk"), Code::kNotFound)
                .find("there is 2 on 25 Nov"),
            std::string::npos)
      << "what was corrected is not corrected twice";
}

TEST(Miscounts, ItHasToBeSaidWhichNumberNeverCame) {
  const auto shop = demo();
  ASSERT_TRUE(shop->receive("P-3164", delivered(2, {"B-1", "B-2"}), "desk"));
  EXPECT_EQ(why_refused(shop->miscounted("P-3164", wrong_by(2, 1), "desk"), Code::kBadInput),
            "say which one of these never came: B-1 and B-2");
  MiscountGiven named = wrong_by(2, 1);
  named.serials = {"B-7"};
  why_refused(shop->miscounted("P-3164", named, "desk"), Code::kBadInput);
  named.serials = {"B-2", "B-7"};
  why_refused(shop->miscounted("P-3164", named, "desk"), Code::kNotFound);
  named.serials = {"B-1", "B-2"};
  why_refused(shop->miscounted("P-3164", named, "desk"), Code::kBadInput);
  named.serials = {"B-2"};
  const ArrivalLine line = shop->miscounted("P-3164", named, "desk").value();
  ASSERT_EQ(line.marked.size(), 1U);
  EXPECT_EQ(line.marked[0].serial, "B-1");
  EXPECT_TRUE(shop->receive("P-3164", delivered(1, {"B-2"}), "desk")) << "now it came";
}

TEST(Miscounts, TooFewAreAddedOnTheSameDayToTheSameLot) {
  const auto shop = demo();
  const PartRow before = shelf_of(*shop, "RO-0005");
  ASSERT_TRUE(shop->receive("P-3163", delivered(4, {}, "L-7"), "desk"));
  const ArrivalLine line = shop->miscounted("P-3163", wrong_by(4, 6), "desk").value();
  EXPECT_EQ(line.accepted, 6);
  EXPECT_EQ(line.to_come, 1);
  ASSERT_EQ(line.deliveries.size(), 1U);
  EXPECT_EQ(line.deliveries[0].pieces, 6);
  int of_lot = 0;
  for (const MarkedView& mark : line.marked) of_lot += mark.lot == "L-7" ? mark.pieces : 0;
  EXPECT_EQ(of_lot, 6);
  EXPECT_EQ(shelf_of(*shop, "RO-0005").on_shelf, before.on_shelf + 6);
  EXPECT_NE(why_refused(shop->miscounted("P-3163", wrong_by(6, 9), "desk"), Code::kRefused)
                .find("of which 1 is still to come"),
            std::string::npos);
  ASSERT_TRUE(shop->receive("P-3114", delivered(1, {"FW-1"}), "desk"));
  const ArrivalLine lots = shop->miscounted("P-3163", wrong_by(6, 1), "desk").value();
  ASSERT_EQ(lots.marked.size(), 1U);
  EXPECT_EQ(lots.marked[0].pieces, 1) << "the lot goes with its pieces";
}

TEST(Miscounts, WhatIsUsedDidCome) {
  const auto shop = demo();
  const PartRow shelf = shelf_of(*shop, "RO-0005");
  ASSERT_TRUE(shop->receive("P-3163", delivered(3), "desk"));
  const int free = shelf.on_shelf - shelf.put_by;
  ASSERT_TRUE(shop->use_up("RO-0005", {.quantity = free + 2, .what_for = "repair"}, "desk"));
  const std::string used =
      why_refused(shop->miscounted("P-3163", wrong_by(3, 1), "desk"), Code::kRefused);
  EXPECT_EQ(used, "2 pieces of RO-0005 should leave the shelf, and 1 of line P-3163 is still "
                  "there: the others are used, or put by for other orders. Count again what is here");
  EXPECT_TRUE(shop->miscounted("P-3163", wrong_by(3, 2), "desk"));
}

TEST(Miscounts, WhatIsInAKitDidCome) {
  const auto shop = demo();
  ASSERT_TRUE(shop->receive("P-3110", delivered(2), "desk"));
  const PartRow shelf = shelf_of(*shop, "TY-0001");
  const int free = shelf.on_shelf - shelf.put_by;
  ASSERT_TRUE(shop->use_up("TY-0001", {.quantity = free, .what_for = "repair"}, "desk"));
  const auto kit = [&shop](const char* deed, const char* note) {
    return shop->bench().write(
        "2023", {.who = "mara", .deeds = {{.deed = deed, .about = "front_tyre", .note = note}}});
  };
  const auto kitted = kit("kitted", "");
  ASSERT_TRUE(kitted) << kitted.error().full();
  const std::string refused =
      why_refused(shop->miscounted("P-3110", wrong_by(2, 0), "desk"), Code::kRefused);
  EXPECT_EQ(refused, "2 pieces of TY-0001 should leave the shelf, and 1 of line P-3110 is still "
                     "there: 1 is in the kit or on the bike of order 2023. Count again what is "
                     "here");
  const auto off = kit("off", "not this bike's");
  ASSERT_TRUE(off) << off.error().full();
  EXPECT_EQ(shop->miscounted("P-3110", wrong_by(2, 0), "desk").value().to_come, 2);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Miscounts, ANumberThatIsOnABikeDidCome) {
  const auto shop = demo();
  ASSERT_TRUE(shop->receive("P-3114", delivered(1, {"FW-1"}), "desk"));
  const auto kitted = shop->bench().write(
      "2024", {.who = "mara", .deeds = {{.deed = "kitted", .about = "frame", .serial = "FW-1"}}});
  ASSERT_TRUE(kitted) << kitted.error().full();
  EXPECT_NE(why_refused(shop->miscounted("P-3114", wrong_by(1, 0), "desk"), Code::kRefused)
                .find("of order 2024"),
            std::string::npos);
}

TEST(Miscounts, AClaimNobodyWasToldOfIsWithdrawn) {
  const auto shop = demo();
  Received wrong = delivered(1);
  wrong.wrong = 1;
  ASSERT_TRUE(shop->receive("P-3109", wrong, "desk"));
  const ArrivalLine line = shop->miscounted("P-3109", wrong_by(1, 0), "desk").value();
  EXPECT_EQ(line.quarantined, 0);
  EXPECT_EQ(line.to_come, 1);
  ASSERT_EQ(line.claims.size(), 1U);
  EXPECT_EQ(line.claims[0].outcome, "withdrawn");
  ASSERT_TRUE(shop->receive("P-3109", wrong, "desk"));
  ASSERT_TRUE(shop->claim_step("P-3109", {.what = "told"}, "desk"));
  EXPECT_NE(why_refused(shop->miscounted("P-3109", wrong_by(1, 0), "desk"), Code::kRefused)
                .find("settle that claim first"),
            std::string::npos);
  ASSERT_TRUE(shop->goods_step("P-3109", {.step = "send back", .pieces = 1}, "desk"));
  EXPECT_NE(why_refused(shop->miscounted("P-3109", wrong_by(1, 0), "desk"), Code::kRefused)
                .find("went back already"),
            std::string::npos);
}

TEST(Miscounts, TwoDeliveriesThatAreOneReceiptAreToldApart) {
  const auto shop = demo();
  const PurchaseGiven one{.supplier = "nordal", .lines = {{.part = "RO-0005", .quantity = 2}}};
  const std::string first = shop->place(one, "desk").value().lines.at(0).id;
  const std::string second = shop->place(one, "desk").value().lines.at(0).id;
  ASSERT_NE(first, second);
  ASSERT_TRUE(shop->receive(first, delivered(2), "desk"));
  ASSERT_TRUE(shop->receive(second, delivered(2), "desk"));
  EXPECT_TRUE(shop->miscounted(first, wrong_by(2, 0), "desk"));
  EXPECT_EQ(shop->arrival(second).value().deliveries.size(), 1U);
  EXPECT_TRUE(shop->miscounted(second, wrong_by(2, 0), "desk"));
  EXPECT_TRUE(shop->arrival(second).value().deliveries.empty());
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Miscounts, RefusesWhatDoesNotFitInOneSentence) {
  const auto shop = demo();
  ASSERT_TRUE(shop->receive("P-3163", delivered(3), "desk"));
  ASSERT_TRUE(shop->receive("P-3152", delivered(1, {"B-1"}), "desk"));
  const std::int64_t entries = shop->verify().value().entries;
  MiscountGiven given = wrong_by(3, 1);
  given.why.clear();
  why_refused(shop->miscounted("P-3163", given, "desk"), Code::kBadInput);
  given.why = "two\nlines";
  why_refused(shop->miscounted("P-3163", given, "desk"), Code::kOutOfRange);
  why_refused(shop->miscounted("P-3163", wrong_by(0, 1), "desk"), Code::kOutOfRange);
  why_refused(shop->miscounted("P-3163", wrong_by(3, -1), "desk"), Code::kOutOfRange);
  why_refused(shop->miscounted("P-3163", wrong_by(3, 3), "desk"), Code::kContradiction);
  why_refused(shop->miscounted("P-3163", wrong_by(4, 1), "desk"), Code::kNotFound);
  why_refused(shop->miscounted("P-3110", wrong_by(2, 1), "desk"), Code::kNotFound);
  why_refused(shop->miscounted("P-9999", wrong_by(3, 1), "desk"), Code::kNotFound);
  given = wrong_by(3, 1);
  given.day = parse_day("2026-11-24").value();
  why_refused(shop->miscounted("P-3163", given, "desk"), Code::kNotFound);
  given = wrong_by(3, 4);
  given.right_line = "P-3156";
  why_refused(shop->miscounted("P-3163", given, "desk"), Code::kContradiction);
  const std::pair<const char*, Code> lines[] = {{"P-3163", Code::kRefused},
                                                {"P-9999", Code::kNotFound},
                                                {"P-3165", Code::kRefused},
                                                {"P-3114", Code::kBadInput}};
  for (const auto& [line, code] : lines) {
    given = wrong_by(3, 2);
    given.right_line = line;
    const auto refused = shop->miscounted("P-3163", given, "desk");
    why_refused(refused, code);
    if (code == Code::kBadInput) continue;
    EXPECT_EQ(refused.error().place.field, "right_line");
  }
  EXPECT_EQ(shop->verify().value().entries, entries) << "nothing was written";
}

}  // namespace
}  // namespace rollwright::shop

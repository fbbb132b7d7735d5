#include <algorithm>
#include <filesystem>
#include <fstream>

#include <gtest/gtest.h>
#include <unistd.h>

#include "shop/demo_shop.hpp"

// Deliveries to the demo shop of data/demo; everything in it is invented.
namespace rollwright::shop {
namespace {

Day day(const char* text) { return parse_day(text).value(); }

Received came(int quantity) { return {.quantity = quantity, .serials = {}, .lot = {}}; }

PartRow row_of(Shop& shop, const char* part) { return shop.part(part).value().row; }

bool is_to_buy(Shop& shop, const std::string& part, const std::string& order) {
  const BuyView view = shop.buy().value();
  for (const BuyGroup& group : view.groups) {
    for (const BuyLine& line : group.lines) {
      if (line.part == part && std::ranges::count(line.orders, order) > 0) return true;
    }
  }
  return false;
}

std::string refusal(const Result<ArrivalLine>& result, Code code) {
  if (result) return "was not refused";
  EXPECT_EQ(result.error().code, code) << result.error().full();
  return result.error().sentence;
}

TEST(GoodsIn, WhatIsReceivedIsPutByForTheOrderItWasBoughtFor) {
  const auto shop = demo();
  const PartRow before = row_of(*shop, "TY-0001");
  const ArrivalLine line = shop->receive("P-3110", came(2), "desk").value();
  EXPECT_EQ(line.state, "Put by");
  EXPECT_EQ(line.word, "accepted");
  EXPECT_EQ(line.accepted, 2);
  EXPECT_EQ(line.to_come, 0);
  const PartRow after = row_of(*shop, "TY-0001");
  EXPECT_EQ(after.on_shelf, before.on_shelf + 2);
  EXPECT_EQ(after.put_by, before.put_by + 2);
  EXPECT_EQ(after.under_way, before.under_way - 2);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(GoodsIn, AReceiptTeachesTheLeadTimes) {
  const auto shop = demo();
  const auto basis = [&shop] {
    const PartView part = shop->part("TY-0001").value();
    const auto offer = std::ranges::find(part.offers, std::string("Veldkamp Parts"), &OfferView::supplier);
    return offer == part.offers.end() ? std::string("no offer") : offer->basis;
  };
  const std::string before = basis();
  ASSERT_TRUE(shop->receive("P-3110", came(2), "desk"));
  EXPECT_NE(basis(), before) << "the receipt counts among those of the supplier";
}

TEST(GoodsIn, TakesALineInPartsAndFreePiecesToTheShelf) {
  const auto shop = demo();
  const PartRow before = row_of(*shop, "RO-0005");
  const ArrivalLine part_here = shop->receive("P-3163", came(4), "desk").value();
  EXPECT_EQ(part_here.word, "part here");
  EXPECT_EQ(part_here.state, "Confirmed") << "the rest is still under way";
  EXPECT_EQ(part_here.to_come, 3);
  EXPECT_EQ(row_of(*shop, "RO-0005").on_shelf, before.on_shelf + 4);
  EXPECT_EQ(row_of(*shop, "RO-0005").put_by, before.put_by);
  const std::string more = refusal(shop->receive("P-3163", came(4), "desk"), Code::kRefused);
  EXPECT_NE(more.find("of which 3 are still to come: not 4"), std::string::npos) << more;
  EXPECT_EQ(shop->receive("P-3163", came(3), "desk").value().state, "Accepted");
  const std::string closed = refusal(shop->receive("P-3163", came(1), "desk"), Code::kRefused);
  EXPECT_NE(closed.find("line P-3163 is closed (Accepted)"), std::string::npos) << closed;
}

TEST(GoodsIn, WhatIsWrongIsBoughtAnewAtOnceAndHasAClaimWithItsClock) {
  const auto shop = demo();
  ASSERT_FALSE(is_to_buy(*shop, "CR-0003", "2023"));
  Received wrong = came(1);
  wrong.wrong = 1;
  const ArrivalLine line = shop->receive("P-3109", wrong, "desk").value();
  EXPECT_EQ(line.state, "Quarantined");
  EXPECT_EQ(line.quarantined, 1);
  ASSERT_EQ(line.claims.size(), 1U);
  EXPECT_EQ(line.claims[0].trouble, "wrong");
  EXPECT_EQ(line.claims[0].days_left, 7) << "data/trade/claim_windows.csv";
  EXPECT_EQ(line.claims[0].clock, "7 days left to claim, until 2 Dec");
  EXPECT_FALSE(line.claims[0].pressing);
  EXPECT_TRUE(is_to_buy(*shop, "CR-0003", "2023"));
  // The customer takes it after all.
  const ArrivalLine released =
      shop->goods_step("P-3109", {.step = "release", .pieces = 1}, "desk").value();
  EXPECT_EQ(released.state, "Put by");
  EXPECT_FALSE(is_to_buy(*shop, "CR-0003", "2023"));
}

TEST(GoodsIn, WhatGoesBackComesAgainWhenTheSupplierSaysSo) {
  const auto shop = demo();
  Received damaged = came(1);
  damaged.damaged = 1;
  ASSERT_TRUE(shop->receive("P-3109", damaged, "desk"));
  EXPECT_NE(refusal(shop->claim_step("P-3109", {.what = "sent again"}, "desk"), Code::kRefused)
                .find("send them back first"),
            std::string::npos);
  EXPECT_TRUE(shop->claim_step("P-3109", {.what = "told"}, "desk"));
  refusal(shop->claim_step("P-3109", {.what = "told"}, "desk"), Code::kRefused);
  EXPECT_EQ(shop->goods_step("P-3109", {.step = "send back", .pieces = 1}, "desk").value().state,
            "Sent back");
  const ArrivalLine again = shop->claim_step("P-3109", {.what = "sent again"}, "desk").value();
  EXPECT_EQ(again.state, "Placed");
  EXPECT_EQ(again.to_come, 1);
  EXPECT_FALSE(again.confirmed);
  EXPECT_EQ(again.claims[0].outcome, "sent again");
  refusal(shop->claim_step("P-3109", {.number = 1, .what = "credited"}, "desk"), Code::kRefused);
  EXPECT_FALSE(is_to_buy(*shop, "CR-0003", "2023")) << "it is under way once more";
  EXPECT_EQ(shop->receive("P-3109", came(1), "desk").value().state, "Put by");
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(GoodsIn, WhatIsMissingIsWrittenOffAndClaimedWithinADay) {
  const auto shop = demo();
  Received missing = came(0);
  missing.missing = 1;
  const ArrivalLine line = shop->receive("P-3109", missing, "desk").value();
  EXPECT_EQ(line.state, "Cancelled");
  ASSERT_EQ(line.claims.size(), 1U);
  EXPECT_TRUE(line.claims[0].pressing);
  EXPECT_EQ(line.claims[0].clock, "1 day left to claim, until 26 Nov");
  EXPECT_TRUE(is_to_buy(*shop, "CR-0003", "2023"));
  const ArrivalLine found = shop->claim_step("P-3109", {.what = "sent again"}, "desk").value();
  EXPECT_EQ(found.to_come, 1);
}

TEST(GoodsIn, PiecesWithANumberAreTakenInWithIt) {
  const auto shop = demo();
  EXPECT_TRUE(shop->arrival("P-3114").value().asks_serial);
  const auto with = [&shop](std::vector<std::string> serials) {
    Received given = came(1);
    given.serials = std::move(serials);
    return shop->receive("P-3114", given, "desk");
  };
  EXPECT_NE(refusal(with({}), Code::kBadInput).find("carries its own number"), std::string::npos);
  EXPECT_NE(refusal(with({"no digits"}), Code::kBadInput).find("one digit"), std::string::npos);
  refusal(with({"FW-1", "FW-2"}), Code::kBadInput);
  refusal(with({"FW-1", "FW-1"}), Code::kConflict);
  const ArrivalLine line = with({"FW-20417"}).value();
  ASSERT_EQ(line.marked.size(), 1U);
  EXPECT_EQ(line.marked[0].serial, "FW-20417");
  EXPECT_EQ(line.marked[0].place, "in store");
  const ArrivalLine bad =
      shop->goods_step("P-3114", {.step = "find bad", .pieces = 1, .trouble = "damage hidden"},
                       "desk")
          .value();
  EXPECT_EQ(bad.marked[0].place, "quarantined");
  EXPECT_EQ(bad.claims[0].trouble, "damage hidden");
}

TEST(GoodsIn, ANumberThatIsThereAlreadyIsRefused) {
  const auto shop = demo();
  Received first = came(1);
  first.serials = {"B-77001"};
  ASSERT_TRUE(shop->receive("P-3164", first, "desk")) << "brakes carry numbers";
  EXPECT_NE(refusal(shop->receive("P-3164", first, "desk"), Code::kConflict)
                .find("came in on line P-3164 already"),
            std::string::npos);
}

TEST(GoodsIn, PiecesUnloadedWaitToBeLookedAt) {
  const auto shop = demo();
  Received unloaded = came(1);
  unloaded.to_look_at = 1;
  const ArrivalLine line = shop->receive("P-3114", unloaded, "desk").value();
  EXPECT_EQ(line.state, "At goods-in");
  EXPECT_EQ(line.to_look_at, 1);
  EXPECT_FALSE(is_to_buy(*shop, "FR-0101", "2024")) << "it is in the house";
  const ArrivalsView all = shop->arrivals().value();
  EXPECT_EQ(all.groups.front().kind, "here");
  refusal(shop->goods_step("P-3114", {.step = "accept", .pieces = 1}, "desk"), Code::kBadInput);
  const ArrivalLine good =
      shop->goods_step("P-3114", {.step = "accept", .pieces = 1, .serials = {"FW-9"}}, "desk")
          .value();
  EXPECT_EQ(good.state, "Put by");
}

TEST(GoodsIn, RefusesWhatDoesNotFitInOneSentence) {
  const auto shop = demo();
  const std::int64_t entries = shop->verify().value().entries;
  Received more = came(1);
  more.wrong = 2;
  const GoodsStepGiven steps[] = {{.step = "lose", .pieces = 1},
                                  {.step = "accept", .pieces = 1},
                                  {.step = "quarantine", .pieces = 1},
                                  {.step = "quarantine", .pieces = 1, .trouble = "late"},
                                  {.step = "release", .pieces = 1},
                                  {.step = "send back", .pieces = 0},
                                  {.step = "send again", .pieces = 1},
                                  {.step = "still comes", .pieces = 1}};
  for (const GoodsStepGiven& step : steps) {
    const auto refused = shop->goods_step("P-3109", step, "desk");
    ASSERT_FALSE(refused) << step.step;
    EXPECT_FALSE(refused.error().sentence.empty());
  }
  refusal(shop->receive("P-9999", came(1), "desk"), Code::kNotFound);
  refusal(shop->receive("P-3109", came(0), "desk"), Code::kOutOfRange);
  refusal(shop->receive("P-3109", came(-1), "desk"), Code::kOutOfRange);
  refusal(shop->receive("P-3109", more, "desk"), Code::kContradiction);
  Received by_mule = came(1);
  by_mule.carrier = "mule";
  refusal(shop->receive("P-3109", by_mule, "desk"), Code::kBadInput);
  refusal(shop->receive("P-3165", came(1), "desk"), Code::kRefused);
  refusal(shop->claim_step("P-3109", {.what = "told"}, "desk"), Code::kNotFound);
  refusal(shop->claim_step("P-3165", {.number = 2, .what = "told"}, "desk"), Code::kNotFound);
  refusal(shop->claim_step("P-3165", {.what = "forgotten"}, "desk"), Code::kBadInput);
  EXPECT_EQ(shop->verify().value().entries, entries) << "nothing was written";
}

TEST(GoodsIn, FindingPiecesBadLeavesWhatIsPutByForOthers) {
  const auto shop = demo();
  // Both shelf pieces of BK-0006 are put by, for orders 2025 and 2029.
  Received both = came(2);
  both.serials = {"B-1", "B-2"};
  ASSERT_TRUE(shop->receive("P-3164", both, "desk"));
  EXPECT_TRUE(shop->goods_step("P-3164", {.step = "find bad", .pieces = 2, .trouble = "wrong"},
                               "desk"));
  EXPECT_EQ(row_of(*shop, "BK-0006").put_by, 2);
  EXPECT_EQ(row_of(*shop, "BK-0006").on_shelf, 2);
}

TEST(GoodsIn, WhatIsNotOnTheShelfAnyMoreCannotBeFoundBad) {
  const auto shop = demo();
  ASSERT_TRUE(shop->receive("P-3163", came(2), "desk"));
  const auto folder = std::filesystem::temp_directory_path() /
                      ("rollwright-shelf-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "stock.csv") << "part,on_shelf\nRO-0005,0\n";
  ASSERT_TRUE(shop->import(folder.string(), "owner").value().imported);
  std::filesystem::remove_all(folder);
  EXPECT_NE(refusal(shop->goods_step("P-3163",
                                     {.step = "find bad", .pieces = 1, .trouble = "wrong"},
                                     "desk"),
                    Code::kRefused)
                .find("0 of RO-0005 are free on the shelf"),
            std::string::npos);
}

TEST(Arrivals, StandByDayWithOddsAndWhomTheyAreFor) {
  const ArrivalsView view = shared_demo().arrivals().value();
  EXPECT_FALSE(view.sentence.empty());
  Day last = Day::min();
  bool saw_overdue = false;
  for (const ArrivalGroup& group : view.groups) {
    ASSERT_FALSE(group.lines.empty());
    if (group.kind == "overdue") saw_overdue = true;
    if (group.day) {
      EXPECT_GT(*group.day, last);
      last = *group.day;
    }
    for (const ArrivalLine& line : group.lines) {
      EXPECT_GT(line.to_come + line.to_look_at, 0) << line.id;
      EXPECT_TRUE(line.day_50 && line.day_90) << line.id;
      EXPECT_LE(*line.day_50, *line.day_90) << line.id;
      EXPECT_GE(*line.day_50, view.today) << line.id;
      EXPECT_FALSE(line.basis.empty()) << line.id;
      EXPECT_EQ(group.kind == "overdue", line.days_overdue > 0) << line.id;
      EXPECT_TRUE(!line.order || !line.orders.empty()) << line.id;
    }
  }
  EXPECT_TRUE(saw_overdue) << "P-3164 was confirmed for 23 November";
  ASSERT_EQ(view.quarantine.size(), 1U);
  EXPECT_EQ(view.quarantine[0].id, "P-3165");
  ASSERT_EQ(view.claims.size(), 1U);
  EXPECT_EQ(view.claims[0].claims[0].days_left, 2);
}

TEST(Arrivals, ALegDoneMovesTheOddsOfTheLineAndOfItsOrder) {
  const auto shop = demo();
  const ArrivalLine at_sea = shop->arrival("P-3149").value();
  EXPECT_EQ(at_sea.mode, "sea");
  EXPECT_EQ(at_sea.where, "sea passage in a shared container since 24 Oct");
  ASSERT_EQ(at_sea.modes.size(), 1U) << "it cannot change its mode at sea";
  const ArrivalLine landed = shop->leg_done("P-3149", {}, "desk").value();
  EXPECT_EQ(landed.where, "customs examination since 25 Nov");
  EXPECT_LT(*landed.day_90, *at_sea.day_90);
  refusal(shop->leg_done("P-3149", {.leg = "getting ready"}, "desk"), Code::kRefused);
  refusal(shop->leg_done("P-3149", {.leg = "camel"}, "desk"), Code::kNotFound);
  refusal(shop->leg_done("P-3149", {.leg = {}, .day = day("2026-11-26")}, "desk"),
          Code::kOutOfRange);
  refusal(shop->leg_done("P-3149", {.leg = {}, .day = day("2026-11-20")}, "desk"),
          Code::kOutOfRange);
  const ArrivalLine there =
      shop->leg_done("P-3149", {.leg = "road from the port"}, "desk").value();
  EXPECT_EQ(there.where, "every leg done on 25 Nov");
  EXPECT_EQ(*there.day_50, day("2026-11-26"));
  refusal(shop->leg_done("P-3149", {}, "desk"), Code::kRefused);
  refusal(shop->freight_mode("P-3149", "air", "desk"), Code::kRefused);
}

TEST(Arrivals, ALineNotSentYetMayComeByAir) {
  const auto shop = demo();
  const ArrivalLine line = shop->arrival("P-3150").value();
  ASSERT_EQ(line.modes.size(), 2U);
  EXPECT_EQ(line.modes[0].mode, "sea");
  EXPECT_TRUE(line.modes[0].usual);
  EXPECT_EQ(line.modes[1].mode, "air");
  ASSERT_TRUE(line.modes[1].extra_cents);
  // 7.4 kg: 120 + 7.4 x 11 by air, 60 + 7.4 x 4 by sea.
  EXPECT_EQ(*line.modes[1].extra_cents, 20140 - 8960);
  EXPECT_LT(line.modes[1].day_50, line.modes[0].day_50);
  refusal(shop->freight_mode("P-3150", "rail", "desk"), Code::kNotFound);
  refusal(shop->freight_mode("P-3109", "air", "desk"), Code::kNotFound);
  EXPECT_EQ(shop->freight_mode("P-3150", "air", "desk").value().mode, "air");
}

TEST(Arrivals, AClaimThatNobodyToldStandsOnTheDiary) {
  const auto shop = demo();
  const auto claims = [&shop] {
    const TodayView today = shop->today().value();
    return std::ranges::count(today.lines, std::string("to claim"), &TodayLine::kind);
  };
  EXPECT_EQ(claims(), 1) << "P-3165, until 27 November";
  ASSERT_TRUE(shop->claim_step("P-3165", {.what = "told"}, "desk"));
  EXPECT_EQ(claims(), 0);
}

TEST(Arrivals, ASuppliersNewDayIsTakenDown) {
  const auto shop = demo();
  refusal(shop->confirm_line("P-3115", day("2026-11-24"), "desk"), Code::kOutOfRange);
  refusal(shop->confirm_line("P-3165", day("2026-12-24"), "desk"), Code::kRefused);
  const ArrivalLine line = shop->confirm_line("P-3115", day("2026-12-02"), "desk").value();
  EXPECT_EQ(line.state, "Confirmed");
  EXPECT_EQ(line.confirmed, day("2026-12-02"));
}

TEST(Arrivals, AParcelSentIsNearerThanOneThatIsNot) {
  const auto shop = demo();
  const ArrivalLine sent = shop->leg_done("P-3115", {}, "desk").value();
  EXPECT_EQ(sent.state, "Shipped");
  EXPECT_EQ(sent.where, "left the supplier on 25 Nov");
}

}  // namespace
}  // namespace rollwright::shop

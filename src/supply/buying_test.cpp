#include "supply/buying.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/working_days.hpp"
#include "supply/loans.hpp"

// All suppliers, parts and orders in these tests are invented.
namespace rollwright::supply {
namespace {

using trade::OrderId;
using trade::PartId;
using trade::SupplierId;

Day day(const char* text) { return parse_day(text).value(); }
const Day kToday = day("2026-11-25");  // a Wednesday

/// Hubs come on the third day at the latest (nearly), from an importer in about five weeks.
std::map<std::string, trade::LeadTimePrior> priors() {
  return {{"hubs", {.group = "hubs", .stocked = {0, 2, 0.2, ""}, .importer = {0, 25, 0.3, ""},
                    .made = {0, 90, 0.7, ""}}}};
}
std::map<PartId, std::string> groups() {
  std::map<PartId, std::string> groups;
  for (int i = 0; i < 20; ++i) groups[PartId("p" + std::to_string(i))] = "hubs";
  return groups;
}

Cover to_buy(int part, const char* order, Day needed_by, int quantity = 1) {
  return {.need = {.order = OrderId(order), .part = PartId("p" + std::to_string(part)),
                   .quantity = quantity, .needed_by = needed_by}};
}
trade::Offer offer(const char* supplier, int part, std::int64_t cents) {
  return {.supplier = SupplierId(supplier), .part = PartId("p" + std::to_string(part)),
          .breaks = {{1, {cents}}}};
}

struct Shop {
  std::vector<Cover> covers;
  std::vector<trade::Offer> offers;
  std::vector<trade::Supplier> suppliers;
  std::vector<trade::PurchaseLine> purchases;
  std::vector<trade::Receipt> receipts;

  BuyingPlan plan(const BuyingSettings& settings) const {
    const LeadTimes lead_times(priors(), groups(), receipts, offers);
    return plan_buying({covers, offers, suppliers, purchases, lead_times}, settings);
  }
};

TEST(Buying, AsksMoreOfEachLineTheMoreLinesAKitHas) {
  const auto last_day = [](int lines) {
    Shop shop{.suppliers = {{.id = SupplierId("nordal")}}};
    for (int i = 0; i < lines; ++i) {
      shop.covers.push_back(to_buy(i, "1", kToday + std::chrono::days(60)));
      shop.offers.push_back(offer("nordal", i, 100));
    }
    const BuyingPlan plan = shop.plan({.today = kToday, .kit_confidence = 0.95});
    EXPECT_EQ(plan.kits.at(0).to_buy, lines);
    EXPECT_GE(plan.kits.at(0).complete, 0.95);
    return plan.baskets.back().lines.back().order_by;
  };
  EXPECT_LT(last_day(20), last_day(1));
}

TEST(Buying, LetsTheDearPartComeLastAndTheCheapOneWait) {
  Shop shop{.covers = {to_buy(0, "1", kToday + std::chrono::days(150)),
                       to_buy(1, "1", kToday + std::chrono::days(150))},
            .offers = {offer("a", 0, 90000), offer("a", 1, 500)},
            .suppliers = {{.id = SupplierId("a")}}};
  for (trade::Offer& offer : shop.offers) offer.availability = "importer";
  std::map<PartId, PurchaseProposal> lines;
  for (const SupplierBasket& basket : shop.plan({.today = kToday}).baskets) {
    for (const PurchaseProposal& line : basket.lines) lines[line.part] = line;
  }
  EXPECT_GT(lines.at(PartId("p0")).order_by, lines.at(PartId("p1")).order_by);
  EXPECT_LT(lines.at(PartId("p0")).confidence, lines.at(PartId("p1")).confidence);
}

TEST(Buying, CallsInTheRestWhenTheDearPartIsHere) {
  Shop shop{.covers = {to_buy(0, "1", kToday + std::chrono::days(150)),
                       to_buy(1, "1", kToday + std::chrono::days(150))},
            .offers = {offer("a", 0, 90000), offer("a", 1, 500)},
            .suppliers = {{.id = SupplierId("a")}}};
  EXPECT_GT(shop.plan({.today = kToday}).baskets.front().day, kToday);
  shop.covers[0].source = Source::kShelf;
  EXPECT_EQ(shop.plan({.today = kToday}).baskets.front().day, kToday);
}

// Second opinion: draw each line's delivery after its day of buying, count complete kits.
TEST(Buying, SaysOfAKitWhatDrawnDeliveriesSay) {
  Shop shop{.suppliers = {{.id = SupplierId("a")}, {.id = SupplierId("b")}}};
  const Day needed = add_working_days(kToday, 30);
  for (int i = 0; i < 6; ++i) {
    shop.covers.push_back(to_buy(i, "1", needed));
    shop.offers.push_back(offer(i % 2 == 0 ? "a" : "b", i, 100));
    if (i < 2) shop.offers.back().availability = "importer";
  }
  const BuyingPlan plan = shop.plan({.today = kToday, .kit_confidence = 0.8});
  Random random(31);
  constexpr int kDraws = 40000;
  int complete = 0;
  for (int draw = 0; draw < kDraws; ++draw) {
    bool all = true;
    for (const SupplierBasket& basket : plan.baskets) {
      for (const PurchaseProposal& line : basket.lines) {
        const int took = days_for(line.odds, std::max(1e-9, random.uniform()));
        all = all && took <= working_days_between(line.buy_on, needed);
      }
    }
    complete += all ? 1 : 0;
  }
  EXPECT_NEAR(plan.kits.at(0).complete, static_cast<double>(complete) / kDraws, 0.01);
}

TEST(Buying, NeverBuysAfterTheLastDayAndNeverBeforeToday) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE(seed);
    Random random(seed);
    Shop shop{.suppliers = {{.id = SupplierId("a"), .free_freight_over = {3000}, .freight = {700}},
                            {.id = SupplierId("b"), .minimum_order = {900},
                             .small_order_charge = {400}, .freight = {500}}}};
    int pieces = 0;
    for (int i = 0; i < 8; ++i) {
      const int quantity = 1 + static_cast<int>(random.below(3));
      pieces += quantity;
      shop.covers.push_back(to_buy(i % 6, i % 2 == 0 ? "1" : "2",
                                   kToday + std::chrono::days(random.below(80)), quantity));
      const auto cents = static_cast<std::int64_t>(200 + random.below(900));
      if (i < 6) shop.offers.push_back(offer("a", i, cents));
      if (i < 6 && i % 2 == 0) shop.offers.push_back(offer("b", i, cents - 40));
    }
    const BuyingPlan plan = shop.plan({.today = kToday, .minute = 600});
    Money sum;
    int bought = 0;
    for (const SupplierBasket& basket : plan.baskets) {
      Money goods;
      for (const PurchaseProposal& line : basket.lines) {
        EXPECT_GE(line.buy_on, kToday);
        EXPECT_TRUE(is_working_day(line.buy_on));
        EXPECT_TRUE(line.too_late || line.buy_on <= line.order_by) << line.part.text;
        EXPECT_TRUE(line.too_late || line.in_time >= line.confidence - 1e-9);
        bought += line.needed;
        goods += line.unit_cost * line.quantity;
      }
      EXPECT_EQ(goods, basket.goods);
      sum += goods + basket.freight + basket.surcharge;
    }
    EXPECT_EQ(bought, pieces);
    EXPECT_EQ(sum, plan.cost);
    EXPECT_TRUE(plan.proven);
  }
}

TEST(Buying, TakesTheCheapestThatComesInTimeElseTheSoonest) {
  Shop shop{.offers = {offer("cheap", 0, 100), offer("quick", 0, 130)},
            .suppliers = {{.id = SupplierId("cheap")}, {.id = SupplierId("quick")}}};
  shop.offers[0].availability = "importer";
  const auto chosen = [&](int days) {
    shop.covers = {to_buy(0, "1", kToday + std::chrono::days(days))};
    return shop.plan({.today = kToday}).baskets.at(0);
  };
  EXPECT_EQ(chosen(200).supplier, SupplierId("cheap"));
  EXPECT_EQ(chosen(20).supplier, SupplierId("quick"));
  EXPECT_FALSE(chosen(20).lines[0].too_late);
  EXPECT_EQ(chosen(1).supplier, SupplierId("quick"));
  EXPECT_TRUE(chosen(1).lines[0].too_late);
}

TEST(Buying, PutsNothingOffThatTheShelfNeedsSooner) {
  Shop shop{.covers = {to_buy(0, "", kToday + std::chrono::days(20)),
                       to_buy(0, "1", kToday + std::chrono::days(45)),
                       to_buy(1, "1", kToday + std::chrono::days(45))},
            .offers = {offer("a", 0, 90000), offer("a", 1, 500)},
            .suppliers = {{.id = SupplierId("a")}}};
  shop.covers[0].need.may_follow = true;
  for (const SupplierBasket& basket : shop.plan({.today = kToday}).baskets) {
    for (const PurchaseProposal& line : basket.lines) {
      if (line.part == PartId("p0")) {
        EXPECT_EQ(line.needed, 2) << "they are bought together";
        EXPECT_GE(line.in_time, 0.9);
      }
    }
  }
}

TEST(Buying, CallsALineTooLateByItsOwnOddsNotByItsKits) {
  Shop shop{.suppliers = {{.id = SupplierId("a")}}};
  for (int i = 0; i < 12; ++i) {
    shop.covers.push_back(to_buy(i, "1", kToday + std::chrono::days(21)));
    shop.offers.push_back(offer("a", i, 100));
  }
  shop.offers[3].availability = "importer";
  const BuyingPlan plan = shop.plan({.today = kToday, .kit_confidence = 0.95});
  for (const SupplierBasket& basket : plan.baskets) {
    for (const PurchaseProposal& line : basket.lines) {
      EXPECT_EQ(line.too_late, line.part == PartId("p3")) << line.part.text << " " << line.in_time;
    }
  }
  EXPECT_LT(plan.kits.at(0).complete, 0.95);
}

TEST(Buying, KnowsWhenTheCutOffOfTheLastDayIsOver) {
  Shop shop{.offers = {offer("a", 0, 100)},
            .suppliers = {{.id = SupplierId("a"), .cut_off_minute = 720}}};
  const LeadTimes lead_times(priors(), groups(), {}, shop.offers);
  const int days = days_for(lead_times.odds(shop.offers[0]), 0.9);
  shop.covers = {to_buy(0, "1", add_working_days(kToday, days))};
  const auto at = [&](int minute) {
    return shop.plan({.today = kToday, .minute = minute}).baskets.at(0).lines.at(0);
  };
  EXPECT_FALSE(at(719).too_late);
  EXPECT_EQ(at(719).buy_on, kToday);
  EXPECT_TRUE(at(720).too_late);
  EXPECT_EQ(at(720).buy_on, add_working_days(kToday, 1));
}

TEST(Buying, CountsBreaksPacksFreightAndSmallOrders) {
  const trade::Offer boxed{.supplier = SupplierId("s"), .part = PartId("p0"),
                           .breaks = {{1, {100}}, {10, {80}}}, .pack = 5};
  EXPECT_EQ(unit_cost(boxed, 9).cents, 100);
  EXPECT_EQ(unit_cost(boxed, 10).cents, 80);
  EXPECT_EQ(in_packs(boxed, 6), 10);
  EXPECT_EQ(cheapest_quantity(boxed, 4), 5);
  const trade::Offer steep{.breaks = {{1, {100}}, {10, {80}}}};
  EXPECT_EQ(cheapest_quantity(steep, 8), 8) << "ten cost as much as eight";
  EXPECT_EQ(cheapest_quantity(steep, 9), 10) << "ten cost less than nine";
  const Shop shop{.covers = {to_buy(0, "1", kToday + std::chrono::days(99))},
                  .offers = {boxed},
                  .suppliers = {{.id = SupplierId("s"), .minimum_order = {1000},
                                 .small_order_charge = {250}, .free_freight_over = {2000},
                                 .freight = {690}}}};
  const auto basket = shop.plan({.today = kToday}).baskets.at(0);
  EXPECT_EQ(basket.goods.cents, 500);
  EXPECT_EQ(basket.freight.cents, 690);
  EXPECT_EQ(basket.surcharge.cents, 250);
}

TEST(Buying, BuysWhatIsNeededMuchLaterByItself) {
  Shop shop{.covers = {to_buy(0, "1", kToday + std::chrono::days(20)),
                       to_buy(0, "2", kToday + std::chrono::days(40)),
                       to_buy(0, "3", kToday + std::chrono::days(150))},
            .offers = {offer("a", 0, 100)},
            .suppliers = {{.id = SupplierId("a")}}};
  const BuyingPlan plan = shop.plan({.today = kToday});
  ASSERT_EQ(plan.baskets.size(), 2u);
  EXPECT_EQ(plan.baskets[0].lines[0].quantity, 2);
  EXPECT_EQ(plan.baskets[1].lines[0].orders, std::vector<OrderId>{OrderId("3")});
}

TEST(Buying, SaysWhatNobodySells) {
  const Shop shop{.covers = {to_buy(0, "1", kToday)}};
  const BuyingPlan plan = shop.plan({.today = kToday});
  ASSERT_EQ(plan.no_offer.size(), 1u);
  EXPECT_EQ(plan.no_offer[0].part, PartId("p0"));
}

struct Lending {
  std::vector<Cover> covers;
  std::vector<trade::PurchaseLine> purchases = {
      {.id = "P1", .supplier = SupplierId("a"), .part = PartId("p0"), .placed = kToday,
       .state = trade::PurchaseState::kPlaced}};

  Lending(int borrower_days, int lender_days) {
    covers = {to_buy(0, "soon", add_working_days(kToday, borrower_days)),
              to_buy(0, "later", add_working_days(kToday, lender_days))};
    covers[0].source = Source::kPurchase;
    covers[0].purchase = "P1";
    covers[1].source = Source::kShelf;
    covers[1].put_by = true;
  }
  std::vector<Loan> loans() const {
    const LeadTimes lead_times(priors(), groups(), {});
    return possible_loans(covers, purchases, lead_times, {.today = kToday});
  }
};

TEST(Loans, AreOfferedOnlyWhenTheReplacementComesInTime) {
  const std::vector<Loan> loans = Lending(1, 30).loans();
  ASSERT_EQ(loans.size(), 1u);
  EXPECT_EQ(loans[0].lender, OrderId("later"));
  EXPECT_EQ(loans[0].borrower, OrderId("soon"));
  EXPECT_EQ(loans[0].replacement, "P1");
  EXPECT_LT(loans[0].without, 0.9);
  EXPECT_GE(loans[0].replaced_in_time, 0.9);
  EXPECT_TRUE(Lending(1, 2).loans().empty()) << "the lender would be late";
  EXPECT_TRUE(Lending(30, 60).loans().empty()) << "the borrower's own comes in time";
  Lending unbought(1, 30);
  unbought.covers[0].source = Source::kToBuy;
  EXPECT_TRUE(unbought.loans().empty()) << "what is still to buy replaces nothing";
}

TEST(Loans, LendEachPieceOnce) {
  Lending two(1, 30);
  two.covers.push_back(two.covers[0]);
  two.covers.back().need.order = OrderId("soon too");
  EXPECT_EQ(two.loans().size(), 1u);
}

}  // namespace
}  // namespace rollwright::supply

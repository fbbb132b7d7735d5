#include "shop/arrivals.hpp"

#include <gtest/gtest.h>

#include "base/working_days.hpp"
#include "shop/supply_side.hpp"
#include "trade/load_trade.hpp"

// The shop of these tests is invented.
namespace rollwright::shop {
namespace {

using trade::PartId;

Day day(const char* text) { return parse_day(text).value(); }
const Day kToday = day("2026-11-25");  // a Wednesday

const trade::Trade& the_trade() {
  static const trade::Trade kTrade = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade").trade;
  return kTrade;
}
const trade::BuildTemplate& build() { return the_trade().templates.begin()->second; }

/// A saddle, a supplier that sells it with a cut-off at 14:00, an order.
trade::ShopFiles little_shop() {
  trade::ShopFiles files;
  files.settings = {{.name = "Corner"}};
  files.suppliers = {{.id = trade::SupplierId("near"), .name = "Near", .cut_off_minute = 14 * 60}};
  files.parts = {{.id = PartId("S"), .kind = trade::KindId("K-SA"), .name = "Saddle"}};
  files.offers = {{.supplier = trade::SupplierId("near"), .part = PartId("S"),
                   .breaks = {{1, {2000}}}, .availability = "stocked", .as_of = kToday}};
  files.orders = {{.id = trade::OrderId("1"), .build = build().id,
                   .state = trade::OrderState::kDraft}};
  return files;
}

std::optional<Day> saddle_here(const trade::ShopFiles& files, LocalTime now = {kToday, 600},
                               const std::vector<supply::Cover>& covers = {}) {
  const auto state = make_state(files, 1);
  const auto learned = lead_times_of(the_trade(), *state);
  const supply::LeadTimes& lead_times = *learned;
  const spec::Arrivals bought = bought_now(*state, lead_times, now);
  const spec::Arrivals arrivals =
      arrivals_for(the_trade(), *state, lead_times, now,
                   {.build = build(), .order = *state->held.orders.begin(), .covers = covers,
                    .bought_now = bought});
  const auto found = arrivals.find(PartId("S"));
  return found == arrivals.end() ? std::nullopt : std::optional(found->second);
}

TEST(Arrivals, AreTodayForWhatIsFreeOrPutBy) {
  trade::ShopFiles files = little_shop();
  EXPECT_GT(saddle_here(files), kToday);
  files.stock = {{.part = PartId("S"), .on_shelf = 1}};
  EXPECT_EQ(saddle_here(files), kToday);
  files.stock[0].put_by = {{trade::OrderId("9"), 1}};
  EXPECT_GT(saddle_here(files), kToday) << "put by for another order";
  files.stock[0].put_by = {{trade::OrderId("1"), 1}};
  EXPECT_EQ(saddle_here(files), kToday);
}

TEST(Arrivals, LeaveTheShelfToOrdersThatGatherParts) {
  trade::ShopFiles files = little_shop();
  files.stock = {{.part = PartId("S"), .on_shelf = 1}};
  const supply::Cover others{.need = {.order = trade::OrderId("9"), .part = PartId("S")},
                             .source = supply::Source::kShelf};
  EXPECT_GT(saddle_here(files, {kToday, 600}, {others}), kToday);
}

TEST(Arrivals, AreAbsentForWhatNobodySells) {
  trade::ShopFiles files = little_shop();
  files.offers.clear();
  EXPECT_EQ(saddle_here(files), std::nullopt);
}

TEST(Arrivals, CountFromTheNextWorkingDayAfterTheCutOff) {
  const trade::ShopFiles files = little_shop();
  const Day before = saddle_here(files, {kToday, 14 * 60 - 1}).value();
  const Day after = saddle_here(files, {kToday, 14 * 60}).value();
  EXPECT_EQ(working_days_between(before, after), 1);
  const Day saturday = saddle_here(files, {day("2026-11-28"), 600}).value();
  EXPECT_EQ(saturday, saddle_here(files, {day("2026-11-30"), 600}));
}

TEST(Arrivals, AreLaterWhenTheyMustBeSurer) {
  trade::ShopFiles files = little_shop();
  files.settings[0].promise_confidence = 0.5;
  const Day half = saddle_here(files).value();
  files.settings[0].promise_confidence = 0.99;
  EXPECT_GT(saddle_here(files), half);
}

TEST(Arrivals, GoByThePurchaseOfTheOrder) {
  trade::ShopFiles files = little_shop();
  const Day bought_now = saddle_here(files).value();
  files.purchases = {{.id = "P1", .supplier = trade::SupplierId("near"), .part = PartId("S"),
                      .order = trade::OrderId("1"), .placed = day("2026-11-20"),
                      .confirmed = day("2027-02-01"), .state = trade::PurchaseState::kConfirmed}};
  EXPECT_GE(saddle_here(files), day("2027-02-01")) << "it is bought already, if late";
  files.purchases[0].order = trade::OrderId("9");
  EXPECT_EQ(saddle_here(files), bought_now) << "what another order bought is not ours";
  files.purchases[0].order.reset();
  EXPECT_EQ(saddle_here(files), bought_now) << "a free purchase that is later than buying now";
  files.purchases[0].state = trade::PurchaseState::kCancelled;
  files.purchases[0].order = trade::OrderId("1");
  EXPECT_EQ(saddle_here(files), bought_now) << "a cancelled purchase does not come";
}

TEST(ReadyDay, TurnsTheLastDayForTheKitRound) {
  const std::vector<Day> closed = {day("2026-12-25"), day("2027-01-01")};
  for (const double minutes : {0.0, 100.0, 240.0, 241.0, 1300.0}) {
    for (Day promised = day("2026-12-01"); promised < day("2027-01-20");
         promised += std::chrono::days(1)) {
      if (!is_working_day(promised, closed)) continue;
      const trade::Order order{.promised = promised};
      const Day kit = kit_day(order, kToday, minutes, closed);
      EXPECT_EQ(ready_day(kit, minutes, closed), promised) << iso(promised) << " " << minutes;
    }
  }
}

}  // namespace
}  // namespace rollwright::shop

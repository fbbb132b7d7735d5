#include "shop/shop.hpp"

#include <algorithm>
#include <set>

#include <gtest/gtest.h>

#include "build/applicable.hpp"
#include "build/traits.hpp"
#include "plan/check_shop_plan.hpp"
#include "plan/shop_plan.hpp"
#include "shop/bench_desk.hpp"
#include "shop/bike.hpp"
#include "shop/demo_shop.hpp"
#include "shop/order_input.hpp"
#include "shop/workshop_input.hpp"
#include "shop/workshop_pieces.hpp"
#include "spec/check.hpp"
#include "trade/load_trade.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

TEST(Shop, OpensTheDemoWithOrdersInManyStates) {
  const auto lines = shared_demo().orders();
  ASSERT_TRUE(lines) << lines.error().full();
  EXPECT_GE(lines->size(), 30u);
  std::set<std::string> states;
  for (const OrderLine& line : *lines) states.insert(line.state);
  EXPECT_GE(states.size(), 14u);
}

TEST(Shop, EveryAgreedDemoOrderFits) {
  const std::vector<OrderLine> lines = shared_demo().orders().value();
  for (const OrderLine& line : lines) {
    if (line.state == "Enquiry" || line.state == "Draft") continue;
    const OrderView view = shared_demo().order(line.id).value();
    EXPECT_TRUE(view.spec.missing.empty()) << line.id;
    EXPECT_NE(view.spec.verdict, "does not fit")
        << line.id << ": " << (view.spec.findings.empty() ? "" : view.spec.findings[0].sentence);
  }
}

TEST(Shop, DrawsEveryWholeDemoOrderToScale) {
  const std::vector<OrderLine> lines = shared_demo().orders().value();
  for (const OrderLine& line : lines) {
    if (line.state == "Enquiry" || line.state == "Draft") continue;
    const OrderView view = shared_demo().order(line.id).value();
    EXPECT_TRUE(view.outline.drawn) << line.id << ": " << view.outline.why_not;
    EXPECT_NEAR(view.outline.points.at("front_axle").x - view.outline.points.at("rear_axle").x,
                view.outline.lengths.at("wheelbase"), 1)
        << line.id;
  }
}

TEST(Shop, RefusesAChangeOverAnOldRevision) {
  const auto shop = demo();
  const std::string id = like(*shop, "2022");
  const OrderView before = shop->order(id).value();
  ASSERT_TRUE(shop->choose(id, "bell", std::nullopt, before.revision, "a"));
  const auto late = shop->choose(id, "bell", std::nullopt, before.revision, "b");
  ASSERT_FALSE(late);
  EXPECT_EQ(late.error().code, Code::kConflict);
}

TEST(Shop, RefusesPartsAndSlotsThatDoNotBelong) {
  const auto shop = demo();
  const std::string id = like(*shop, "2022");
  const std::int64_t revision = shop->order(id).value().revision;
  EXPECT_EQ(shop->choose(id, "wing", "AC-0001", revision, "a").error().code, Code::kNotFound);
  EXPECT_EQ(shop->choose(id, "frame", "AC-0001", revision, "a").error().code,
            Code::kContradiction);
  EXPECT_EQ(shop->choose(id, "frame", "nothing", revision, "a").error().code, Code::kNotFound);
  EXPECT_EQ(shop->choose("2022", "bell", std::nullopt, 1, "a").error().code, Code::kRefused)
      << "a signed specification is not changed by a click";
}

TEST(Shop, AgreesOnlyWholeSpecificationsThatFit) {
  const auto shop = demo();
  const Day day = parse_day("2027-01-20").value();
  const std::string empty = shop->new_order(new_order("B1"), "desk").value().line.id;
  const auto refused = shop->agree(empty, day, 0, 1, "desk");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kRefused);
  EXPECT_NE(refused.error().sentence.find("no frame is chosen"), std::string::npos)
      << refused.error().sentence;

  const std::string whole = like(*shop, "2022");
  const OrderView asked = shop->order(whole).value();
  for (const QuestionView& question : asked.questions) {
    const AnswerGiven yes{.question = question.id, .answer = "yes",
                          .revision = shop->order(whole).value().revision};
    ASSERT_TRUE(shop->answer_question(whole, yes, "desk")) << question.id;
  }
  const OrderView before = shop->order(whole).value();
  EXPECT_FALSE(shop->agree(whole, parse_day("2026-11-01").value(), 0, before.revision, "desk"))
      << "a day in the past";
  const auto agreed = shop->agree(whole, day, 50000, before.revision, "desk");
  ASSERT_TRUE(agreed) << agreed.error().sentence;
  EXPECT_EQ(agreed->line.state, "Agreed");
  EXPECT_EQ(agreed->line.promised, day);
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(Shop, NamesTheFieldOfANewOrderThatIsWrong) {
  NewOrder order = new_order("B1");
  order.rider.mass_kg = 900;
  EXPECT_EQ(shared_demo().new_order(order, "desk").error().place.field, "rider.mass_kg");
  order = new_order("B1");
  order.need.region = "Atlantis";
  EXPECT_EQ(shared_demo().new_order(order, "desk").error().place.field, "need.region");
  EXPECT_EQ(shared_demo().new_order(new_order("B9"), "desk").error().place.field, "build");
  order = new_order("B1");
  order.state = "Agreed";
  EXPECT_EQ(shared_demo().new_order(order, "desk").error().place.field, "state");
}

TEST(Shop, BeginsAnOrderAsAnEnquiryOfWhichLittleIsKnown) {
  const auto shop = demo();
  NewOrder order = new_order("B1");
  order.rider = {.name = "Somebody at the door"};
  order.state = "Enquiry";
  const auto opened = shop->new_order(order, "desk");
  ASSERT_TRUE(opened) << opened.error().sentence;
  EXPECT_EQ(opened->line.state, "Enquiry");
  EXPECT_FALSE(shop->agree(opened->line.id, parse_day("2027-01-20").value(), 0, 1, "desk"));
}

TEST(Shop, ShowsChoicesWithDifferencesAndReasons) {
  const SlotChoicesView view = shared_demo().choices("2022", "rear_hub").value();
  int closed = 0;
  for (const ChoiceView& choice : view.choices) {
    if (choice.chosen) {
      EXPECT_EQ(choice.price_difference_cents.value_or(0), 0);
    }
    if (choice.status == "closed") {
      ++closed;
      const auto clash = shared_demo().why_not("2022", "rear_hub", choice.part.id);
      ASSERT_TRUE(clash) << choice.part.id << ": " << clash.error().sentence;
      EXPECT_FALSE(clash->rules.empty()) << choice.part.id;
      for (const FindingView& rule : clash->rules) {
        EXPECT_EQ(rule.sentence.find('{'), std::string::npos) << rule.sentence;
      }
    }
  }
  EXPECT_GT(closed, 0);
}

TEST(Shop, PromisesTheSameTwiceAndOnAnyNumberOfThreads) {
  const PromiseView one = shared_demo().promise("2022", 400, 1).value();
  const PromiseView two = shared_demo().promise("2022", 400, 2).value();
  EXPECT_EQ(one.sentence, two.sentence);
  ASSERT_EQ(one.curve.size(), two.curve.size());
  for (std::size_t i = 0; i < one.curve.size(); ++i) {
    EXPECT_EQ(one.curve[i].probability, two.curve[i].probability);
  }
  EXPECT_LE(one.day_50, one.day_90);
  EXPECT_GT(one.placements, 400);
  double shares = 0;
  for (const HoldView& hold : one.holds) shares += hold.share;
  EXPECT_LE(shares, 1 + 1e-9);
}

TEST(Shop, KeepsAPromiseUntilSomethingChangesThatOddsRestOn) {
  const auto shop = demo();
  const auto seconds = [&] { return shop->promise("2016", 100).value().seconds; };
  const double reckoned = seconds();
  EXPECT_EQ(seconds(), reckoned) << "to the last bit: it was not reckoned again";
  const auto write = [&](const char* deed, const char* about) {
    const auto written = shop->bench().write(
        "2016", {.who = "mara", .key = {}, .deeds = {{.deed = deed, .about = about, .note = "invented"}}});
    ASSERT_TRUE(written) << written.error().full();
  };
  write("noted", "");
  EXPECT_EQ(seconds(), reckoned) << "a note changes no odds";
  ASSERT_TRUE(shop->use_up("CH-0001", {.quantity = 1, .what_for = "repair"}, "desk"));
  EXPECT_NE(seconds(), reckoned) << "pieces that are gone may";
  const double again = seconds();
  EXPECT_NE(shop->promise("2016", 101).value().seconds, again) << "another question";
}

TEST(Shop, PlansTheDemoWithoutBreakingARule) {
  const auto loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  auto read = trade::read_shop_files(loaded.trade, ROLLWRIGHT_ROOT "/data/demo");
  ASSERT_TRUE(read.problems.empty());
  const auto state = make_state(std::move(read.files), 1);
  const LocalTime now = local_time("Europe/Berlin", kClock.now()).value();
  EXPECT_EQ(now.minute, 8 * 60 + 45);  // Berlin is an hour ahead of UTC in November
  const auto workshop = workshop_input(loaded.trade, *state, now);
  ASSERT_TRUE(workshop) << workshop.error().full();
  const auto plan = plan::make_plan(workshop->input);
  ASSERT_TRUE(plan) << plan.error().full();
  for (const std::string& problem : plan::check_shop_plan(workshop->input, *plan)) {
    ADD_FAILURE() << problem;
  }
  int placed = 0;
  for (const plan::PlannedTask& task : plan->tasks) placed += task.placed() ? 1 : 0;
  EXPECT_GT(placed, 600);
}

TEST(Shop, KnowsWhetherWorkIsLeftAsTheWholeListOfOperationsSays) {
  const auto loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  const auto read = trade::read_shop_files(loaded.trade, ROLLWRIGHT_ROOT "/data/demo");
  const auto state = make_state(trade::ShopFiles(read.files), 1);
  std::set<std::string> all;
  for (const trade::Operation& operation : loaded.trade.operations) all.insert(operation.id);
  int left = 0;
  int nothing_left = 0;
  for (trade::Order order : state->held.orders) {
    const trade::BuildTemplate& build = *build_of(loaded.trade, order).value();
    const auto steps = build::applicable_operations(
        loaded.trade.operations, build::traits_of(loaded.trade, facts_of(*state, build, order)).holding);
    for (const trade::Operation& missing : loaded.trade.operations) {
      order.done = all;
      order.done.erase(missing.id);
      const bool applies = std::ranges::any_of(steps->steps, [&](const auto& step) {
        return step.operation->id == missing.id && is_planned(missing);
      });
      ASSERT_EQ(is_work_left(loaded.trade, *state, order).value(), applies)
          << order.id.text << " without " << missing.id;
      ++(applies ? left : nothing_left);
    }
    order.done.clear();
    EXPECT_TRUE(is_work_left(loaded.trade, *state, order).value()) << order.id.text;
  }
  EXPECT_GT(left, 1000);
  EXPECT_GT(nothing_left, 1000);
}

TEST(Shop, AsksForNoOddsOnceTheBenchWorkIsDone) {
  const auto loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  auto read = trade::read_shop_files(loaded.trade, ROLLWRIGHT_ROOT "/data/demo");
  ASSERT_TRUE(read.problems.empty());
  trade::Order* held = nullptr;
  for (trade::Order& order : read.files.orders) {
    if (order.id.text == "2016") held = &order;
  }
  ASSERT_NE(held, nullptr);
  const auto before = make_state(trade::ShopFiles(read.files), 1);
  EXPECT_TRUE(is_work_left(loaded.trade, *before, *held).value());
  for (const auto& operation : loaded.trade.operations) held->done.insert(operation.id);
  const auto after = make_state(trade::ShopFiles(read.files), 1);
  EXPECT_FALSE(is_work_left(loaded.trade, *after, *held).value());
  const LocalTime now = local_time("Europe/Berlin", kClock.now()).value();
  const WorkshopInput workshop = workshop_input(loaded.trade, *after, now).value();
  for (const trade::Order* order : workshop.orders) EXPECT_NE(order->id.text, "2016");
}

TEST(Shop, WritesASheetWithValuesForEachTemplate) {
  for (const char* id : {"2022", "2024", "2025", "2026", "2030"}) {
    const auto sheet = shared_demo().sheet(id);
    ASSERT_TRUE(sheet) << id << ": " << sheet.error().full();
    EXPECT_GE(sheet->steps.size(), 18u) << id;
    int values = 0;
    for (const trade::SheetStep& step : sheet->steps) values += static_cast<int>(step.values.size());
    EXPECT_GT(values, 20) << id;
    const auto pdf = shared_demo().sheet_pdf(id, {});
    ASSERT_TRUE(pdf) << id;
    EXPECT_TRUE(pdf->starts_with("%PDF")) << id;
    EXPECT_EQ(*pdf, shared_demo().sheet_pdf(id, {}).value()) << "the same sheet gives the same bytes";
  }
}

TEST(Shop, SaysWhatNeedsAPersonToday) {
  const TodayView today = shared_demo().today().value();
  EXPECT_EQ(iso(today.day), "2026-11-25");
  std::set<std::string> kinds;
  for (const TodayLine& line : today.lines) kinds.insert(line.kind);
  EXPECT_TRUE(kinds.contains("on the stands"));
  EXPECT_TRUE(kinds.contains("to hand over"));
}

TEST(Shop, BuysNothingTwice) {
  const BuyView view = shared_demo().buy().value();
  std::set<std::string> parts;
  for (const BuyGroup& group : view.groups) {
    std::int64_t goods = 0;
    for (const BuyLine& line : group.lines) {
      EXPECT_TRUE(parts.insert(line.part).second) << line.part;
      EXPECT_GT(line.quantity, 0);
      goods += line.total_cents;
    }
    EXPECT_EQ(goods, group.goods_cents);
  }
  EXPECT_FALSE(parts.empty());
}

TEST(Shop, ImportsNothingWhenOneRowIsWrong) {
  auto shop = Shop::open({.trade_folder = ROLLWRIGHT_ROOT "/data/trade", .book = ":memory:"},
                         kClock, true);
  const auto report = (*shop)->import(ROLLWRIGHT_ROOT "/data/demo/orders.toml", "owner");
  ASSERT_TRUE(report);
  EXPECT_FALSE(report->imported) << "orders name parts that this book does not have";
  EXPECT_FALSE(report->problems.empty());
  EXPECT_EQ((*shop)->verify().value().entries, 0);
}

}  // namespace
}  // namespace rollwright::shop

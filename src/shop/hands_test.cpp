#include <algorithm>
#include <bit>

#include <gtest/gtest.h>

#include "base/index.hpp"
#include "plan/check_shop_plan.hpp"
#include "shop/plan_words.hpp"
#include "shop/proposal.hpp"
#include "trade/load_trade.hpp"
#include "trade/shop_files.hpp"

// Work that takes two people at once, in the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

const trade::Trade& the_trade() {
  static const trade::LoadedTrade kLoaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded.trade;
}

trade::ShopFiles demo_files() {
  return trade::read_shop_files(the_trade(), ROLLWRIGHT_ROOT "/data/demo").files;
}

const LocalTime kNow{.day = parse_day("2026-11-25").value(), .minute = 525};
const SearchBudget kLittle{.placements = 3'000};

/// The demo with a first plan agreed.
struct Agreed {
  trade::ShopFiles files = demo_files();
  std::shared_ptr<const State> state;
  std::vector<trade::PlannedWork> together;  // of the plan: what takes two
  std::vector<std::string> orders;           // parallel

  Agreed() {
    const auto proposal = propose(the_trade(), make_state(files, 1), kNow, {}, kLittle);
    EXPECT_TRUE(proposal) << proposal.error().full();
    const trade::ShopFiles put = to_agree(*proposal, "mara", {});
    files.agreed_plans = put.agreed_plans;
    files.order_plans = put.order_plans;
    for (const trade::OrderPlan& plan : put.order_plans) {
      for (const trade::PlannedWork& work : plan.work) {
        if (work.lending.empty()) continue;
        together.push_back(work);
        orders.push_back(plan.order.text);
      }
    }
    state = make_state(files, 2);
  }
};

TEST(Hands, OfTheDemoAreLentByOneOther) {
  const Agreed agreed;
  ASSERT_GT(agreed.together.size(), 3u);
  for (const trade::PlannedWork& work : agreed.together) {
    ASSERT_EQ(work.lending.size(), 1u);
    EXPECT_NE(work.lending[0], work.person);
    EXPECT_EQ(work.start.day, work.end.day);
  }
  const auto input = agreed_input(the_trade(), *agreed.state, kNow);
  ASSERT_TRUE(input);
  EXPECT_TRUE(input->holds());
  EXPECT_TRUE(plan::check_shop_plan(input->input, input->kept).empty());
}

TEST(Hands, AreSeenInBothLanes) {
  const Agreed agreed;
  const auto view = view_of_plan(the_trade(), *agreed.state, kNow);
  ASSERT_TRUE(view);
  int seen = 0;
  for (const PersonPlan& lender : view->people) {
    for (const BarView& bar : lender.bars) {
      if (!bar.lends) continue;
      ++seen;
      ASSERT_EQ(bar.others.size(), 1u);
      const auto doer = std::ranges::find(view->people, bar.others[0], &PersonPlan::name);
      ASSERT_NE(doer, view->people.end());
      EXPECT_TRUE(std::ranges::any_of(doer->bars, [&](const BarView& own) {
        return own.order == bar.order && own.operation == bar.operation && !own.lends &&
               own.from == bar.from && own.to == bar.to &&
               own.others == std::vector<std::string>{lender.name};
      })) << bar.order << " " << bar.operation;
    }
  }
  EXPECT_GT(seen, 0);
}

TEST(Hands, OfSomebodyWhoIsAwayAreLentByAnotherOrThePlanSaysWhoIsMissing) {
  Agreed agreed;
  const trade::PlannedWork& work = agreed.together.back();
  for (trade::Person& person : agreed.files.people) {
    if (person.id == work.lending[0]) person.away.push_back({work.start.day, work.start.day});
  }
  const auto state = make_state(agreed.files, 3);
  const auto input = agreed_input(the_trade(), *state, kNow);
  ASSERT_TRUE(input);
  EXPECT_FALSE(input->holds());
  bool told = false;
  for (const OutOfDate& each : out_of_date(*input, *state)) {
    told |= each.sentence.find(state->name_of(work.lending[0]) + " is not at work then") !=
            std::string::npos;
  }
  EXPECT_TRUE(told);
  const auto proposal = propose(the_trade(), state, kNow, {}, kLittle);
  ASSERT_TRUE(proposal);
  EXPECT_TRUE(plan::check_shop_plan(proposal->input, proposal->found.plan).empty());
}

TEST(Hands, OfAMoveAreFoundOrOneSentenceSaysWhyNot) {
  Agreed agreed;
  const trade::PlannedWork& work = agreed.together.back();
  const Day later = work.start.day + std::chrono::days(work.start.day > kNow.day ? 7 : 14);
  ProposalWish wish{.order = agreed.orders.back(), .operation = work.operation,
                    .person = work.person.text, .start = local_text(later, work.start.minute)};
  auto moved = propose(the_trade(), agreed.state, kNow, wish, kLittle);
  ASSERT_TRUE(moved) << moved.error().full();
  const plan::PlannedTask& placed = moved->found.plan.tasks[at(moved->move->task)];
  EXPECT_EQ(std::popcount(placed.lending), 1);
  EXPECT_TRUE(plan::check_shop_plan(moved->input, moved->found.plan).empty());
  for (trade::Person& person : agreed.files.people) {
    if (person.id != work.person) person.away.push_back({later, later});
  }
  moved = propose(the_trade(), make_state(agreed.files, 3), kNow, wish, kLittle);
  ASSERT_FALSE(moved);
  EXPECT_EQ(moved.error().code, Code::kRefused);
  EXPECT_NE(moved.error().sentence.find("takes 2 people at once: on "), std::string::npos)
      << moved.error().sentence;
  EXPECT_NE(moved.error().sentence.find(" nobody beside "), std::string::npos);
}

TEST(Hands, MoreThanTheShopHasAreToldOf) {
  trade::Trade trade = the_trade();
  std::ranges::find(trade.operations, "T-60", &trade::Operation::id)->hands = 4;
  trade::ShopFiles files = demo_files();
  files.people.resize(3);
  for (trade::Person& person : files.people) {
    person.skills = {"L3", "WB", "LE", "DG", "AD"};
    person.away.clear();
  }
  const auto state = make_state(files, 1);
  const auto workshop = workshop_input(trade, *state, kNow);
  ASSERT_TRUE(workshop);
  EXPECT_FALSE(workshop->short_of_hands.empty());
  EXPECT_EQ(short_of_hands_words(*workshop),
            "T-60 takes more people at once than the shop has, and is planned with all there are: "
            "see to help.");
  const auto view = view_of_plan(trade, *state, kNow);
  ASSERT_TRUE(view) << view.error().full();
  EXPECT_NE(view->sentence.find("T-60 takes more people"), std::string::npos) << view->sentence;
}

}  // namespace
}  // namespace rollwright::shop

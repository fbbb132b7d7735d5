#include "shop/move_by_hand.hpp"

#include "shop/plan_cases.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

TEST(MoveByHand, AnswersAMoveWithItsPriceAndPinsItOnceAgreed) {
  const auto shop = planned_demo();
  const PlanView plan = shop->plan().value();
  const BarView bar = movable(plan);
  ASSERT_FALSE(bar.order.empty());
  // Two weeks later, at ten in the morning, when somebody able is there.
  std::optional<ProposalView> answer;
  std::string last;
  for (int later = 7; later < 28 && !answer; ++later) {
    const Day day = parse_day(bar.start.substr(0, 10)).value() + std::chrono::days(later);
    auto tried = shop->plan_desk().propose(move_of(plan, bar, iso(day) + "T10:30"), 1, kQuick);
    if (tried) {
      answer = std::move(*tried);
    } else {
      last = tried.error().sentence;
    }
  }
  ASSERT_TRUE(answer) << last;
  ASSERT_FALSE(answer->changes.empty());
  EXPECT_EQ(answer->changes.front().operation, bar.operation);
  EXPECT_EQ(answer->changes.front().because, std::vector<std::string>{"moved by hand"});
  ASSERT_FALSE(answer->orders.empty());
  EXPECT_EQ(answer->orders.front().order, bar.order);
  EXPECT_NE(answer->sentence.find("Order " + bar.order + " is ready"), std::string::npos)
      << answer->sentence;
  EXPECT_EQ(places(shop->plan().value(), false), places(plan, false)) << "only asked so far";

  const PromiseView odds_before = shop->promise(bar.order, 100).value();
  const PlanView agreed = shop->plan_desk().agree(answer->id, "pia").value();
  bool pinned = false;
  for (const BarView& each : bars_of(agreed)) {
    if (each.order != bar.order || each.operation != bar.operation) continue;
    EXPECT_TRUE(each.pinned);
    EXPECT_EQ(each.start, *answer->changes.front().to);
    pinned = true;
  }
  EXPECT_TRUE(pinned || *answer->changes.front().to > "2026-12-23");
  const Day pinned_day = parse_day(answer->changes.front().to->substr(0, 10)).value();
  EXPECT_LT(odds_before.day_50, pinned_day);
  EXPECT_GE(shop->promise(bar.order, 100).value().day_50, pinned_day)
      << "a promise is drawn from the shop as it means to work";

  // Planning anew does not move it; letting it go lets it.
  const ProposalView anew = shop->plan_desk().propose({}, 2, kQuick).value();
  for (const ChangeOfWork& change : anew.changes) {
    EXPECT_FALSE(change.order == bar.order && change.operation == bar.operation);
  }
  const ProposalView free =
      shop->plan_desk()
          .propose({.order = bar.order, .operation = bar.operation, .unpin = true}, 2, kQuick)
          .value();
  const PlanView let_go = shop->plan_desk().agree(free.id, "pia").value();
  for (const BarView& each : bars_of(let_go)) EXPECT_FALSE(each.pinned) << each.operation;
  const auto twice = shop->plan_desk().propose(
      {.order = bar.order, .operation = bar.operation, .unpin = true}, 3, kQuick);
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().code, Code::kRefused);
}

TEST(MoveByHand, SaysOfEachMoveThatCannotBeWhy) {
  Shop& shop = shared_plan();
  const PlanView plan = shop.plan().value();
  const BarView bar = movable(plan);
  const auto refused = [&](ProposalWish wish, Code code, const char* field, const char* words) {
    const auto answer = shop.plan_desk().propose(wish, 1, kQuick);
    ASSERT_FALSE(answer) << words;
    EXPECT_EQ(answer.error().code, code) << answer.error().sentence;
    EXPECT_EQ(answer.error().place.field, field) << answer.error().sentence;
    EXPECT_NE(answer.error().sentence.find(words), std::string::npos) << answer.error().sentence;
  };
  const ProposalWish good = move_of(plan, bar, "2026-12-17T10:30");
  const auto with = [&](auto change) {
    ProposalWish wish = good;
    change(wish);
    return wish;
  };
  refused(with([](ProposalWish& w) { w.order = "9"; }), Code::kNotFound, "order", "no order 9");
  refused(with([](ProposalWish& w) { w.operation = "X-1"; }), Code::kNotFound, "operation",
          "has no operation X-1");
  refused(with([](ProposalWish& w) { w.person = "nobody"; }), Code::kNotFound, "person",
          "nobody of the shop is called so");
  refused(with([](ProposalWish& w) { w.start = "tomorrow"; }), Code::kBadInput, "start",
          "2026-12-03T10:30");
  refused(with([](ProposalWish& w) { w.start = "2026-11-25T08:00"; }), Code::kOutOfRange, "start",
          "is past");
  refused(with([](ProposalWish& w) { w.start = "2029-01-01T10:00"; }), Code::kOutOfRange, "start",
          "the plan reaches to");
  refused(with([](ProposalWish& w) { w.start = "2026-12-17T03:00"; }), Code::kRefused, "start",
          "is not at work");
  refused(with([](ProposalWish& w) {
            w.person = "ilka";
            w.start = "2026-12-08T10:00";
          }),
          Code::kRefused, "start", "away until Friday 11 December");
  refused(with([](ProposalWish& w) { w.stand = 99; }), Code::kOutOfRange, "stand", "stand");
}

TEST(MoveByHand, RefusesWorkWithoutTheSkillTheFrozenPartAndTakenHands) {
  Shop& shop = shared_plan();
  const PlanView plan = shop.plan().value();
  std::optional<BarView> frozen;
  bool skill = false;
  bool busy = false;
  for (const BarView& bar : bars_of(plan)) {
    if (bar.frozen) {
      frozen = bar;
      const auto answer =
          shop.plan_desk().propose(move_of(plan, bar, "2026-12-17T10:30"), 1, kQuick);
      ASSERT_FALSE(answer) << bar.operation;
      EXPECT_NE(answer.error().sentence.find("frozen part"), std::string::npos)
          << answer.error().sentence;
      continue;
    }
    if (skill && busy) continue;
    ProposalWish wish = move_of(plan, bar, "2026-12-17T10:30");
    wish.person = "pia";
    if (const auto answer = shop.plan_desk().propose(wish, 1, kQuick); !answer) {
      skill = skill || answer.error().sentence.find("which Pia Lindqvast does not have") !=
                           std::string::npos;
    }
    if (!frozen) continue;
    wish.person = person_of(plan, *frozen);
    wish.start = frozen->start;
    if (const auto answer = shop.plan_desk().propose(wish, 1, kQuick); !answer) {
      busy = busy || answer.error().sentence.find("(frozen) until") != std::string::npos;
    }
  }
  EXPECT_TRUE(frozen);
  EXPECT_TRUE(skill);
  EXPECT_TRUE(busy);
}

TEST(MoveByHand, RefusesWorkBeforeItsPartsAreReckonedWith) {
  Shop& shop = shared_plan();
  const PlanView plan = shop.plan().value();
  bool told = false;
  for (const BarView& bar : bars_of(plan)) {
    if (bar.operation != "G-30" || bar.frozen || told) continue;
    ProposalWish wish = move_of(plan, bar, "2026-11-27T10:30");
    const auto answer = shop.plan_desk().propose(wish, 1, kQuick);
    if (!answer) {
      told = told || answer.error().sentence.find("which is reckoned with on") != std::string::npos;
    }
  }
  EXPECT_TRUE(told);
}

}  // namespace
}  // namespace rollwright::shop

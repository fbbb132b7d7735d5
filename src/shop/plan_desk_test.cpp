#include "shop/plan_desk.hpp"

#include <condition_variable>
#include <mutex>
#include <set>

#include <gtest/gtest.h>

#include "plan/check_shop_plan.hpp"
#include "shop/demo_shop.hpp"
#include "shop/plan_words.hpp"
#include "trade/load_trade.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

/// A demo of its own with a first plan agreed.
std::unique_ptr<Shop> planned_demo() {
  auto shop = demo();
  const auto first = shop->plan_desk().propose({}, 0, 0.05);
  EXPECT_TRUE(first) << first.error().full();
  const auto agreed = shop->plan_desk().agree(first->id, "mara");
  EXPECT_TRUE(agreed) << agreed.error().full();
  return shop;
}

/// For looking and proposing only; nothing is agreed on it.
Shop& shared_plan() {
  static const std::unique_ptr<Shop> kShop = planned_demo();
  return *kShop;
}

std::vector<BarView> bars_of(const PlanView& plan) {
  std::vector<BarView> bars;
  for (const PersonPlan& person : plan.people) {
    bars.insert(bars.end(), person.bars.begin(), person.bars.end());
  }
  return bars;
}

std::string person_of(const PlanView& plan, const BarView& bar) {
  for (const PersonPlan& person : plan.people) {
    for (const BarView& each : person.bars) {
      if (each.order == bar.order && each.operation == bar.operation) return person.id;
    }
  }
  return {};
}

/// Order, operation -> person, start.
std::set<std::string> places(const PlanView& plan, bool frozen_only) {
  std::set<std::string> all;
  for (const PersonPlan& person : plan.people) {
    for (const BarView& bar : person.bars) {
      if (frozen_only && !bar.frozen) continue;
      all.insert(bar.order + " " + bar.operation + " " + person.id + " " + bar.start);
    }
  }
  return all;
}

/// The first bar that may be moved, on the last day for which there are any: nothing comes after it
/// in its order.
BarView movable(const PlanView& plan) {
  BarView last;
  for (const BarView& bar : bars_of(plan)) {
    if (!bar.frozen && bar.start > last.start) last = bar;
  }
  return last;
}

ProposalWish move_of(const PlanView& plan, const BarView& bar, const std::string& start) {
  return {.order = bar.order, .operation = bar.operation, .person = person_of(plan, bar),
          .start = start};
}

TEST(PlanDesk, SaysThatNoPlanIsAgreedAndMovesNothingInIt) {
  const PlanView plan = shared_demo().plan().value();
  EXPECT_EQ(plan.number, 0);
  EXPECT_FALSE(plan.agreed);
  EXPECT_NE(plan.standing.find("No plan is agreed"), std::string::npos);
  const auto refused = shared_demo().plan_desk().propose(
      {.order = "2031", .operation = "A-20", .person = "mara", .start = "2026-12-03T10:00"}, 0);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kRefused);
}

TEST(PlanDesk, KeepsTheAgreedPlanInTheBookToTheMinute) {
  const auto shop = demo();
  const ProposalView first = shop->plan_desk().propose({}, 0, 0.05).value();
  const PlanView agreed = shop->plan_desk().agree(first.id, "mara").value();
  EXPECT_EQ(agreed.number, 1);
  EXPECT_EQ(agreed.agreed_by, "mara");
  EXPECT_TRUE(agreed.out_of_date.empty())
      << agreed.out_of_date.front().sentence << agreed.out_of_date.size();
  EXPECT_EQ(places(agreed, false), places(first.plan, false));
  EXPECT_EQ(places(shop->plan().value(), false), places(first.plan, false));
  EXPECT_TRUE(shop->verify().value().whole);
}

TEST(PlanDesk, FreezesTodayAndTheNextWorkingDay) {
  const PlanView plan = shared_plan().plan().value();
  EXPECT_EQ(plan.frozen_until, "2026-11-27T00:00") << "today is Wednesday the 25th";
  int frozen = 0;
  for (const BarView& bar : bars_of(plan)) {
    EXPECT_EQ(bar.frozen, bar.start < plan.frozen_until) << bar.order << " " << bar.operation;
    if (bar.frozen) ++frozen;
  }
  EXPECT_GT(frozen, 3);
}

TEST(PlanDesk, NothingChangesWhenNothingHappened) {
  const ProposalView again = shared_plan().plan_desk().propose({}, 1, 0.01).value();
  EXPECT_TRUE(again.reasons.empty());
  for (const ChangeOfWork& change : again.changes) {
    EXPECT_EQ(change.because.back(), "the whole plan is better so") << change.operation;
  }
  EXPECT_LE(again.after.cost, again.before.cost + 1e-6);
}

TEST(PlanDesk, RefusesAProposalOverAnOlderPlan) {
  const auto shop = planned_demo();
  const ProposalView here = shop->plan_desk().propose({}, 1, 0.01).value();
  const ProposalView there = shop->plan_desk().propose({}, 1, 0.01).value();
  ASSERT_TRUE(shop->plan_desk().agree(here.id, "mara"));
  const auto late = shop->plan_desk().agree(there.id, "pia");
  ASSERT_FALSE(late);
  EXPECT_EQ(late.error().code, Code::kConflict);
  EXPECT_NE(late.error().sentence.find("plan 2 was agreed by mara"), std::string::npos)
      << late.error().sentence;
  EXPECT_EQ(shop->plan_desk().propose({}, 1, 0.01).error().code, Code::kConflict);
}

TEST(PlanDesk, TellsWhatAnAbsencePutsOutOfDateAndWhyEachOperationMoves) {
  const auto shop = planned_demo();
  const PlanView before = shop->plan().value();
  const PlanView told = shop->plan_desk()
                            .tell_absence("jonas", {.first = parse_day("2026-11-26").value(),
                                                    .last = parse_day("2026-12-02").value()},
                                          "mara")
                            .value();
  ASSERT_FALSE(told.out_of_date.empty());
  bool named = false;
  for (const OutOfDate& reason : told.out_of_date) {
    named = named || reason.sentence.find("Jonas Ward is not at work") != std::string::npos;
  }
  EXPECT_TRUE(named) << told.out_of_date.front().sentence;
  EXPECT_EQ(told.number, 1) << "the agreed plan stays until another is agreed";

  const ProposalView mended = shop->plan_desk().propose({}, 1, 0.1).value();
  EXPECT_FALSE(mended.changes.empty());
  for (const ChangeOfWork& change : mended.changes) {
    EXPECT_FALSE(change.because.empty()) << change.order << " " << change.operation;
  }
  for (const PersonPlan& person : mended.plan.people) {
    if (person.id != "jonas") continue;
    for (const BarView& bar : person.bars) {
      EXPECT_TRUE(bar.from < "2026-11-26" || bar.from > "2026-12-03") << bar.from;
    }
  }
  // What is frozen and can stay has not moved.
  const auto now = places(mended.plan, false);
  for (const std::string& place : places(told, true)) EXPECT_TRUE(now.contains(place)) << place;

  const PlanView back = shop->plan_desk()
                            .tell_absence("jonas", {.first = parse_day("2026-11-26").value(),
                                                    .last = parse_day("2026-12-02").value(),
                                                    .is_back = true},
                                          "mara")
                            .value();
  EXPECT_TRUE(back.out_of_date.empty());
  EXPECT_EQ(places(back, false), places(before, false));
}

TEST(PlanDesk, RefusesAbsencesThatCannotBe) {
  PlanDesk& desk = shared_plan().plan_desk();
  const Day day = parse_day("2026-12-10").value();
  const auto code = [&](const char* who, const DaysAway& days) {
    const auto told = desk.tell_absence(who, days, "mara");
    EXPECT_FALSE(told) << who;
    return told ? Code::kBadInput : told.error().code;
  };
  using std::chrono::days;
  EXPECT_EQ(code("nobody", {.first = day, .last = day}), Code::kNotFound);
  EXPECT_EQ(code("jonas", {.first = day, .last = day - days(1)}), Code::kContradiction);
  EXPECT_EQ(code("jonas", {.first = day, .last = day + days(400)}), Code::kOutOfRange);
  EXPECT_EQ(code("jonas", {.first = day, .last = day, .is_back = true}), Code::kRefused);
}

TEST(PlanDesk, JoinsAndPartsDaysAway) {
  const auto day = [](int number) { return parse_day("2026-12-01").value() + std::chrono::days(number); };
  using Away = std::vector<std::pair<Day, Day>>;
  const Away held = {{day(0), day(3)}, {day(10), day(12)}};
  EXPECT_EQ(away_with(held, {.first = day(4), .last = day(9)}), (Away{{day(0), day(12)}}));
  EXPECT_EQ(away_with(held, {.first = day(5), .last = day(8)}),
            (Away{{day(0), day(3)}, {day(5), day(8)}, {day(10), day(12)}}));
  EXPECT_EQ(away_with(held, {.first = day(1), .last = day(2), .is_back = true}),
            (Away{{day(0), day(0)}, {day(3), day(3)}, {day(10), day(12)}}));
  EXPECT_EQ(away_with(held, {.first = day(3), .last = day(12), .is_back = true}),
            (Away{{day(0), day(2)}}));
}

TEST(PlanDesk, AnswersAMoveWithItsPriceAndPinsItOnceAgreed) {
  const auto shop = planned_demo();
  const PlanView plan = shop->plan().value();
  const BarView bar = movable(plan);
  ASSERT_FALSE(bar.order.empty());
  // Two weeks later, at ten in the morning, when somebody able is there.
  std::optional<ProposalView> answer;
  std::string last;
  for (int later = 7; later < 28 && !answer; ++later) {
    const Day day = parse_day(bar.start.substr(0, 10)).value() + std::chrono::days(later);
    auto tried = shop->plan_desk().propose(move_of(plan, bar, iso(day) + "T10:30"), 1, 0.05);
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

  const PlanView agreed = shop->plan_desk().agree(answer->id, "pia").value();
  bool pinned = false;
  for (const BarView& each : bars_of(agreed)) {
    if (each.order != bar.order || each.operation != bar.operation) continue;
    EXPECT_TRUE(each.pinned);
    EXPECT_EQ(each.start, *answer->changes.front().to);
    pinned = true;
  }
  EXPECT_TRUE(pinned || *answer->changes.front().to > "2026-12-23");

  // Planning anew does not move it; letting it go lets it.
  const ProposalView anew = shop->plan_desk().propose({}, 2, 0.05).value();
  for (const ChangeOfWork& change : anew.changes) {
    EXPECT_FALSE(change.order == bar.order && change.operation == bar.operation);
  }
  const ProposalView free =
      shop->plan_desk()
          .propose({.order = bar.order, .operation = bar.operation, .unpin = true}, 2, 0.05)
          .value();
  const PlanView let_go = shop->plan_desk().agree(free.id, "pia").value();
  for (const BarView& each : bars_of(let_go)) EXPECT_FALSE(each.pinned) << each.operation;
  const auto twice = shop->plan_desk().propose(
      {.order = bar.order, .operation = bar.operation, .unpin = true}, 3, 0.05);
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().code, Code::kRefused);
}

TEST(PlanDesk, SaysOfEachMoveThatCannotBeWhy) {
  Shop& shop = shared_plan();
  const PlanView plan = shop.plan().value();
  const BarView bar = movable(plan);
  const auto refused = [&](ProposalWish wish, Code code, const char* field, const char* words) {
    const auto answer = shop.plan_desk().propose(wish, 1, 0.01);
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
          "nobody called nobody");
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

TEST(PlanDesk, RefusesWorkWithoutTheSkillTheFrozenPartAndTakenHands) {
  Shop& shop = shared_plan();
  const PlanView plan = shop.plan().value();
  std::optional<BarView> frozen;
  bool skill = false;
  bool busy = false;
  for (const BarView& bar : bars_of(plan)) {
    if (bar.frozen) {
      frozen = bar;
      const auto answer =
          shop.plan_desk().propose(move_of(plan, bar, "2026-12-17T10:30"), 1, 0.01);
      ASSERT_FALSE(answer) << bar.operation;
      EXPECT_NE(answer.error().sentence.find("frozen part"), std::string::npos)
          << answer.error().sentence;
      continue;
    }
    if (skill && busy) continue;
    ProposalWish wish = move_of(plan, bar, "2026-12-17T10:30");
    wish.person = "pia";
    if (const auto answer = shop.plan_desk().propose(wish, 1, 0.01); !answer) {
      skill = skill || answer.error().sentence.find("which Pia Lindqvast does not have") !=
                           std::string::npos;
    }
    if (!frozen) continue;
    wish.person = person_of(plan, *frozen);
    wish.start = frozen->start;
    if (const auto answer = shop.plan_desk().propose(wish, 1, 0.01); !answer) {
      busy = busy || answer.error().sentence.find("(frozen) until") != std::string::npos;
    }
  }
  EXPECT_TRUE(frozen);
  EXPECT_TRUE(skill);
  EXPECT_TRUE(busy);
}

TEST(PlanDesk, RefusesWorkBeforeItsPartsAreReckonedWith) {
  Shop& shop = shared_plan();
  const PlanView plan = shop.plan().value();
  bool told = false;
  for (const BarView& bar : bars_of(plan)) {
    if (bar.operation != "G-30" || bar.frozen || told) continue;
    ProposalWish wish = move_of(plan, bar, "2026-11-27T10:30");
    const auto answer = shop.plan_desk().propose(wish, 1, 0.01);
    if (!answer) {
      told = told || answer.error().sentence.find("which is reckoned with on") != std::string::npos;
    }
  }
  EXPECT_TRUE(told);
}

TEST(PlanDesk, ImprovesBesideUntilItIsStoppedAndKeepsTheBest) {
  const auto shop = planned_demo();
  PlanDesk& desk = shop->plan_desk();
  std::mutex mutex;
  std::condition_variable heard;
  std::vector<ImproveProgress> told;
  desk.on_progress([&](const ImproveProgress& progress) {
    const std::lock_guard lock(mutex);
    told.push_back(progress);
    heard.notify_all();
  });
  const ProposalView first = desk.propose({}, 1, 0.01).value();
  EXPECT_EQ(desk.improve(first.id, 0).error().code, Code::kOutOfRange);
  EXPECT_EQ(desk.improve("none", 5).error().code, Code::kNotFound);
  const ProposalView begun = desk.improve(first.id, 300).value();
  EXPECT_TRUE(begun.improving);
  EXPECT_EQ(desk.agree(first.id, "mara").error().code, Code::kRefused);
  {
    std::unique_lock lock(mutex);
    heard.wait(lock, [&] { return !told.empty(); });
    EXPECT_EQ(told.front().proposal, first.id);
  }
  const ProposalView best = desk.stop(first.id).value();
  EXPECT_FALSE(best.improving);
  EXPECT_LE(best.after.cost, first.after.cost + 1e-6);
  {
    std::unique_lock lock(mutex);
    EXPECT_TRUE(told.back().over);
  }
  EXPECT_TRUE(desk.agree(first.id, "mara"));
  EXPECT_EQ(desk.proposal(first.id).error().code, Code::kNotFound);
  desk.on_progress(nullptr);
}

TEST(PlanDesk, LeavingAProposalLeavesThePlan) {
  const auto shop = planned_demo();
  const PlanView before = shop->plan().value();
  const ProposalView proposal = shop->plan_desk().propose({}, 1, 0.01).value();
  const PlanView after = shop->plan_desk().leave(proposal.id).value();
  EXPECT_EQ(after.number, before.number);
  EXPECT_EQ(shop->plan_desk().agree(proposal.id, "mara").error().code, Code::kNotFound);
}

TEST(PlanDesk, SettingsAreTheShopsAndNameTheFieldThatIsWrong) {
  const auto shop = planned_demo();
  PlanSettingsView settings = shop->plan().value().settings;
  EXPECT_EQ(settings.frozen_days, 1);
  settings.frozen_days = 3;
  const PlanView wider = shop->plan_desk().set_settings(settings, "mara").value();
  EXPECT_EQ(wider.frozen_until, "2026-11-29T00:00") << "Thursday, Friday and Saturday are worked";
  settings.frozen_days = 31;
  EXPECT_EQ(shop->plan_desk().set_settings(settings, "mara").error().place.field, "frozen_days");
  settings.frozen_days = 0;
  settings.kit_day = -1;
  EXPECT_EQ(shop->plan_desk().set_settings(settings, "mara").error().place.field, "kit_day");
  EXPECT_TRUE(shop->verify().value().whole);
}

}  // namespace
}  // namespace rollwright::shop

#include "shop/plan_desk.hpp"

#include <condition_variable>
#include <mutex>

#include "shop/plan_cases.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

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
  const ProposalView first = shop->plan_desk().propose({}, 0, kQuick).value();
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

TEST(PlanDesk, SaysHowLongWorkGoesOnUntouched) {
  int charging = 0;
  for (const BarView& bar : bars_of(shared_plan().plan().value())) {
    EXPECT_GE(bar.unattended_minutes, 0);
    if (bar.operation != "N-70") continue;
    EXPECT_EQ(bar.unattended_minutes, 210) << "first charge, data/trade/operations.toml";
    ++charging;
  }
  EXPECT_GT(charging, 0);
}

TEST(PlanDesk, NothingChangesWhenNothingHappened) {
  const ProposalView again = shared_plan().plan_desk().propose({}, 1, kQuick).value();
  EXPECT_TRUE(again.reasons.empty());
  for (const ChangeOfWork& change : again.changes) {
    EXPECT_EQ(change.because.back(), "the whole plan is better so") << change.operation;
  }
  EXPECT_LE(again.after.cost, again.before.cost + 1e-6);
}

TEST(PlanDesk, RefusesAProposalOverAnOlderPlan) {
  const auto shop = planned_demo();
  const ProposalView here = shop->plan_desk().propose({}, 1, kQuick).value();
  const ProposalView there = shop->plan_desk().propose({}, 1, kQuick).value();
  ASSERT_TRUE(shop->plan_desk().agree(here.id, "mara"));
  const auto late = shop->plan_desk().agree(there.id, "pia");
  ASSERT_FALSE(late);
  EXPECT_EQ(late.error().code, Code::kConflict);
  EXPECT_NE(late.error().sentence.find("plan 2 was agreed by mara"), std::string::npos)
      << late.error().sentence;
  EXPECT_EQ(shop->plan_desk().propose({}, 1, kQuick).error().code, Code::kConflict);
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
  const ProposalView first = desk.propose({}, 1, kQuick).value();
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
  const ProposalView proposal = shop->plan_desk().propose({}, 1, kQuick).value();
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

#include <algorithm>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

using std::chrono::days;

TEST(ShopLoad, WeeksFollowOneAnotherAndHoldNoMoreThanThereIs) {
  const LoadView view = shared_demo().load(6).value();
  ASSERT_EQ(view.weeks.size(), 6U);
  EXPECT_EQ(iso(view.weeks[0].first), "2026-11-25") << "the demo's Wednesday";
  EXPECT_EQ(iso(view.weeks[0].last), "2026-11-29");
  for (std::size_t i = 1; i < view.weeks.size(); ++i) {
    EXPECT_EQ(view.weeks[i].first, view.weeks[i - 1].last + days(1));
    EXPECT_EQ(view.weeks[i].last, view.weeks[i].first + days(6));
  }
  for (const WeekLoadView& week : view.weeks) {
    double by_skill = 0;
    double by_person = 0;
    for (const SkillLoadView& skill : week.skills) by_skill += skill.planned;
    for (const PersonLoadView& person : week.people) {
      EXPECT_LE(person.planned, person.there + 1e-9) << person.name;
      by_person += person.planned;
    }
    EXPECT_NEAR(by_skill, by_person, 1e-9);
  }
  EXPECT_FALSE(view.sentence.empty());
}

TEST(ShopLoad, HoldsTheBarsOfThePlan) {
  const LoadView load = shared_demo().load(1).value();
  const PlanView plan = shared_demo().plan().value();
  for (const PersonPlan& person : plan.people) {
    const bool works = std::ranges::any_of(person.bars, [&](const BarView& bar) {
      return bar.from < iso(load.weeks[0].last + days(1));
    });
    const auto shown = std::ranges::find(load.weeks[0].people, person.id, &PersonLoadView::id);
    ASSERT_NE(shown, load.weeks[0].people.end());
    EXPECT_EQ(shown->planned > 0, works) << person.name;
  }
}

TEST(ShopLoad, NamesEachPromisedOrderInTheWeekOfItsDay) {
  const LoadView view = shared_demo().load(12).value();
  const PlanView plan = shared_demo().plan().value();
  for (const PlannedOrder& order : plan.orders) {
    if (!order.promised || *order.promised > view.weeks.back().last) continue;
    int named = 0;
    for (const WeekLoadView& week : view.weeks) {
      if (std::ranges::count(week.due, order.order) == 0) continue;
      ++named;
      EXPECT_LE(*order.promised, week.last);
      EXPECT_TRUE(*order.promised >= week.first || &week == &view.weeks.front());
    }
    EXPECT_EQ(named, 1) << order.order;
  }
}

TEST(ShopLoad, RefusesWeeksOutsideAYear) {
  EXPECT_EQ(shared_demo().load(0).error().code, Code::kOutOfRange);
  EXPECT_EQ(shared_demo().load(53).error().code, Code::kOutOfRange);
}

}  // namespace
}  // namespace rollwright::shop

#include "plan/check_shop_plan.hpp"

#include <functional>

#include <gtest/gtest.h>

#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

/// Two people, two orders, everything the checker looks at, and a plan that passes.
struct Good {
  PlanInput input = empty_shop();
  ShopPlan plan;

  Good() {
    add_person(input, "Sol", kMechanic | kSenior);
    add_person(input, "Ada", kMechanic | kSenior);
    add_person(input, "Kim", kWheels);
    input.areas = {{"assembly", 1}, {"test area", 1}};
    const int hub = add_arrival(input, "hub", {.median = 1});
    const int order = add_order(input, "118");
    input.orders.back().due = monday() + std::chrono::days(4);
    const int build = add_task(input, order, 60);
    const int bleed = add_task(input, order, 60, {build});
    input.tasks.back().pause = Pause::kWithinDay;
    input.tasks.back().unattended = 30;
    const int audit = add_task(input, order, 30, {bleed});
    input.tasks.back().area = 1;
    input.tasks.back().any_of = kSenior;
    input.tasks.back().not_by_doer_of = {build};
    add_task(input, add_order(input, "119"), 60);
    input.tasks.back().parts = {hub};
    input.tasks.back().pause = Pause::kNever;
    add_task(input, add_order(input, "120"), 30);
    input.tasks.back().previous = {0, minute(3, 10)};
    input.tasks.back().pinned = true;
    add_task(input, add_order(input, "121"), 30);
    input.orders.back().released = false;
    static_cast<void>(audit);
    plan = *make_plan(input);
  }
  void move(std::size_t task, int by) {
    for (Window& part : plan.tasks[task].segments) {
      part.from += by;
      part.to += by;
    }
  }
};

std::string all_said(const Good& good) {
  std::string text;
  for (const std::string& line : check_shop_plan(good.input, good.plan)) text += line + "\n";
  return text;
}

TEST(CheckShopPlan, PassesAGoodPlan) { EXPECT_EQ(all_said(Good()), ""); }

TEST(CheckShopPlan, FindsEveryKindOfCorruption) {
  struct Spoilt {
    std::string_view expected;
    std::function<void(Good&)> spoil;
  };
  const std::vector<Spoilt> cases = {
      {"does two things at once",
       [](Good& g) {
         g.plan.tasks[4].person = g.plan.tasks[0].person;
         g.plan.tasks[4].segments = g.plan.tasks[0].segments;
       }},
      {"outside the hours", [](Good& g) { g.move(0, -60); }},
      {"starts before now", [](Good& g) { g.move(0, -60); }},
      {"lacks the skill", [](Good& g) { g.plan.tasks[0].person = 2; }},
      {"more than its 1 stands",
       [](Good& g) { g.plan.tasks[3].segments = g.plan.tasks[0].segments; }},
      {"in two places", [](Good& g) { g.plan.tasks[2].segments = g.plan.tasks[1].segments; }},
      {"starts before 118 0 is over", [](Good& g) { g.move(1, -1); }},
      {"starts before 118 1 is over", [](Good& g) { g.move(2, -1); }},
      {"before hub is in hand", [](Good& g) { g.move(3, -kMinutesPerDay); }},
      {"must be done in one go",
       [](Good& g) {
         g.plan.tasks[3].segments = {{minute(1, 12, 20), minute(1, 12, 30)},
                                     {minute(1, 13), minute(1, 13, 50)}};
       }},
      {"must not be left overnight",
       [](Good& g) {
         g.plan.tasks[1].segments = {{minute(0, 17, 30), minute(0, 18)},
                                     {minute(1, 9), minute(1, 9, 30)}};
       }},
      {"needs another person",
       [](Good& g) { g.plan.tasks[2].person = g.plan.tasks[0].person; }},
      {"frozen but was moved", [](Good& g) { g.move(4, 1); }},
      {"frozen but was moved",
       [](Good& g) { g.plan.tasks[4].person = 1 - g.plan.tasks[4].person; }},
      {"frozen but left out", [](Good& g) { g.plan.tasks[4].segments.clear(); }},
      {"minutes at work planned", [](Good& g) { --g.plan.tasks[0].segments.back().to; }},
      {"minutes at work planned", [](Good& g) { ++g.plan.tasks[2].segments.back().to; }},
      {"left by",
       [](Good& g) {
         g.plan.tasks[0].segments = {{minute(0, 9), minute(0, 9, 30)},
                                     {minute(0, 9, 40), minute(0, 10, 10)}};
       }},
      {"do not follow one another",
       [](Good& g) {
         g.plan.tasks[0].segments = {{minute(0, 9, 30), minute(0, 10)},
                                     {minute(0, 9), minute(0, 9, 30)}};
       }},
      {"not released, yet it is planned",
       [](Good& g) {
         g.plan.tasks[5].person = 0;
         g.plan.tasks[5].segments = {{minute(5, 9), minute(5, 9, 30)}};
       }},
      {"given to nobody", [](Good& g) { g.plan.tasks[0].person = 7; }},
      {"not ready when the plan says", [](Good& g) { ++*g.plan.orders[0].ready; }},
      {"not ready on the day",
       [](Good& g) { *g.plan.orders[0].ready_day += std::chrono::days(1); }},
      {"days late", [](Good& g) { g.plan.orders[0].days_late = 2; }},
      {"adds up to", [](Good& g) { g.plan.orders[0].bound_by.pop_back(); }},
      {"the score", [](Good& g) { g.plan.score.kit_days_waiting += 0.01; }},
      {"the score", [](Good& g) { ++g.plan.score.moved; }},
      {"the plan has", [](Good& g) { g.plan.tasks.pop_back(); }},
      {"names another task", [](Good& g) { std::swap(g.plan.tasks[0], g.plan.tasks[1]); }},
  };
  for (const Spoilt& spoilt : cases) {
    Good good;
    spoilt.spoil(good);
    const std::string said = all_said(good);
    EXPECT_NE(said.find(spoilt.expected), std::string::npos)
        << "expected: " << spoilt.expected << "\nsaid: " << said;
  }
}

}  // namespace
}  // namespace rollwright::plan

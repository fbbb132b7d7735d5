#include "shop/absence.hpp"

#include "shop/plan_cases.hpp"

// These claims are made on the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

TEST(Absence, TellsWhatAnAbsencePutsOutOfDateAndWhyEachOperationMoves) {
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

  const ProposalView mended = shop->plan_desk().propose({}, 1, kQuick).value();
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

TEST(Absence, RefusesAbsencesThatCannotBe) {
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

TEST(Absence, JoinsAndPartsDaysAway) {
  const auto day = [](int number) {
    return parse_day("2026-12-01").value() + std::chrono::days(number);
  };
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

}  // namespace
}  // namespace rollwright::shop

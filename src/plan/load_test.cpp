#include "plan/load.hpp"

#include <cmath>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/push_relabel_max_flow.hpp>
#include <gtest/gtest.h>

#include "plan/workshop_cases.hpp"

namespace rollwright::plan {
namespace {

using namespace cases;

std::vector<WeekLoad> loaded(const PlanInput& input, int weeks = 4) {
  const auto plan = make_plan(input);
  EXPECT_TRUE(plan) << plan.error().sentence;
  const auto load = load_by_week(input, *plan, weeks);
  EXPECT_TRUE(load) << load.error().sentence;
  return *load;
}

TEST(Load, WorkedByHand) {
  PlanInput input = empty_shop();  // Monday 9:00; 8.5 hours a day
  input.disturbance = {.walk_in_least = 0.1, .walk_in_most = 0.3};
  add_person(input, "Ada", kMechanic, 0.5);
  add_person(input, "Bo", kWheels, 1);
  const int order = add_order(input, "118");
  input.orders.back().due = monday() + std::chrono::days(4);
  add_task(input, order, 300);
  add_task(input, order, 240);
  input.tasks.back().any_of = kWheels;
  const auto weeks = loaded(input);
  ASSERT_EQ(weeks.size(), 4U);
  EXPECT_EQ(weeks[0].first, monday());
  EXPECT_EQ(weeks[0].last, monday() + std::chrono::days(6));
  // 42.5 hours a week, of which walk-ins leave 0.8; of Ada's half reaches the bikes.
  EXPECT_NEAR(weeks[0].there[0], 42.5 * 0.5 * 0.8, 1e-9);
  EXPECT_NEAR(weeks[1].there[1], 42.5 * 0.8, 1e-9);
  ASSERT_EQ(weeks[0].skills.size(), 2U);
  EXPECT_EQ(weeks[0].skills[0].any_of, kMechanic);
  EXPECT_NEAR(weeks[0].skills[0].planned, 5, 1e-9);
  EXPECT_NEAR(weeks[0].skills[1].planned, 4, 1e-9);
  EXPECT_NEAR(weeks[0].skills[0].due, 5, 1e-9);
  EXPECT_NEAR(weeks[0].planned[1], 4, 1e-9);
  EXPECT_EQ(weeks[1].skills[0].planned, 0);
  EXPECT_EQ(weeks[0].planned_fullest.any_of, std::vector<SkillSet>{kMechanic});
  EXPECT_NEAR(weeks[0].planned_fullest.share(), 5 / 17.0, 1e-9);
  // In the second week it is still due, in twice the hours.
  EXPECT_NEAR(weeks[1].due_fullest.share(), 5 / 34.0, 1e-9);
}

TEST(Load, TheRunningWeekIsWhatIsLeftOfIt) {
  PlanInput input = empty_shop();
  input.now = minute(3, 12);  // Thursday noon: half an hour before the break, five after, a Friday
  add_person(input, "Ada", kMechanic);
  add_task(input, add_order(input, "118"), 60);
  const auto weeks = loaded(input, 52);
  EXPECT_EQ(weeks[0].first, monday() + std::chrono::days(3));
  EXPECT_NEAR(weeks[0].there[0], 0.5 + 5 + 8.5, 1e-9);
  EXPECT_EQ(weeks[1].first, monday() + std::chrono::days(7));
  EXPECT_EQ(weeks.size(), 4U) << "the horizon ends after four weeks";
}

TEST(Load, ASkillThatOthersAlsoNeedIsNotFreeTwice) {
  // A senior can do everything, two mechanics only theirs: each kind of work alone fits easily.
  PlanInput input = empty_shop(7);
  add_person(input, "Ada", kMechanic | kSenior);
  add_person(input, "Bo", kMechanic);
  const int order = add_order(input, "118");
  input.orders.back().due = monday() + std::chrono::days(4);
  for (int i = 0; i < 4; ++i) {
    add_task(input, order, 8.5 * 60);
    input.tasks.back().any_of = kSenior;
  }
  for (int i = 0; i < 7; ++i) add_task(input, order, 8.5 * 60);
  const auto weeks = loaded(input, 1);
  const Fullest& due = weeks[0].due_fullest;
  EXPECT_EQ(due.any_of, (std::vector<SkillSet>{kMechanic, kSenior}));
  EXPECT_NEAR(due.share(), 11 / 10.0, 1e-9) << "eleven days of work for two people's five days";
  EXPECT_LT(weeks[0].planned_fullest.share(), 1.0 + 1e-9) << "a plan never has more than there is";
}

TEST(Load, WorkWithNobodyThereIsInfinitelyFull) {
  PlanInput input = empty_shop(14);
  add_person(input, "Ada", kMechanic);
  std::erase_if(input.people[0].hours, [](const Window& w) { return w.from < minute(7, 0); });
  const int order = add_order(input, "118");
  input.orders.back().due = monday() + std::chrono::days(4);
  add_task(input, order, 60);
  const auto weeks = loaded(input, 2);
  EXPECT_TRUE(std::isinf(weeks[0].due_fullest.share()));
  EXPECT_TRUE(std::isfinite(weeks[1].due_fullest.share()));
}

TEST(Load, RefusesWeeksOutsideAYear) {
  const PlanInput input = empty_shop();
  const auto plan = make_plan(input);
  for (const int weeks : {0, 53}) {
    const auto load = load_by_week(input, *plan, weeks);
    ASSERT_FALSE(load);
    EXPECT_EQ(load.error().code, Code::kOutOfRange);
  }
}

using Traits = boost::adjacency_list_traits<boost::vecS, boost::vecS, boost::directedS>;
using Network = boost::adjacency_list<
    boost::vecS, boost::vecS, boost::directedS, boost::no_property,
    boost::property<boost::edge_capacity_t, long,
                    boost::property<boost::edge_residual_capacity_t, long,
                                    boost::property<boost::edge_reverse_t,
                                                    Traits::edge_descriptor>>>>;

void pipe(Network& network, std::size_t from, std::size_t to, long capacity) {
  const auto there = boost::add_edge(from, to, network).first;
  const auto back = boost::add_edge(to, from, network).first;
  boost::put(boost::edge_capacity, network, there, capacity);
  boost::put(boost::edge_reverse, network, there, back);
  boost::put(boost::edge_reverse, network, back, there);
}

/// Whether all work fits when everybody had `share` times their hours, by a maximum flow from the
/// work through those who can do it to their hours.
bool fits(const std::vector<SkillLoad>& rows, const std::vector<double>& hours, double share) {
  const auto grains = [](double h) { return std::lround(h * 1e6); };
  const std::size_t source = 0, sink = 1, first_row = 2, first_person = 2 + rows.size();
  Network network(first_person + hours.size());
  long all = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    all += grains(rows[i].due);
    pipe(network, source, first_row + i, grains(rows[i].due));
    for (std::size_t p = 0; p < hours.size(); ++p) {
      if ((rows[i].people >> p & 1) != 0) pipe(network, first_row + i, first_person + p, 1L << 50);
    }
  }
  for (std::size_t p = 0; p < hours.size(); ++p) {
    pipe(network, first_person + p, sink, grains(hours[p] * share));
  }
  return boost::push_relabel_max_flow(network, source, sink) >= all;
}

// The fullest group against a general maximum flow (Boost.Graph): with its share of the hours all
// work fits, with a hair less it does not.
TEST(Load, AgreesWithMaximumFlow) {
  Random random(41);
  int tried = 0;
  for (int round = 0; round < 60; ++round) {
    PlanInput input = random_workshop(random, {.orders = 5});
    for (Order& order : input.orders) {
      if (random.uniform() < 0.7) {
        order.due = input.first_day + std::chrono::days(static_cast<int>(40 * random.uniform()));
      }
    }
    std::vector<double> until(input.people.size(), 0);
    for (const WeekLoad& week : loaded(input, 6)) {
      for (std::size_t p = 0; p < until.size(); ++p) until[p] += week.there[p];
      const double share = week.due_fullest.share();
      if (share == 0 || std::isinf(share)) continue;
      ++tried;
      EXPECT_TRUE(fits(week.skills, until, share * 1.0001));
      EXPECT_FALSE(fits(week.skills, until, share * 0.9999));
    }
  }
  EXPECT_GT(tried, 100);
}

// What the plan puts into weeks is all of its work, and nobody has more of it than hours.
TEST(Load, LosesNoWork) {
  Random random(42);
  for (int round = 0; round < 30; ++round) {
    const PlanInput input = random_workshop(random, {.orders = 4});
    const auto plan = make_plan(input);
    ASSERT_TRUE(plan);
    const auto weeks = load_by_week(input, *plan, 52);
    ASSERT_TRUE(weeks);
    double placed = 0, shown = 0;
    for (const PlannedTask& task : plan->tasks) {
      if (task.placed()) placed += input.tasks[static_cast<std::size_t>(task.task)].minutes / 60;
    }
    for (const WeekLoad& week : *weeks) {
      for (const SkillLoad& row : week.skills) shown += row.planned;
      for (std::size_t p = 0; p < week.there.size(); ++p) {
        // Whole minutes of the person's hours are taken: never less than the work.
        EXPECT_LE(week.planned[p], week.there[p] + 1e-9);
      }
    }
    EXPECT_NEAR(shown, placed, 1e-6);
  }
}

}  // namespace
}  // namespace rollwright::plan

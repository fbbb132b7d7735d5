// The general solver is a second opinion on catalogues that are too large to enumerate. Here it is
// itself compared with enumeration, and then asked about a sample; ./measure spec-exact asks more.

#include "spec/trials/general_solver.hpp"

#include <gtest/gtest.h>

#include "spec/trials/demo_orders.hpp"
#include "spec/trials/generated_bikes.hpp"
#include "spec/trials/solver_comparison.hpp"
#include "spec/trials/walk.hpp"

namespace rollwright::spec {
namespace {

using testing::Catalogue;
using testing::GeneralSolver;
using trade::Verdict;

TEST(GeneralSolver, AgreesWithEnumerationOnSmallCatalogues) {
  std::uint64_t seed = 60000;
  int mass_limits = 0;
  for (int i = 0; i < 60; ++i) {
    const Catalogue catalogue = testing::generated_small(seed, 400);
    const testing::Enumeration all(catalogue);
    GeneralSolver solver(catalogue);
    ASSERT_TRUE(solver.left_out().empty());
    mass_limits += catalogue.trade.rules.back().terms.size() == 2 ? 1 : 0;
    const Selection selection = testing::random_selection(catalogue, seed, 0.2);
    for (const trade::Slot* slot : testing::slots_of(catalogue)) {
      for (const trade::Part* part : testing::candidates_for(catalogue, slot->id)) {
        Selection asked = selection;
        asked[slot->id] = part != nullptr ? part->id : trade::PartId();
        EXPECT_EQ(solver.status(asked, selection),
                  static_cast<Status>(all.best(asked, selection)))
            << "seed " << seed << " " << slot->id.text;
      }
    }
  }
  EXPECT_GT(mass_limits, 5);
}

testing::SolverComparison compare_along_a_walk(std::uint64_t seed, const testing::BikesSize& size) {
  const Catalogue catalogue = testing::generated_bikes(seed, size);
  GeneralSolver solver(catalogue);
  EXPECT_TRUE(solver.left_out().empty());
  const auto problem = compile(catalogue.input());
  testing::SolverComparison all;
  testing::Walk walk(seed);
  for (int step = 0; step < 6; ++step) {
    if (step % 3 == 2) {
      all.add(testing::compare_with_solver(catalogue, solver, *problem, walk.selection(),
                                           {.status_every = 4, .best_every = 12}),
              "seed " + std::to_string(seed) + " step " + std::to_string(step));
    }
    const auto answer = choices(*problem, walk.selection());
    if (!answer || !walk.step(*answer)) break;
  }
  return all;
}

TEST(GeneralSolver, FindsTheSameStatusesPricesAndMassesOnLargerCatalogues) {
  for (const std::uint64_t seed : {1u, 2u}) {
    const auto all = compare_along_a_walk(seed, {.slots = 14, .parts = 8, .rules = 40});
    EXPECT_TRUE(all.mismatches().empty()) << all.mismatches().front();
    EXPECT_GT(all.statuses.compared, 30);
    EXPECT_GT(all.prices.compared, 0);
  }
}

TEST(GeneralSolver, FindsTheSameStatusesForAnOrderOfTheDemo) {
  const auto demo = testing::demo_order("2041");
  ASSERT_TRUE(demo) << demo.error().full();
  GeneralSolver solver(demo->catalogue);
  EXPECT_TRUE(solver.left_out().empty());
  const auto problem = compile(demo->catalogue.input());
  ASSERT_TRUE(problem);
  const auto all = testing::compare_with_solver(demo->catalogue, solver, *problem, demo->choices,
                                                {.status_every = 6, .best_every = 0});
  EXPECT_TRUE(all.mismatches().empty()) << all.mismatches().front();
  EXPECT_GT(all.statuses.compared, 30);
}

}  // namespace
}  // namespace rollwright::spec

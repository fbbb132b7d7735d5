// A pruned diagram answers as the whole one does.

#include "spec/pruned.hpp"

#include <gtest/gtest.h>

#include "base/index.hpp"
#include "spec/best_bike.hpp"
#include "spec/sweep.hpp"
#include "spec/trials/generated_bikes.hpp"
#include "spec/trials/walk.hpp"

namespace rollwright::spec {
namespace {

constexpr testing::BikesSize kSize{.slots = 20, .parts = 20, .rules = 70};

/// By slot and candidate that can be used: what the cheapest bikes with it add up to without it.
/// Last, the cheapest of all.
std::vector<std::int64_t> around(const Situation& situation, const Outlook& outlook,
                                 const Diagram& diagram) {
  const SweepInput<Adding> input{
      .diagram = diagram, .level = worst_level(Facts::kKnown),
      .own = best_of_families<Adding>(
          situation, outlook, [&](int d, int i) { return situation.figures[at(d)][at(i)].price; })};
  Sweep<Adding> sweep(input);
  const auto by_family = sweep.around();
  std::vector<std::int64_t> result;
  for (std::size_t d = 0; d < by_family.size(); ++d) {
    for (std::size_t i = 0; i < outlook.usable[d].size(); ++i) {
      if (outlook.usable[d][i] == 0) continue;
      result.push_back(by_family[d][at(diagram.slots[d].family_of[i])]);
    }
  }
  result.push_back(std::min(sweep.whole(), Adding::kNone));
  return result;
}

TEST(Pruned, AnswersAsTheWholeDiagramDoesAndIsSmaller) {
  int smaller = 0;
  for (std::uint64_t seed = 81; seed <= 88; ++seed) {
    const testing::Catalogue catalogue = testing::generated_bikes(seed, kSize);
    const auto problem = compile(catalogue.input());
    const Compiled& compiled = problem->compiled();
    ASSERT_NE(compiled.known, nullptr) << "seed " << seed;
    for (const double share : {0.1, 0.3, 0.6}) {  // some of these clash: then nothing is left
      const Selection selection = testing::random_selection(catalogue, seed, share);
      const auto fixed = fixed_by(compiled, selection).value();
      const Situation situation = situations_of(compiled, fixed, fixed, nullptr).known;
      const Outlook outlook = outlook_of(situation, Facts::kKnown);
      const Diagram less = pruned(situation, outlook, worst_level(Facts::kKnown));
      EXPECT_EQ(around(situation, outlook, less), around(situation, outlook, situation.diagram))
          << "seed " << seed << ", share " << share;
      std::size_t kept = 0;
      std::size_t all = 0;
      for (const DiagramSlot& slot : less.slots) kept += slot.set.size();
      for (const DiagramSlot& slot : situation.diagram.slots) all += slot.set.size();
      smaller += kept < all ? 1 : 0;
    }
  }
  EXPECT_GT(smaller, 15);
}

}  // namespace
}  // namespace rollwright::spec

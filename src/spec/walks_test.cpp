// Properties of whole answers along the ways in which a person fills a bike, on catalogues of the
// trade's own structure.

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "spec/complete.hpp"
#include "spec/trials/enumeration.hpp"
#include "spec/trials/generated_bikes.hpp"
#include "spec/trials/solver_comparison.hpp"
#include "spec/trials/walk.hpp"

namespace rollwright::spec {
namespace {

using testing::Catalogue;
using trade::Verdict;
using Parts = std::map<std::pair<trade::SlotId, trade::PartId>, PartChoice>;

constexpr testing::BikesSize kSize{.slots = 14, .parts = 9, .rules = 44};

Parts by_part(const Choices& answer) {
  Parts parts;
  for (const SlotChoices& slot : answer.slots) {
    for (const PartChoice& part : slot.parts) parts[{slot.slot, part.part}] = part;
  }
  return parts;
}

Choices asked(const Catalogue& catalogue, const Problem& problem, const Selection& selection,
              long long steps = ChoicesSettings{}.most_steps) {
  return choices(problem, selection, {.most_steps = steps, .arrivals = &catalogue.arrivals})
      .value();
}

/// Nothing that one bike of the second comes to can be better than the best of the first, as long
/// as both are said of the same bikes.
bool no_better(const PartChoice& after, const PartChoice& before) {
  const bool same_bikes =
      (after.status == Status::kNotKnown) == (before.status == Status::kNotKnown);
  if (!same_bikes || after.status == Status::kClosed) return true;
  const auto mass = [](const Bests& best) {
    return std::pair(best.masses_not_known, testing::milligrams_of(best.mass.value()));
  };
  return after.best.price.value() >= before.best.price.value() &&
         mass(after.best) >= mass(before.best) &&
         (!after.best.ready || after.best.ready >= before.best.ready);
}

TEST(Walks, AChoiceOpensNothingAndMakesNothingCheaperLighterOrSooner) {
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    const Catalogue catalogue = testing::generated_bikes(seed, kSize);
    const auto problem = compile(catalogue.input());
    testing::Walk walk(seed);
    Choices before = asked(catalogue, *problem, {});
    for (int step = 0; step < 12; ++step) {
      const Selection was = walk.selection();
      if (!walk.step(before)) break;
      const Choices after = asked(catalogue, *problem, walk.selection());
      const bool added = walk.selection().size() == was.size() + 1;
      const Parts parts = by_part(before);
      for (const SlotChoices& slot : after.slots) {
        for (const PartChoice& part : slot.parts) {
          if (!added || slot.chosen) continue;
          const PartChoice& earlier = parts.at({slot.slot, part.part});
          EXPECT_GE(part.status, earlier.status) << "seed " << seed << " " << part.part.text;
          EXPECT_TRUE(no_better(part, earlier)) << "seed " << seed << " " << part.part.text;
          ++compared;
        }
      }
      before = after;
    }
  }
  EXPECT_GT(compared, 4000);
}

TEST(Walks, AnswersDoNotDependOnTheOrderOfTheParts) {
  for (std::uint64_t seed = 21; seed <= 30; ++seed) {
    Catalogue catalogue = testing::generated_bikes(seed, kSize);
    testing::Walk walk(seed);
    for (int step = 0; step < 4; ++step) {
      const auto problem = compile(catalogue.input());
      if (!walk.step(asked(catalogue, *problem, walk.selection()))) break;
    }
    const Choices first = asked(catalogue, *compile(catalogue.input()), walk.selection());
    Random random(seed);
    for (std::size_t i = catalogue.parts.size(); i > 1; --i) {
      std::swap(catalogue.parts[i - 1], catalogue.parts[random.below(i)]);
    }
    const Choices second = asked(catalogue, *compile(catalogue.input()), walk.selection());
    EXPECT_EQ(first.selection, second.selection);
    EXPECT_EQ(first.best, second.best);
    const Parts others = by_part(second);
    for (const auto& [key, part] : by_part(first)) {
      EXPECT_EQ(part.status, others.at(key).status) << "seed " << seed << " " << key.second.text;
      EXPECT_EQ(part.best, others.at(key).best) << "seed " << seed << " " << key.second.text;
    }
  }
}

TEST(Walks, ABudgetThatEndsEarlyLeavesThingsOpenAndNeverAnswersWrongly) {
  int answered = 0;
  for (std::uint64_t seed = 41; seed <= 48; ++seed) {
    const Catalogue catalogue = testing::generated_bikes(seed, kSize);
    const auto problem = compile(catalogue.input());
    const Selection selection = testing::random_selection(catalogue, seed, 0.1);
    const Parts exact = by_part(asked(catalogue, *problem, selection));
    for (const long long steps : {0, 5, 50, 500}) {
      const Choices hurried = asked(catalogue, *problem, selection, steps);
      if (hurried.selection == Status::kClosed) continue;  // what is set aside may differ
      for (const auto& [key, part] : by_part(hurried)) {
        const PartChoice& right = exact.at(key);
        if (part.status == Status::kNotProven) continue;
        EXPECT_EQ(part.status, right.status) << "seed " << seed << " " << key.second.text;
        ++answered;
        if (part.best.proven) {
          EXPECT_EQ(part.best, right.best) << "seed " << seed << " " << key.second.text;
        }
      }
    }
  }
  EXPECT_GT(answered, 1000);
}

TEST(Walks, WhyNotNamesOnlyWhatTheClashNeeds) {
  int sets = 0;
  for (std::uint64_t seed = 61; seed <= 63; ++seed) {
    const Catalogue catalogue = testing::generated_bikes(seed, kSize);
    const auto problem = compile(catalogue.input());
    testing::GeneralSolver solver(catalogue, true);
    testing::Walk walk(seed);
    for (int step = 0; step < 6; ++step) {
      const Choices answer = asked(catalogue, *problem, walk.selection());
      int closed = 0;
      for (const auto& [key, part] : by_part(answer)) {
        if (part.status != Status::kClosed || closed++ % 9 != 0) continue;
        const auto clash = why_not(*problem, walk.selection(), {key.first, key.second});
        ASSERT_TRUE(clash) << clash.error().full();
        if (!clash->nothing_for.empty()) continue;
        Selection named = walk.selection();
        named[key.first] = key.second;
        const auto check = testing::check_clash(
            *clash, {key.first, key.second},
            [&](const Selection& selection, const std::vector<std::string>& rules) {
              return solver.exists({selection, named, Verdict::kNotKnown, &rules});
            });
        EXPECT_TRUE(check.clashes) << "seed " << seed << " " << key.second.text;
        EXPECT_FALSE(check.reducible) << "seed " << seed << " " << key.second.text;
        ++sets;
      }
      if (!walk.step(answer)) break;
    }
  }
  EXPECT_GT(sets, 20);
}

}  // namespace
}  // namespace rollwright::spec

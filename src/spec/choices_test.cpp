#include "spec/choices.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "base/random.hpp"
#include "spec/trials/enumeration.hpp"
#include "spec/why_not.hpp"

namespace rollwright::spec {
namespace {

using testing::Catalogue;
using testing::Enumeration;
using trade::Verdict;

constexpr int kCatalogues = 520;
constexpr int kMostBikes = 900;

Status status_of(Verdict verdict) { return static_cast<Status>(verdict); }

/// Small enough to be enumerated, of varied looseness.
bool is_small(const Catalogue& catalogue) {
  long long bikes = 1;
  for (const trade::Slot& slot : catalogue.trade.slots) {
    bikes *= 1 + std::ranges::count(catalogue.parts, slot.kinds[0], &trade::Part::kind);
  }
  return bikes <= kMostBikes;
}

Catalogue small_catalogue(std::uint64_t& seed) {
  while (true) {
    ++seed;
    Catalogue catalogue =
        testing::generated(seed, {.looseness = static_cast<double>(seed % 5) / 4});
    if (is_small(catalogue)) return catalogue;
  }
}

Selection without(Selection selection, const trade::SlotId& slot) {
  selection.erase(slot);
  return selection;
}

Selection with(Selection selection, const trade::SlotId& slot, const trade::PartId& part) {
  selection[slot] = part;
  return selection;
}

/// The choices that a part of this slot is judged with, as choices.hpp states it.
Selection judged_with(const Enumeration& all, const Selection& selection, const Choices& answer,
                      const trade::SlotId& slot) {
  Selection others = without(selection, slot);
  if (all.best(others, selection) != Verdict::kDoesNotFit) return others;
  for (const SlotPart& aside : answer.set_aside) others.erase(aside.slot);
  return others;
}

/// What is left can be completed (unless nothing can), and nothing that was set aside could stay.
void expect_set_aside_is_needed(const Enumeration& all, const Selection& selection,
                                const Choices& answer) {
  Selection kept = selection;
  for (const SlotPart& aside : answer.set_aside) kept.erase(aside.slot);
  EXPECT_TRUE(kept.empty() || all.best(kept, selection) != Verdict::kDoesNotFit);
  for (const SlotPart& aside : answer.set_aside) {
    EXPECT_EQ(all.best(with(kept, aside.slot, aside.part), selection), Verdict::kDoesNotFit);
  }
}

void expect_same_as_enumeration(const Catalogue& catalogue, const Enumeration& all,
                                const Selection& selection) {
  const auto problem = compile(catalogue.input());
  ASSERT_TRUE(problem);
  const auto answer = choices(*problem, selection);
  ASSERT_TRUE(answer) << answer.error().full();
  EXPECT_EQ(answer->selection, status_of(all.best(selection, selection)));
  expect_set_aside_is_needed(all, selection, *answer);
  for (const SlotChoices& slot : answer->slots) {
    const Selection others = judged_with(all, selection, *answer, slot.slot);
    for (const PartChoice& part : slot.parts) {
      EXPECT_EQ(part.status, status_of(all.best(with(others, slot.slot, part.part), selection)))
          << slot.slot.text << " " << part.part.text;
    }
  }
}

TEST(Choices, AgreeWithEnumerationOnSmallCatalogues) {
  std::uint64_t seed = 0;
  int clashing = 0;
  for (int i = 0; i < kCatalogues; ++i) {
    const Catalogue catalogue = small_catalogue(seed);
    const Enumeration all(catalogue);
    for (const double decided : {0.0, 0.3, 0.8}) {
      const Selection selection = testing::random_selection(catalogue, seed * 7 + 1, decided);
      SCOPED_TRACE("seed " + std::to_string(seed) + " decided " + std::to_string(decided));
      expect_same_as_enumeration(catalogue, all, selection);
      clashing += all.best(selection, selection) == Verdict::kDoesNotFit ? 1 : 0;
      if (::testing::Test::HasFailure()) return;
    }
  }
  EXPECT_GT(clashing, kCatalogues / 10);
  EXPECT_LT(clashing, kCatalogues * 2);
}

struct WhyNotTest {
  Selection named;
  Verdict at_most;
};

/// A clash must hold, and must cease to hold when any one member is left out.
void expect_irreducible(const Enumeration& all, const Clash& clash, const SlotPart& asked,
                        const WhyNotTest& test) {
  std::vector<std::string> rules;
  for (const ClashRule& rule : clash.rules) rules.push_back(rule.rule);
  Selection selection = with({}, asked.slot, asked.part);
  for (const SlotPart& choice : clash.choices) selection[choice.slot] = choice.part;
  EXPECT_GT(all.best(selection, test.named, &rules), test.at_most) << "not sufficient";
  for (const SlotPart& choice : clash.choices) {
    EXPECT_LE(all.best(without(selection, choice.slot), test.named, &rules), test.at_most)
        << choice.slot.text;
  }
  for (std::size_t i = 0; i < rules.size(); ++i) {
    std::vector<std::string> fewer = rules;
    fewer.erase(fewer.begin() + static_cast<long>(i));
    EXPECT_LE(all.best(selection, test.named, &fewer), test.at_most) << rules[i];
    EXPECT_FALSE(clash.rules[i].sentence.empty());
  }
}

/// Whether the set ceases to clash without the part that was asked about.
bool part_matters(const Enumeration& all, const Clash& clash, const WhyNotTest& test) {
  std::vector<std::string> rules;
  for (const ClashRule& rule : clash.rules) rules.push_back(rule.rule);
  Selection selection;
  for (const SlotPart& choice : clash.choices) selection[choice.slot] = choice.part;
  return all.best(selection, test.named, &rules) <= test.at_most;
}

TEST(WhyNot, NamesAnIrreducibleClashForEveryPartThatIsNotOpen) {
  std::uint64_t seed = 10000;
  int explained = 0;
  for (int i = 0; i < 200; ++i) {
    const Catalogue catalogue = small_catalogue(seed);
    const Enumeration all(catalogue);
    const Selection selection = testing::random_selection(catalogue, seed + 3, 0.4);
    const auto problem = compile(catalogue.input());
    const auto answer = choices(*problem, selection);
    for (const SlotChoices& slot : answer->slots) {
      for (const PartChoice& part : slot.parts) {
        for (const Verdict level : {Verdict::kFits, Verdict::kNotKnown}) {
          SCOPED_TRACE("seed " + std::to_string(seed) + " " + part.part.text);
          const Selection asked = with(selection, slot.slot, part.part);
          const auto clash = why_not(*problem, selection, {slot.slot, part.part, level});
          EXPECT_EQ(clash.has_value(), all.best(asked, asked) > level);
          if (!clash) continue;
          EXPECT_TRUE(clash->irreducible);
          expect_irreducible(all, *clash, {slot.slot, part.part}, {asked, level});
          EXPECT_EQ(clash->part_matters, part_matters(all, *clash, {asked, level}));
          ++explained;
        }
      }
    }
    if (::testing::Test::HasFailure()) return;
  }
  EXPECT_GT(explained, 1000);
}

/// Status by part, for comparing answers whose parts come in another order.
std::map<std::pair<trade::SlotId, trade::PartId>, Status> by_part(const Choices& answer) {
  std::map<std::pair<trade::SlotId, trade::PartId>, Status> statuses;
  for (const SlotChoices& slot : answer.slots) {
    for (const PartChoice& part : slot.parts) statuses[{slot.slot, part.part}] = part.status;
  }
  return statuses;
}

TEST(Choices, AddingAChoiceNeverOpensAClosedPart) {
  std::uint64_t seed = 20000;
  int compared = 0;
  for (int i = 0; i < 150; ++i) {
    const Catalogue catalogue = testing::generated(++seed, {.most_slots = 9, .most_rules = 16});
    const auto problem = compile(catalogue.input());
    Selection selection;
    Random random(seed);
    auto before = choices(*problem, selection);
    while (before->selection < Status::kClosed) {
      std::vector<SlotPart> possible;
      for (const SlotChoices& slot : before->slots) {
        for (const PartChoice& part : slot.parts) {
          if (!slot.chosen && part.status < Status::kClosed) {
            possible.push_back({slot.slot, part.part});
          }
        }
      }
      if (possible.empty()) break;
      const SlotPart next = possible[random.below(possible.size())];
      selection[next.slot] = next.part;
      const auto after = choices(*problem, selection);
      const auto was = by_part(*before);
      for (const SlotChoices& slot : after->slots) {
        if (slot.chosen) continue;
        for (const PartChoice& part : slot.parts) {
          EXPECT_GE(part.status, was.at({slot.slot, part.part})) << "seed " << seed;
          ++compared;
        }
      }
      before = after;
    }
  }
  EXPECT_GT(compared, 1000);
}

TEST(Choices, DoNotDependOnTheOrderOfTheParts) {
  for (std::uint64_t seed = 30001; seed <= 30150; ++seed) {
    Catalogue catalogue = testing::generated(seed, {.most_slots = 9, .most_rules = 16});
    const Selection selection = testing::random_selection(catalogue, seed, 0.3);
    const auto first = choices(*compile(catalogue.input()), selection);
    Random random(seed);
    for (std::size_t i = catalogue.parts.size(); i > 1; --i) {
      std::swap(catalogue.parts[i - 1], catalogue.parts[random.below(i)]);
    }
    const auto second = choices(*compile(catalogue.input()), selection);
    EXPECT_EQ(by_part(*first), by_part(*second)) << "seed " << seed;
    EXPECT_EQ(first->set_aside, second->set_aside) << "seed " << seed;
  }
}

TEST(Choices, SayNotProvenWhenTheStepsRunOutAndNeverGuess) {
  std::uint64_t seed = 40000;
  int not_proven = 0;
  for (int i = 0; i < 100; ++i) {
    const Catalogue catalogue = small_catalogue(seed);
    const auto exact = by_part(*choices(*compile(catalogue.input()), {}));
    const auto without_diagram = compile(catalogue.input(), {.most_arcs = 0});
    for (const long long steps : {0, 3, 12}) {
      const auto hurried = choices(*without_diagram, {}, {.most_steps = steps});
      for (const auto& [part, status] : by_part(*hurried)) {
        not_proven += status == Status::kNotProven ? 1 : 0;
        if (status != Status::kNotProven) {
          EXPECT_EQ(status, exact.at(part)) << "seed " << seed;
        }
      }
    }
  }
  EXPECT_GT(not_proven, 100);
}

TEST(Choices, AreTheSameBySearchWhereThereIsNoDiagram) {
  for (std::uint64_t seed = 50001; seed <= 50100; ++seed) {
    const Catalogue catalogue = testing::generated(seed);
    const Selection selection = testing::random_selection(catalogue, seed, 0.3);
    const auto folded = choices(*compile(catalogue.input()), selection);
    if (!folded->set_aside.empty()) continue;  // there may be several smallest sets
    const auto searched = choices(*compile(catalogue.input(), {.most_arcs = 0}), selection);
    EXPECT_EQ(by_part(*folded), by_part(*searched)) << "seed " << seed;
  }
}

TEST(Choices, AreNeverWrongWithoutADiagramOfPossibleBikes) {
  int not_proven = 0;
  for (std::uint64_t seed = 60001; seed <= 60200; ++seed) {
    const Catalogue catalogue = testing::generated(seed, {.not_known = 0.2});
    const Selection selection = testing::random_selection(catalogue, seed, 0.2);
    const auto whole = choices(*compile(catalogue.input()), selection);
    const auto half = choices(*compile(catalogue.input(), {.most_possible_arcs = 0}), selection);
    if (whole->set_aside != half->set_aside) continue;
    const auto exact = by_part(*whole);
    for (const auto& [part, status] : by_part(*half)) {
      not_proven += status == Status::kNotProven ? 1 : 0;
      if (status != Status::kNotProven) {
        EXPECT_EQ(status, exact.at(part)) << "seed " << seed;
      }
    }
  }
  EXPECT_GT(not_proven, 100);
}

TEST(Choices, RefuseASelectionThatNamesWhatIsNotThere) {
  const Catalogue catalogue = testing::generated(1);
  const auto problem = compile(catalogue.input());
  const trade::SlotId first = catalogue.trade.slots[0].id;
  EXPECT_EQ(choices(*problem, {{trade::SlotId("basket"), {}}}).error().code, Code::kNotFound);
  EXPECT_EQ(choices(*problem, {{first, trade::PartId("none such")}}).error().code,
            Code::kNotFound);
}

TEST(Compile, RefusesTwoPartsWithOneNumber) {
  Catalogue catalogue = testing::generated(2);
  catalogue.parts.push_back(catalogue.parts.front());
  const auto problem = compile(catalogue.input());
  ASSERT_FALSE(problem);
  EXPECT_EQ(problem.error().code, Code::kContradiction);
}

}  // namespace
}  // namespace rollwright::spec

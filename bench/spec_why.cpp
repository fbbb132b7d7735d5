// Whether the reasons why parts are closed are reasons, and no longer than they have to be: each set
// must clash, and must cease to clash without any one of its members. Small catalogues are judged
// by enumeration; large ones, and orders of the demo, by Z3 with rules switched off.

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "spec/trials/demo_orders.hpp"
#include "spec/trials/generated_bikes.hpp"
#include "spec/trials/solver_comparison.hpp"
#include "spec/trials/walk.hpp"

namespace {

using namespace rollwright;
using namespace rollwright::spec;
using namespace rollwright::spec::testing;
using trade::Verdict;
using Answer = GeneralSolver::Answer;

constexpr unsigned kMostMillisecondsAQuestion = 10'000;

struct Sets {
  long long sets = 0;
  long long reducible = 0;
  long long no_clash = 0;  // the set does not clash at all
  long long refused = 0;   // no set was given for a closed part
  long long gave_up = 0;   // the second opinion ran out of time
  long long members = 0;

  void count(const Clash& clash, const ClashCheck& check) {
    ++sets;
    reducible += check.reducible ? 1 : 0;
    no_clash += check.clashes ? 0 : 1;
    gave_up += check.gave_up ? 1 : 0;
    members += static_cast<long long>(clash.choices.size() + clash.rules.size());
  }
};

/// A set that the second opinion does not agree with, so that somebody can look into it.
void tell_set(const Clash& clash, const SlotPart& asked) {
  fmt::print("  {} in {}{}:", asked.part.empty() ? "nothing" : asked.part.text, asked.slot.text,
             clash.part_matters ? "" : ", which does not matter");
  for (const SlotPart& choice : clash.choices) {
    fmt::print(" {}={}", choice.slot.text, choice.part.text);
  }
  for (const ClashRule& rule : clash.rules) fmt::print(" [{}]", rule.rule);
  fmt::print("\n");
}

/// Explains every n-th closed part. `judge(named)` gives the second opinion.
template <class Judge>
void explain(const Problem& problem, const Selection& selection, int every, const Judge& judge,
             Sets& sets) {
  const auto answer = choices(problem, selection);
  if (!answer) return;
  int closed = 0;
  for (const SlotChoices& slot : answer->slots) {
    for (const PartChoice& part : slot.parts) {
      if (part.status != Status::kClosed || closed++ % every != 0) continue;
      const auto clash = why_not(problem, selection, {slot.slot, part.part});
      if (!clash) ++sets.refused;
      if (!clash || !clash->nothing_for.empty()) continue;
      Selection named = selection;
      named[slot.slot] = part.part;
      const ClashCheck check = check_clash(*clash, {slot.slot, part.part}, judge(named));
      sets.count(*clash, check);
      if (!check.clashes || check.reducible) tell_set(*clash, {slot.slot, part.part});
    }
  }
}

void tell(const char* of_what, const Sets& sets) {
  fmt::print("{}: {} sets of {:.1f} choices and rules on average; {} can be made smaller, {} do "
             "not clash, {} refused, {} not judged in time.\n", of_what, sets.sets,
             sets.sets > 0 ? static_cast<double>(sets.members) / static_cast<double>(sets.sets) : 0,
             sets.reducible, sets.no_clash, sets.refused, sets.gave_up);
  std::fflush(stdout);
}

Sets of_small_catalogues(int catalogues) {
  Sets sets;
  std::uint64_t seed = 200'000;
  for (int i = 0; i < catalogues; ++i) {
    const Catalogue catalogue = generated_small(seed, 600);
    const Enumeration all(catalogue);
    const Problem problem = compile(catalogue.input()).value();
    const auto judge = [&](const Selection& named) {
      return [&all, named](const Selection& selection, const std::vector<std::string>& rules) {
        return all.best(selection, named, &rules) <= Verdict::kNotKnown ? Answer::kYes
                                                                        : Answer::kNo;
      };
    };
    explain(problem, random_selection(catalogue, seed, 0.4), 1, judge, sets);
  }
  tell("Small catalogues", sets);
  return sets;
}

/// With its own solver, rules switchable.
class SolverJudge {
 public:
  explicit SolverJudge(const Catalogue& catalogue) : solver_(catalogue, true) {
    solver_.set_time_limit(kMostMillisecondsAQuestion);
  }
  auto operator()(const Selection& named) const {
    return [this, named](const Selection& selection, const std::vector<std::string>& rules) {
      return solver_.exists({selection, named, Verdict::kNotKnown, &rules});
    };
  }

 private:
  mutable GeneralSolver solver_;
};

Sets of_walks(int walks, int parts, int every) {
  Sets sets;
  for (int w = 1; w <= walks; ++w) {
    const auto seed = static_cast<std::uint64_t>(300 + w);
    const Catalogue catalogue = generated_bikes(seed, {.parts = parts});
    const SolverJudge judge(catalogue);
    const Problem problem = compile(catalogue.input()).value();
    Walk walk(seed);
    for (int step = 0; step < 8; ++step) {
      if (step % 2 == 1) explain(problem, walk.selection(), every, judge, sets);
      const auto answer = choices(problem, walk.selection());
      if (!answer || !walk.step(*answer)) break;
    }
  }
  tell("30 slots, 120 rules", sets);
  return sets;
}

Result<Sets> of_demo_orders(int every) {
  Sets sets;
  for (const char* id : kDemoOrders) {
    const auto demo = demo_order(id);
    if (!demo) return std::unexpected(demo.error());
    const SolverJudge judge(demo->catalogue);
    const Problem problem = compile(demo->catalogue.input()).value();
    explain(problem, demo->choices, every, judge, sets);
  }
  tell("Four orders of the demo", sets);
  return sets;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("checks that the reasons for closed parts hold and are irreducible");
  std::string data;
  int catalogues = 250;
  int walks = 2;
  int parts = 20;
  int every = 8;
  app.add_option("--data", data, "not needed here");
  app.add_option("--catalogues", catalogues, "small ones");
  app.add_option("--walks", walks, "over large catalogues");
  app.add_option("--parts", parts, "per slot of the large catalogues");
  app.add_option("--every", every, "of the closed parts of large catalogues, every n-th");
  CLI11_PARSE(app, argc, argv);

  const auto demo = of_demo_orders(every);
  if (!demo) {
    fmt::print(stderr, "spec-why: {}\n", demo.error().full());
    return 3;
  }
  long long sets = 0;
  long long reducible = 0;
  bool holds = true;
  for (const Sets& some : {of_small_catalogues(catalogues), of_walks(walks, parts, every), *demo}) {
    sets += some.sets;
    reducible += some.reducible;
    holds &= some.no_clash == 0 && some.refused == 0;
  }
  holds &= reducible == 0;
  fmt::print(R"({{"name":"spec-why","holds":{},"figures":{{"sets":{},"reducible":{}}}}})" "\n",
             holds, sets, reducible);
  return holds ? 0 : 1;
}

// Everything that the specification can be asked, compared with two engines that share no code with
// it: plain enumeration of every bike of small catalogues, and Z3 for large ones and for orders of
// the demo.

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

constexpr unsigned kMostMillisecondsAQuestion = 4000;
constexpr int kMostShown = 20;

struct Total {
  long long cases = 0;
  std::vector<std::string> mismatches;

  void add(const std::string& where, const std::vector<std::string>& found) {
    ++cases;
    for (const std::string& what : found) mismatches.push_back(where + ": " + what);
  }
};

/// A case is one partial specification.
void by_enumeration(int catalogues, Total& total) {
  std::uint64_t seed = 100'000;
  long long compared = 0;
  const long long cases_before = total.cases;
  for (int i = 0; i < catalogues; ++i) {
    const Catalogue catalogue = generated_small(seed, 700);
    const Enumeration bikes(catalogue);
    const Problem problem = compile(catalogue.input()).value();
    for (const double decided : {0.0, 0.35, 0.65, 0.95}) {
      const Selection selection = random_selection(catalogue, seed + 1, decided);
      const Comparison found = compare_all(catalogue, bikes, problem, selection);
      compared += found.compared;
      total.add(fmt::format("enumeration, seed {}, decided {}", seed, decided), found.mismatches);
    }
  }
  fmt::print("Enumeration: {} partial specifications of {} small catalogues, {} answers "
             "compared.\n", total.cases - cases_before, catalogues, compared);
}

struct Asked {
  SolverComparison found;
  long long cases = 0;
};

void ask(const Catalogue& catalogue, GeneralSolver& solver, const Problem& problem,
         const Selection& selection, const std::string& where, const Sampling& sampling,
         Asked& asked, Total& total) {
  const auto found = compare_with_solver(catalogue, solver, problem, selection, sampling);
  total.add(where, found.mismatches());
  asked.found.add(found, where);
  ++asked.cases;
}

void tell(const std::string& of_what, const Asked& asked) {
  fmt::print("Z3, {}: {} partial specifications; {} statuses, {} best prices, {} best masses "
             "compared; {} questions without an answer in time.\n",
             of_what, asked.cases, asked.found.statuses.compared, asked.found.prices.compared,
             asked.found.masses.compared, asked.found.gave_up);
  std::fflush(stdout);
}

void by_solver(int walks, int parts, const Sampling& sampling, Total& total) {
  Asked asked;
  for (int w = 1; w <= walks; ++w) {
    const auto seed = static_cast<std::uint64_t>(w);
    const Catalogue catalogue = generated_bikes(seed, {.parts = parts});
    GeneralSolver solver(catalogue);
    if (!solver.left_out().empty()) total.add("Z3", {"left out " + solver.left_out().front()});
    solver.set_time_limit(kMostMillisecondsAQuestion);
    const Problem problem = compile(catalogue.input()).value();
    Walk walk(seed);
    for (int step = 0; step < 12; ++step) {
      if (step % 5 == 0) {
        ask(catalogue, solver, problem, walk.selection(), fmt::format("seed {} step {}", w, step),
            sampling, asked, total);
      }
      const auto answer = choices(problem, walk.selection());
      if (!answer || !walk.step(*answer)) break;
    }
  }
  tell(fmt::format("30 slots of {} parts, 120 rules", parts), asked);
}

bool by_solver_on_the_demo(const Sampling& sampling, Total& total) {
  Asked asked;
  for (const char* id : kDemoOrders) {
    const auto demo = demo_order(id);
    if (!demo) {
      fmt::print(stderr, "spec-exact: {}\n", demo.error().full());
      return false;
    }
    GeneralSolver solver(demo->catalogue);
    if (!solver.left_out().empty()) total.add(id, {"left out " + solver.left_out().front()});
    solver.set_time_limit(kMostMillisecondsAQuestion);
    const Problem problem = compile(demo->catalogue.input()).value();
    Selection half;
    for (const auto& [slot, part] : demo->choices) {
      if (half.size() < demo->choices.size() / 2) half.emplace(slot, part);
    }
    for (const Selection& selection : {Selection{}, half, demo->choices}) {
      ask(demo->catalogue, solver, problem, selection, fmt::format("order {}", id), sampling,
          asked, total);
    }
  }
  tell("four orders of the demo", asked);
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("compares what the specification answers with enumeration and with Z3");
  std::string data;
  int catalogues = 1500;
  int walks = 2;
  int parts = 20;
  int every = 6;
  int best_every = 150;
  app.add_option("--data", data, "not needed here");
  app.add_option("--catalogues", catalogues, "small catalogues, four selections each");
  app.add_option("--walks", walks, "walks over large catalogues");
  app.add_option("--parts", parts, "per slot of the large catalogues");
  app.add_option("--every", every, "of the statuses, every n-th goes to Z3");
  app.add_option("--best-every", best_every, "of the open parts, every n-th part's price and mass");
  CLI11_PARSE(app, argc, argv);

  Total total;
  by_enumeration(catalogues, total);
  const Sampling sampling{.status_every = every, .best_every = best_every};
  if (!by_solver_on_the_demo(sampling, total)) return 3;
  by_solver(walks, parts, sampling, total);
  for (std::size_t i = 0; i < total.mismatches.size() && i < kMostShown; ++i) {
    fmt::print("{}\n", total.mismatches[i]);
  }
  const bool holds = total.mismatches.empty();
  fmt::print(R"({{"name":"spec-exact","holds":{},"figures":{{"cases":{},"mismatches":{}}}}})"
             "\n", holds, total.cases, total.mismatches.size());
  return holds ? 0 : 1;
}

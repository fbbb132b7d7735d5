// One call of ours beside a general solver that is asked part by part, in one run on one machine.
// Ours answers statuses and the best price, mass and day of every part. Z3 answers the statuses
// alone, which is the least that could replace the call: it keeps all rules and what it has learnt
// between the questions, and asks as few levels as will tell each part's status.

#include <chrono>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "spec/trials/general_solver.hpp"
#include "spec/trials/generated_bikes.hpp"
#include "spec/trials/walk.hpp"

namespace {

using namespace rollwright;
using namespace rollwright::spec;
using namespace rollwright::spec::testing;

double milliseconds_since(std::chrono::steady_clock::time_point begin) {
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin)
      .count();
}

struct Sums {
  double ours_ms = 0;
  double solver_ms = 0;
  long long questions = 0;
  long long different = 0;
  int steps = 0;
};

void ask_solver(GeneralSolver& solver, const Selection& selection, const Choices& answer,
                Sums& sums) {
  for (const SlotChoices& slot : answer.slots) {
    Selection asked = selection;
    for (const PartChoice& part : slot.parts) {
      asked[slot.slot] = part.part;
      const auto begin = std::chrono::steady_clock::now();
      const Status status = solver.status(asked, selection);
      sums.solver_ms += milliseconds_since(begin);
      sums.different += status == part.status ? 0 : 1;
      ++sums.questions;
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("compares the time of one call with a general solver's for the same questions");
  std::string data;
  BikesSize size;
  int steps = 3;
  std::uint64_t seed = 1;
  app.add_option("--data", data, "not needed here");
  app.add_option("--parts", size.parts, "per slot");
  app.add_option("--steps", steps, "points of a walk, three steps apart");
  app.add_option("--seed", seed);
  CLI11_PARSE(app, argc, argv);

  const Catalogue catalogue = generated_bikes(seed, size);
  const Problem problem = compile(catalogue.input()).value();
  GeneralSolver solver(catalogue);
  const ChoicesSettings settings{.arrivals = &catalogue.arrivals};
  Sums sums;
  Walk walk(seed);
  for (int i = 0; sums.steps < steps; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    const auto answer = choices(problem, walk.selection(), settings);
    const double ours_ms = milliseconds_since(begin);
    if (i % 3 == 0) {
      sums.ours_ms += ours_ms;
      ask_solver(solver, walk.selection(), *answer, sums);
      ++sums.steps;
      fmt::print("{} choices: ours {:.1f} ms; all so far {:.1f} and {:.0f} ms\n",
                 walk.selection().size(), ours_ms, sums.ours_ms, sums.solver_ms);
      std::fflush(stdout);
    }
    if (!walk.step(*answer)) break;
  }
  const double ratio = sums.solver_ms / sums.ours_ms;
  fmt::print("{} points of a walk, {} parts asked one by one; {} answers differ.\n", sums.steps,
             sums.questions, sums.different);
  const bool holds = sums.different == 0 && ratio >= 1;
  fmt::print(R"({{"name":"spec-ratio","holds":{},"figures":{{"ours_ms":{:.2f},)"
             R"("solver_ms":{:.1f},"ratio":{:.1f}}}}})" "\n",
             holds, sums.ours_ms, sums.solver_ms, ratio);
  return holds ? 0 : 1;
}

// How the choices grow with the catalogue, with the number of rules, and with how little parts have
// in common. Each row runs in a process of its own, so that its memory is its own and a row that
// does not end in time is stopped and told as such.

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "spec/trials/generated_bikes.hpp"
#include "spec/trials/walk.hpp"

namespace {

using namespace rollwright;
using namespace rollwright::spec;
using namespace rollwright::spec::testing;

struct Row {
  int parts = 100;
  int rules = 120;
  double likeness = 1;
  double not_known = BikesSize{}.not_known;

  // What was measured; a row that was stopped has compiled nothing or answered nothing.
  double compile_s = 0;
  double p99_ms = 0;
  double memory_mib = 0;
  double proven = 0;  // share of the parts whose status and figures are proven
  int steps = 0;
};

const std::vector<Row> kRows = {
    {.parts = 10},  {.parts = 30},  {.parts = 100}, {.parts = 300},
    {.rules = 60},  {.rules = 240}, {.likeness = 0.9}, {.likeness = 0.5}, {.likeness = 0},
    {.not_known = 0}, {.not_known = 0.01}, {.not_known = 0.03},
};

double seconds_since(std::chrono::steady_clock::time_point begin) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

/// Tells the parent after every step, so that a row that is stopped still says what it reached.
void measure(Row row, int steps, int out) {
  const Catalogue catalogue = generated_bikes(
      1, {.parts = row.parts, .rules = row.rules, .likeness = row.likeness,
          .not_known = row.not_known});
  const auto begin = std::chrono::steady_clock::now();
  const Problem problem = compile(catalogue.input()).value();
  row.compile_s = seconds_since(begin);
  std::vector<double> times;
  long long parts = 0;
  long long proven = 0;
  Walk walk(1);
  while (row.steps < steps) {
    const auto before = std::chrono::steady_clock::now();
    const auto answer = choices(problem, walk.selection(), {.arrivals = &catalogue.arrivals});
    times.push_back(1000 * seconds_since(before));
    for (const SlotChoices& slot : answer->slots) {
      for (const PartChoice& part : slot.parts) {
        ++parts;
        proven += part.status != Status::kNotProven && part.best.proven ? 1 : 0;
      }
    }
    ++row.steps;
    std::ranges::sort(times);
    row.p99_ms = times[static_cast<std::size_t>(0.99 * static_cast<double>(times.size() - 1))];
    row.proven = static_cast<double>(proven) / static_cast<double>(parts);
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    row.memory_mib = static_cast<double>(usage.ru_maxrss) / 1024;
    if (write(out, &row, sizeof row) != sizeof row) return;
    if (!walk.step(*answer)) return;
  }
}

/// The last that the row's process told, and whether it came to its end by itself.
std::pair<Row, bool> in_own_process(const Row& row, int steps, unsigned most_seconds) {
  int ends[2];
  ROLLWRIGHT_PROMISE(pipe(ends) == 0);
  const pid_t child = fork();
  ROLLWRIGHT_PROMISE(child >= 0);
  if (child == 0) {
    close(ends[0]);
    alarm(most_seconds);  // ends the process
    measure(row, steps, ends[1]);
    _exit(0);
  }
  close(ends[1]);
  Row last = row;
  Row told;
  while (read(ends[0], &told, sizeof told) == sizeof told) last = told;
  close(ends[0]);
  int status = 0;
  waitpid(child, &status, 0);
  return {last, WIFEXITED(status) && WEXITSTATUS(status) == 0};
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("measures how the choices grow");
  std::string data;
  int steps = 25;
  int most_parts = 300;
  unsigned seconds = 240;
  app.add_option("--data", data, "not needed here");
  app.add_option("--steps", steps, "of the walk in each row");
  app.add_option("--most-parts", most_parts, "rows with more parts per slot are left out");
  app.add_option("--seconds", seconds, "after which a row is stopped");
  CLI11_PARSE(app, argc, argv);

  fmt::print("30 slots; statuses, prices, masses and days of all parts at each of {} steps.\n"
             "parts rules likeness not known  compile s  p99 ms  memory MiB  proven  steps\n", steps);
  std::string rows;
  bool holds = true;
  for (const Row& asked : kRows) {
    if (asked.parts > most_parts) continue;
    const auto [row, ended] = in_own_process(asked, steps, seconds);
    holds &= ended;  // the share that is proven is a figure of the row
    fmt::print("{:5} {:5} {:8.1f} {:9.3f} {:10.2f} {:7.1f} {:11.0f} {:7.4f} {:6}{}\n", row.parts,
               row.rules, row.likeness, row.not_known, row.compile_s, row.p99_ms,
               row.memory_mib, row.proven, row.steps,
               ended ? "" : fmt::format("  stopped after {} s", seconds));
    std::fflush(stdout);
    rows += fmt::format(R"({}{{"parts":{},"rules":{},"likeness":{},"not_known":{},)"
                        R"("compile_s":{:.3f},)"
                        R"("p99_ms":{:.2f},"memory_mib":{:.0f},"proven":{:.5f},"ended":{}}})",
                        rows.empty() ? "" : ",", row.parts, row.rules, row.likeness,
                        row.not_known, row.compile_s,
                        row.p99_ms, row.memory_mib, row.proven, ended);
  }
  fmt::print(R"({{"name":"spec-growth","holds":{},"figures":{{"rows":[{}]}}}})" "\n", holds, rows);
  return holds ? 0 : 1;
}

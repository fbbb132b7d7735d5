// Plans projects of 30 activities from the open benchmark library and says how far the plans are
// above the proved optima on average, every plan checked by code that shares nothing with the
// scheduler.
//
// Data: Kolisch and Sprecher, EJOR 96 (1996); optima of Demeulemeester and Herroelen. Convention:
// one pass of the schedule generation scheme is one schedule, pushing late and early counted, as in
// Kolisch and Hartmann, EJOR 174 (2006).

#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/text.hpp"
#include "plan/check_project.hpp"
#include "plan/improve_project.hpp"
#include "plan/read_sm.hpp"

namespace {

using namespace rollwright;

constexpr int kNoData = 3;
constexpr int kParameterSets = 48;
constexpr int kPerSet = 10;
constexpr int kWholeSet = kParameterSets * kPerSet;
/// The aim this house has set itself for 50,000 schedules, in percent above the optimum.
constexpr double kMostMeanGapPercent = 0.05;

int no_data(const std::string& sentence) {
  fmt::print(stderr, "{}\n", sentence);
  return kNoData;
}

/// A folder of our own that goes when we do.
class TemporaryFolder {
 public:
  TemporaryFolder() : path_((std::filesystem::temp_directory_path() / "j30-XXXXXX").string()) {
    if (mkdtemp(path_.data()) == nullptr) path_.clear();
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    if (!path_.empty()) std::filesystem::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// Unpacks with the system's tar, started without a shell so that no path is read as a command.
bool unpack(const std::string& archive, const std::string& folder) {
  std::vector<std::string> words = {"tar", "-xJf", archive, "-C", folder};
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  pid_t child = 0;
  if (posix_spawnp(&child, "tar", nullptr, nullptr, arguments.data(), environ) != 0) return false;
  int status = 0;
  return waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

/// Number of an instance in the set, from 0: j301_1, j301_2, ... j3048_10.
std::string name_of(int number) {
  return fmt::format("j30{}_{}", number / kPerSet + 1, number % kPerSet + 1);
}

/// Rows "parameter instance makespan seconds" of the library's list; other lines are prose.
std::map<std::string, int> read_optima(const std::string& text) {
  std::map<std::string, int> optima;
  for (const std::string& line : split(text, '\n')) {
    int parameter = 0;
    int instance = 0;
    int makespan = 0;
    if (std::sscanf(line.c_str(), "%d %d %d", &parameter, &instance, &makespan) != 3) continue;
    optima[fmt::format("j30{}_{}", parameter, instance)] = makespan;
  }
  return optima;
}

struct Tally {
  int instances = 0;
  int at_optimum = 0;
  int infeasible = 0;
  int below_optimum = 0;  // would mean that the data or the checker are wrong
  long long schedules = 0;
  double gap_percent_sum = 0;
  double seconds = 0;
};

struct Effort {
  std::uint64_t seed = 1;
  long long schedules = 50'000;
};

void measure(const std::string& name, const plan::Project& project, int optimum,
             const Effort& effort, Tally& tally) {
  const auto begin = std::chrono::steady_clock::now();
  const auto improved = plan::improve_project(project, effort.seed, effort.schedules);
  const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin;
  const std::vector<std::string> wrong = plan::check_project(project, improved.best.starts);
  const int makespan = plan::makespan_of(project, improved.best.starts);
  for (const std::string& sentence : wrong) fmt::print("{}: {}\n", name, sentence);
  if (makespan != optimum) fmt::print("{}: {}, optimum {}.\n", name, makespan, optimum);
  ++tally.instances;
  tally.infeasible += wrong.empty() ? 0 : 1;
  tally.at_optimum += makespan == optimum ? 1 : 0;
  tally.below_optimum += makespan < optimum ? 1 : 0;
  tally.schedules += improved.schedules;
  tally.gap_percent_sum += 100.0 * (makespan - optimum) / optimum;
  tally.seconds += spent.count();
}

int report(const Tally& tally, const Effort& effort) {
  const double mean_gap = tally.gap_percent_sum / tally.instances;
  const bool feasible = tally.infeasible == 0;
  fmt::print("{} of {} at the proved optimum; mean gap {:.3f} %, aim {:.2f} %.\n",
             tally.at_optimum, tally.instances, mean_gap, kMostMeanGapPercent);
  fmt::print("At most {} schedules each, {} generated in all, {:.2f} s, seed {}.\n",
             effort.schedules, tally.schedules, tally.seconds, effort.seed);
  fmt::print("The independent checker finds {}.\n",
             feasible ? "every schedule feasible"
                      : fmt::format("{} schedules infeasible", tally.infeasible));
  const bool holds = feasible && tally.below_optimum == 0 && mean_gap <= kMostMeanGapPercent;
  fmt::print("{{\"name\":\"j30-sample\",\"holds\":{},\"figures\":{{\"mean_gap_percent\":{:.4f},"
             "\"feasible\":{},\"instances\":{},\"at_optimum\":{},\"schedules\":{},"
             "\"schedules_generated\":{},\"seconds\":{:.3f}}}}}\n",
             holds, mean_gap, feasible, tally.instances, tally.at_optimum, effort.schedules,
             tally.schedules, tally.seconds);
  return holds ? 0 : 1;
}

int run(const std::string& folder, int instances, const Effort& effort) {
  const auto list = read_file(folder + "bestknown/j30opt.sm");
  if (!list) return no_data("The optima are missing: " + list.error().sentence + ".");
  const std::map<std::string, int> optima = read_optima(*list);
  const std::string archive = folder + "j30.sm.tar.xz";
  if (!std::filesystem::exists(archive)) {
    return no_data("The projects are missing: there is no file " + archive + ".");
  }
  const TemporaryFolder unpacked;
  if (unpacked.path().empty()) return no_data("No temporary folder could be made.");
  if (!unpack(archive, unpacked.path())) {
    return no_data("tar with xz could not unpack " + archive + ".");
  }
  std::vector<std::string> names;
  for (int i = 0; i < instances; ++i) names.push_back(name_of(i * kWholeSet / instances));
  fmt::print("{} of the {} projects of 30 activities, spread evenly over the set:\n{}.\n",
             instances, kWholeSet, fmt::join(names, ", "));
  Tally tally;
  for (const std::string& name : names) {
    const auto text = read_file(unpacked.path() + "/j30/" + name + ".sm");
    if (!text) return no_data("The archive lacks a project: " + text.error().sentence + ".");
    const auto project = plan::read_sm(*text, name + ".sm");
    if (!project) return no_data(project.error().full());
    const auto optimum = optima.find(name);
    if (optimum == optima.end()) return no_data("The list has no optimum for " + name + ".");
    measure(name, *project, optimum->second, effort, tally);
  }
  return report(tally, effort);
}

}  // namespace

int main(int argc, char** argv) {
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  int instances = 20;
  Effort effort;
  CLI::App app{"Plans benchmark projects of 30 activities and compares with the proved optima."};
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  app.add_option("--instances", instances, "how many projects, spread evenly over the 480")
      ->check(CLI::Range(1, kWholeSet));
  app.add_option("--schedules", effort.schedules, "most schedules to generate for each")
      ->check(CLI::Range(0LL, 1'000'000'000LL));
  app.add_option("--seed", effort.seed, "start of the random numbers");
  CLI11_PARSE(app, argc, argv);
  return run(data + "/reference/planning/psplib/", instances, effort);
}

#include "plan/prove_project.hpp"

#include <algorithm>
#include <utility>

#include "plan/project_bound.hpp"
#include "plan/shorter_schedule.hpp"

namespace rollwright::plan {
namespace {

constexpr long long kBetweenQuestions = 256;  // conflicts until `stop` is asked again

bool is_small_enough(const Project& project, int limit) {
  const Surroundings around = surroundings_of(project);
  long long claims = 0;
  for (int i = 0; i < project.size(); ++i) {
    const auto index = static_cast<std::size_t>(i);
    claims += limit - around.tails[index] - project.duration(i) - around.heads[index];
  }
  return claims <= kMostStartClaims && limit <= kMostStartClaims;
}

}  // namespace

ProvedProject prove_project(const Project& project, Schedule known, const ProofLimits& limits) {
  ProvedProject proved{.best = std::move(known), .lower_bound = bounds_of(project).best()};
  if (proved.proved() || !is_small_enough(project, proved.best.makespan)) return proved;
  ShorterSchedule search(project, proved.best.makespan - 1, proved.best.starts);
  while (!proved.proved() && search.conflicts() < limits.most_conflicts) {
    const long long left = limits.most_conflicts - search.conflicts();
    const auto outcome = search.search(std::min(left, kBetweenQuestions));
    if (outcome == ShorterSchedule::Outcome::kNone) proved.lower_bound = proved.best.makespan;
    if (outcome == ShorterSchedule::Outcome::kFound) {
      proved.best = {search.found(), makespan_of(project, search.found())};
      search.lower_limit(proved.best.makespan - 1);
    }
    if (limits.stop && limits.stop()) break;
  }
  proved.conflicts = search.conflicts();
  return proved;
}

}  // namespace rollwright::plan

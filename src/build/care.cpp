#include "build/care.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "trade/operation.hpp"

namespace rollwright::build {
namespace {

using trade::Outcome;

bool is_begun(Standing standing) {
  return standing == Standing::kRunning || standing == Standing::kPaused ||
         standing == Standing::kRedo;
}

/// Why a check line keeps the bike here; empty when it does not.
std::string open_of(const CheckNow& now) {
  if (!now.asked || now.check->mark == "N") return {};
  if (now.outcome == Outcome::kFix || now.outcome == Outcome::kStop) {
    return fmt::format("{} did not pass: {}", now.check->id, now.note);
  }
  const bool wanted = now.check->list == trade::kCareList || !now.because.empty();
  if (now.outcome == Outcome::kPass || !wanted) return {};
  return fmt::format("{} is open ({})", now.check->id, now.check->text);
}

}  // namespace

std::vector<std::string> open_in_visit(const BenchState& state) {
  std::vector<std::string> open;
  for (const OperationNow& now : state.operations) {
    if (!now.fault.empty()) {
      open.push_back(fmt::format("{} has a fault that is not mended: {}", now.step->operation,
                                 now.fault));
    } else if (is_begun(now.standing)) {
      open.push_back(fmt::format("{} ({}) is not done", now.step->operation, now.step->name));
    }
  }
  for (const CheckNow& now : state.checks) {
    std::string sentence = open_of(now);
    if (!sentence.empty()) open.push_back(std::move(sentence));
  }
  for (const StopNow& stop : state.stops) {
    if (state.check(stop.about) == nullptr) open.push_back(stop.sentence);
  }
  return open;
}

std::optional<double> last_km(const BenchState& state) {
  for (auto visit = state.visits.rbegin(); visit != state.visits.rend(); ++visit) {
    if (visit->km) return visit->km;
  }
  return std::nullopt;
}

std::vector<std::string> asked_for(const BenchState& state,
                                   const std::vector<std::string>& named) {
  std::vector<std::string> asked;
  for (const OperationNow& now : state.operations) {
    const bool is_named = std::ranges::count(named, now.step->operation) > 0;
    if (is_named && now.standing == Standing::kDone) asked.push_back(now.step->operation);
  }
  return asked;
}

}  // namespace rollwright::build

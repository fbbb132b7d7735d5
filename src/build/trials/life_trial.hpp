#pragma once

#include <string>
#include <vector>

namespace rollwright::build::testing {

/// How the engine's judgement of moves and the second opinion compare.
struct LifeTrial {
  long long tried = 0;
  std::vector<std::string> wrongly_allowed;  // what was moved with what wrong
  std::vector<std::string> wrongly_refused;
};

/// Every move from every state to every state, for every sort of bike: with everything in order, with
/// each single thing wrong, with each pair of things wrong where there is such a move, by each single
/// hat, and with each statement left out, written wrongly or one too many.
[[nodiscard]] LifeTrial try_all_moves();

}  // namespace rollwright::build::testing

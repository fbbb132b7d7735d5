#pragma once

#include <string>
#include <vector>

namespace rollwright::cli {

/// A script for bash: `source <(rollwright completion)`. Completes verbs and options; where an order
/// is asked for, the numbers of the open ones.
[[nodiscard]] std::string bash_completion(const std::vector<std::string>& verbs);

}  // namespace rollwright::cli

#pragma once

#include <string>
#include <vector>

#include "plan/project.hpp"

namespace rollwright::plan {

/// What a schedule violates, one plain sentence each; empty means feasible. Shares nothing with the
/// schedulers but the project itself, so that neither can hide the other's mistake.
///
/// Method:   sorts the starts and ends of the activities that hold something, resource by resource,
///           and walks over them once, adding and taking away.
/// Refuses:  a wrong number of starts, a start before 0, a start before a predecessor's end, more
///           of a resource held than there is. An activity of duration 0 holds nothing.
[[nodiscard]] std::vector<std::string> check_project(const Project& project, const Starts& starts);

}  // namespace rollwright::plan

#pragma once

#include <map>
#include <string>
#include <vector>

namespace rollwright::trade {

/// Loops among "comes after" links, one for each knot of things that wait for each other. Each runs
/// from a thing back to itself and names it at both ends ("B", "A", "B": B after A after B); it is
/// a shortest loop through the first thing of its knot by name. Links to unknown names are ignored.
[[nodiscard]] std::vector<std::vector<std::string>> loops_among(
    const std::map<std::string, std::vector<std::string>>& after);

}  // namespace rollwright::trade

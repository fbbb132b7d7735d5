#pragma once

#include <string>
#include <vector>

namespace rollwright::trade {

/// The skills that operations ask for and people have: L1 helper, L2 mechanic, L3 senior (L3
/// includes L2 includes L1), WB wheelbuilder, LE drive systems, DG dangerous goods, AD adviser.
[[nodiscard]] inline const std::vector<std::string>& all_skills() {
  static const std::vector<std::string> kSkills = {"L1", "L2", "L3", "WB", "LE", "DG", "AD"};
  return kSkills;
}

/// What people of the shop are: a question of an order is answered by one of these roles.
[[nodiscard]] inline const std::vector<std::string>& all_roles() {
  static const std::vector<std::string> kRoles = {"owner", "desk", "bench"};
  return kRoles;
}

}  // namespace rollwright::trade

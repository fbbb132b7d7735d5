#include "trade/skills.hpp"

#include <algorithm>

namespace rollwright::trade {

std::uint64_t skill_bit(const std::string& skill) {
  const std::vector<std::string>& all = all_skills();
  const auto found = std::ranges::find(all, skill);
  return found == all.end() ? 0 : std::uint64_t{1} << (found - all.begin());
}

std::uint64_t skills_held(const std::vector<std::string>& skills) {
  std::uint64_t held = 0;
  for (const std::string& skill : skills) {
    held |= skill_bit(skill);
    if (skill == "L3") held |= skill_bit("L2") | skill_bit("L1");
    if (skill == "L2") held |= skill_bit("L1");
  }
  return held;
}

}  // namespace rollwright::trade

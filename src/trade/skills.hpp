#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace rollwright::trade {

/// The skills that operations ask for and people have: L1 helper, L2 mechanic, L3 senior (L3
/// includes L2 includes L1), WB wheelbuilder, LE drive systems, DG dangerous goods, AD adviser.
[[nodiscard]] inline const std::vector<std::string>& all_skills() {
  static const std::vector<std::string> kSkills = {"L1", "L2", "L3", "WB", "LE", "DG", "AD"};
  return kSkills;
}

/// "wheelbuilding" for WB, and so on; the skill itself when it is none of all_skills().
[[nodiscard]] inline std::string skill_words(const std::string& skill) {
  static const std::map<std::string, std::string> kWords = {
      {"L1", "helper's work"},      {"L2", "mechanic's work"}, {"L3", "senior's work"},
      {"WB", "wheelbuilding"},      {"LE", "drive systems"},   {"DG", "dangerous goods"},
      {"AD", "advising"}};
  const auto found = kWords.find(skill);
  return found == kWords.end() ? skill : found->second;
}

/// The skill as a bit, in the order of all_skills(); 0 for a word that is none.
[[nodiscard]] std::uint64_t skill_bit(const std::string& skill);
/// What somebody with these skills may do, as bits: each level of mechanic includes those below.
[[nodiscard]] std::uint64_t skills_held(const std::vector<std::string>& skills);

/// What people of the shop are.
[[nodiscard]] inline const std::vector<std::string>& all_roles() {
  static const std::vector<std::string> kRoles = {"owner", "desk", "bench"};
  return kRoles;
}

/// Who answers for a question of an order: everybody with the role or the skill.
struct Owner {
  std::string name;   // "wheel builder"
  std::string role;   // one of all_roles(), or empty
  std::string skill;  // one of all_skills(), or empty
};
[[nodiscard]] inline const std::vector<Owner>& all_owners() {
  static const std::vector<Owner> kOwners = {{"owner", "owner", ""},
                                             {"desk", "desk", ""},
                                             {"lead mechanic", "", "L3"},
                                             {"wheel builder", "", "WB"},
                                             {"e-bike technician", "", "LE"}};
  return kOwners;
}

}  // namespace rollwright::trade

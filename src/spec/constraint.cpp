#include "spec/constraint.hpp"

namespace rollwright::spec {

trade::Verdict Constraint::verdict(std::span<const int> chosen) const {
  if (table.empty()) return judged(chosen);
  std::size_t number = 0;
  for (std::size_t k = 0; k < chosen.size(); ++k) {
    number += strides[k] * static_cast<std::size_t>(chosen[k]);
  }
  return static_cast<trade::Verdict>(table[number]);
}

trade::Verdict Constraint::judged(std::span<const int> chosen) const {
  std::vector<Held> all = base;
  for (std::size_t k = 0; k < chosen.size(); ++k) {
    const std::vector<Held>& values = held[k][static_cast<std::size_t>(chosen[k])];
    for (std::size_t i = 0; i < values.size(); ++i) {
      all[static_cast<std::size_t>(operands[k][i])] = values[i];
    }
  }
  return judge(form, all).verdict;
}

bool next_combination(std::span<int> combination, std::span<const int> counts) {
  for (std::size_t i = combination.size(); i-- > 0;) {
    if (++combination[i] < counts[i]) return true;
    combination[i] = 0;
  }
  return false;
}

}  // namespace rollwright::spec

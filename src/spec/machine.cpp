#include "spec/machine.hpp"

#include <algorithm>

#include "base/index.hpp"

namespace rollwright::spec {

std::optional<Machine> Machine::of(const Constraint& constraint, std::vector<Reading> readings,
                                   std::size_t most) {
  std::size_t combinations = 1;
  for (const Reading& reading : readings) {
    combinations *= reading.classes.size();
    if (combinations > most) return std::nullopt;
  }
  Machine machine;
  machine.known_.resize(readings.size());
  std::vector<int> chosen(constraint.slots.size(), 0);
  machine.start_ = machine.read(constraint, readings, 0, chosen);
  machine.known_.clear();
  return machine;
}

int Machine::read(const Constraint& constraint, const std::vector<Reading>& readings,
                  std::size_t depth, std::vector<int>& chosen) {
  if (depth == readings.size()) return static_cast<int>(constraint.verdict(chosen));
  const Reading& reading = readings[depth];
  if (reading.classes.size() == 1) {
    chosen[at(reading.place)] = reading.classes.front();
    return read(constraint, readings, depth + 1, chosen);
  }
  std::vector<int> row;
  row.reserve(reading.classes.size());
  for (const int class_number : reading.classes) {
    chosen[at(reading.place)] = class_number;
    row.push_back(read(constraint, readings, depth + 1, chosen));
  }
  const bool settled = std::ranges::all_of(
      row, [&](int state) { return state == row.front() && is_final(state); });
  if (settled) return row.front();
  const auto [found, is_new] = known_[depth].emplace(row, kVerdicts + states());
  if (is_new) {
    first_.push_back(next_.size());
    next_.insert(next_.end(), row.begin(), row.end());
  }
  return found->second;
}

}  // namespace rollwright::spec

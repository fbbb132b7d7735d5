#include "spec/machine.hpp"

#include <algorithm>

#include "base/index.hpp"

namespace rollwright::spec {

std::optional<Machine> Machine::of(const Constraint& constraint, std::vector<Reading> readings,
                                   int worst, std::size_t most) {
  std::size_t combinations = 1;
  for (const Reading& reading : readings) {
    combinations *= reading.classes.size();
    if (combinations > most) return std::nullopt;
  }
  Machine machine;
  machine.worst_ = worst;
  machine.known_.resize(readings.size());
  std::vector<int> chosen(constraint.slots.size(), 0);
  machine.start_ = machine.read(constraint, readings, 0, chosen);
  machine.known_.clear();
  return machine;
}

int Machine::read(const Constraint& constraint, const std::vector<Reading>& readings,
                  std::size_t depth, std::vector<int>& chosen) {
  if (depth == readings.size()) {
    const auto verdict = static_cast<int>(constraint.verdict(chosen));
    return verdict > worst_ ? static_cast<int>(trade::Verdict::kDoesNotFit) : verdict;
  }
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
    depth_.push_back(depth);
    next_.insert(next_.end(), row.begin(), row.end());
  }
  return found->second;
}

std::vector<int> Machine::first_alike(std::size_t depth, std::size_t classes) const {
  std::vector<std::vector<int>> columns(classes);
  for (std::size_t state = 0; state < first_.size(); ++state) {
    if (depth_[state] != depth) continue;
    for (std::size_t c = 0; c < classes; ++c) columns[c].push_back(next_[first_[state] + c]);
  }
  std::map<std::vector<int>, int> known;
  std::vector<int> alike;
  for (std::size_t c = 0; c < classes; ++c) {
    alike.push_back(known.emplace(columns[c], static_cast<int>(c)).first->second);
  }
  return alike;
}

}  // namespace rollwright::spec

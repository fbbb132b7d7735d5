#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>

#include "build/facts.hpp"

namespace rollwright::build {

/// What a calculation says of one bike, in the own unit of the reading's dimension.
struct ComputedValue {
  double target = 0;
  std::optional<double> least;  // limits that come with the calculation
  std::optional<double> most;
  std::string limit_source;     // who says so, when there are limits
  std::string how;              // one sentence: from which facts, by which rule
};

/// A calculation either has every fact it needs, or gives nothing and leaves the questions with the
/// reader. It may also give a value and leave a question (a part that does not agree with it).
using Calculation = std::function<std::optional<ComputedValue>(FactReader&)>;

/// Calculations by the name that readings.toml uses (`compute`); docs/formats.md describes each.
[[nodiscard]] const std::map<std::string, Calculation>& calculations();

}  // namespace rollwright::build

#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "trade/spread.hpp"

namespace rollwright::plan {

/// Work of many tasks whose minutes nobody knows, drawn all at once.
class UncertainWork {
 public:
  /// `name` seeds its numbers; `spread` has a median and a sigma above 0; it is drawn no greater
  /// than `most`. `unit`: of the work per unit of the spread.
  void add(std::uint64_t name, const trade::Spread& spread, double most, double unit);

  [[nodiscard]] std::size_t size() const { return names_.size(); }

  /// The work of each, rounded, at least 1, in the order in which they were added. The same on
  /// every machine, however many of them it does at once.
  void draw(std::uint64_t key, std::span<int> out) const;

 private:
  std::vector<std::uint64_t> names_;
  std::vector<double> least_;
  std::vector<double> median_;
  std::vector<double> sigma_;
  std::vector<double> most_;
};

}  // namespace rollwright::plan

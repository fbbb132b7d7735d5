#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "spec/bests.hpp"
#include "spec/compiled.hpp"
#include "spec/diagram.hpp"
#include "spec/figure.hpp"

namespace rollwright::spec {

/// A question to the diagram: what is decided, which parts may stand in for the rest, and what each
/// of them adds.
struct Situation {
  const Compiled& compiled;
  const Diagram& diagram;
  bool has_days = false;                       // arrivals were given
  std::vector<int> decided;                    // by slot: its candidate; -1: undecided
  std::vector<std::vector<char>> offered;      // by slot and candidate
  std::vector<std::vector<Figure>> figures;    // by slot and candidate

  [[nodiscard]] int slots() const { return static_cast<int>(decided.size()); }
};

/// The same question to both diagrams. Without the second, bikes with facts that are not known can
/// only be searched for.
struct Situations {
  Situation known;
  std::optional<Situation> possible;
};
/// `named` parts are offered in their slots though they may be discontinued. The problem must have a
/// diagram of known bikes.
[[nodiscard]] Situations situations_of(const Compiled& compiled, std::span<const Fixed> decided,
                                       std::span<const Fixed> named, const Arrivals* arrivals);

/// A sum over the whole bike in one view of the facts: what each candidate adds and allows.
struct HeldSum {
  static constexpr std::int64_t kNoLimit = std::int64_t{1} << 60;
  std::vector<std::vector<std::int64_t>> amount;  // by slot and candidate
  std::vector<std::vector<std::int64_t>> limit;   // by slot and candidate; kNoLimit for most
  std::int64_t limit_of_all = kNoLimit;
};

/// How a situation looks when only known facts, or all, may be relied on.
struct Outlook {
  std::vector<std::vector<char>> usable;  // by slot and candidate: offered, and no sum forbids it
  std::vector<HeldSum> sums;              // only those that some bike could break
};
[[nodiscard]] Outlook outlook_of(const Situation& situation, Facts facts);

}  // namespace rollwright::spec

#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "spec/bests.hpp"
#include "spec/compiled.hpp"
#include "spec/diagram.hpp"

namespace rollwright::spec {

/// What one part adds in its slot, in whole numbers that add up exactly.
struct Figure {
  /// Pieces whose mass is not known count as this much, so that fewer of them is always lighter.
  static constexpr std::int64_t kMassNotKnown = std::int64_t{1} << 44;
  static constexpr double kMassUnit = 1e-6;     // kg: whole milligrams
  static constexpr std::int32_t kNever = INT32_MAX - 1;

  std::int64_t price = 0;  // cents, times the pieces in the slot
  std::int64_t mass = 0;
  std::int32_t day = INT32_MIN;  // since 1970, on which it is here; kNever: cannot be had
};

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

/// `named` parts are offered in their slots though they may be discontinued.
[[nodiscard]] Situation situation_of(const Compiled& compiled, const Diagram& diagram,
                                     std::span<const Fixed> decided, std::span<const Fixed> named,
                                     const Arrivals* arrivals);

/// The same question to both diagrams. Without the second, bikes with facts that are not known can
/// only be searched for.
struct Situations {
  Situation known;
  std::optional<Situation> possible;
};
/// The problem must have a diagram of known bikes.
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

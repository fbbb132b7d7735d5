#pragma once

#include <string>
#include <vector>

#include "spec/choices.hpp"
#include "spec/trials/enumeration.hpp"

namespace rollwright::spec::testing {

/// What a comparison of two engines found.
struct Comparison {
  long long compared = 0;
  std::vector<std::string> mismatches;  // "price of s1p2: 1950, by enumeration 1925"

  void expect(bool agrees, const std::string& what);
  void add(const Comparison& other, const std::string& where);
};

/// Asks this room everything that it can be asked about the selection and compares each answer
/// with plain enumeration: statuses, the best price, mass and day of the selection and of every
/// part, what is set aside, complete bikes for every aim, trade-offs, counts, repairs and openings.
[[nodiscard]] Comparison compare_all(const Catalogue& catalogue, const Enumeration& all,
                                     const Problem& problem, const Selection& selection);

[[nodiscard]] Comparison compare_choices(const Catalogue& catalogue, const Enumeration& all,
                                         const Problem& problem, const Selection& selection);
[[nodiscard]] Comparison compare_completions(const Catalogue& catalogue, const Enumeration& all,
                                             const Problem& problem, const Selection& selection);
[[nodiscard]] Comparison compare_counts(const Enumeration& all, const Problem& problem,
                                        const Selection& selection);
[[nodiscard]] Comparison compare_repairs(const Catalogue& catalogue, const Enumeration& all,
                                         const Problem& problem, const Selection& selection);

/// The choices that a part of this slot is judged with, as choices.hpp states it.
[[nodiscard]] Selection judged_with(const Enumeration& all, const Selection& selection,
                                    const Choices& answer, const trade::SlotId& slot);

}  // namespace rollwright::spec::testing

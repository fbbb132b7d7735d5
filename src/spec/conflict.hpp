#pragma once

#include <functional>
#include <vector>

namespace rollwright::spec {

/// An irreducible subset of `members` that still clashes: without any one of its members it no
/// longer does. `clashes` must be monotone (more members clash no less) and hold for all of them.
/// Members that come earlier are kept by preference.
///
/// Method: QuickXplain (Junker, Preferred explanations and relaxations for over-constrained
/// problems, AAAI 2004; written from memory of the algorithm).
[[nodiscard]] std::vector<int> irreducible_conflict(
    const std::vector<int>& members, const std::function<bool(const std::vector<int>&)>& clashes);

}  // namespace rollwright::spec

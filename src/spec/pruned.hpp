#pragma once

#include "spec/situation.hpp"

namespace rollwright::spec {

/// The part of the situation's diagram that its answers can come from: below what is decided, and
/// beside it, as far as one decided slot may be left aside (see Sweep::around). The slots keep their
/// families; nodes, bundles and sets are fewer, and every sweep the shorter.
///
/// `level`: bundles whose verdict is worse are left out. The diagram must not be `nothing`.
[[nodiscard]] Diagram pruned(const Situation& situation, const Outlook& outlook, int level);

}  // namespace rollwright::spec

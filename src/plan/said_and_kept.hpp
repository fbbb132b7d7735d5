#pragma once

#include <vector>

namespace rollwright::plan {

/// A chance that was said, and whether it came so.
struct Said {
  double chance = 0;  // 0 to 1
  bool kept = false;
};

/// How many of some promises were kept, beside how many would be if the chances were true.
struct SaidAndKept {
  int promises = 0;
  int kept = 0;
  double expected = 0;  // sum of the chances
  /// Were all chances true, fewer than `least` would be kept in at most 5 of 100 such shops, and more
  /// than `most` in at most 5 of 100.
  int least = 0;
  int most = 0;
};

/// Method:   exact distribution of a sum of independent yes-or-no draws with chances of their own
///           (Poisson binomial), by adding one promise after the other.
/// Ignores:  that promises of one week share their luck: the range is then too narrow.
[[nodiscard]] SaidAndKept said_and_kept(const std::vector<Said>& promises);

}  // namespace rollwright::plan

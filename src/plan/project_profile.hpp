#pragma once

#include <cstdint>
#include <vector>

#include "plan/project.hpp"

namespace rollwright::plan {

/// What is still free of every resource in every time unit, packed so that one subtraction compares
/// all resources at once.
///
/// Method: a time unit is one 64-bit word (or several, when the capacities need more bits). Each
/// resource has a field just wide enough for its capacity, with a guard bit above it that is kept
/// at 1. Subtracting a demand borrows the guard bit exactly when the demand exceeds what is free.
///
/// Invariants: guard bits are set in every stored word; units from `used_` on are untouched.
/// Threads:    one per thread.
class ProjectProfile {
 public:
  explicit ProjectProfile(const Project& project);

  void clear();
  /// Puts the activity at the earliest time from `earliest` on at which everything it needs is
  /// free for its whole duration, and returns that time. `earliest` is 0 up to the sum of the
  /// durations of the activities placed since `clear`.
  int place(int activity, int earliest);

 private:
  int place_in_one_word(std::uint64_t demand, int duration, int earliest);
  int place_in_many_words(const std::uint64_t* demand, int duration, int earliest);

  struct Need {
    int duration = 0;
    bool any = false;  // false: holds nothing, so it may run at any time
  };
  std::size_t words_ = 1;             // per time unit
  std::vector<std::uint64_t> guard_;  // the guard bits, one word each
  std::vector<std::uint64_t> full_;   // everything free, guard bits set
  std::vector<std::uint64_t> demand_;
  std::vector<Need> needs_;
  std::vector<std::uint64_t> free_;
  std::size_t used_ = 0;  // time units that may differ from full_
};

}  // namespace rollwright::plan

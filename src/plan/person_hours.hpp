#pragma once

#include <vector>

#include "plan/workshop.hpp"

namespace rollwright::plan {

/// The hours of one person as a map between the wall clock and minutes at work, for laying tasks
/// out quickly: both ways are a binary search.
class PersonHours {
 public:
  /// `share` in (0, 1]: hands-on minutes per minute at work.
  PersonHours(const std::vector<Window>& hours, double share);

  /// Minutes of the person's hours that `hands_on` minutes of work take, at least 1.
  [[nodiscard]] int minutes_at_work(double hands_on) const;

  struct Stay {
    int start = -1;  // -1 when it does not fit before the end of the hours
    int end = -1;
  };
  /// Earliest stay of `minutes` at work from `from` on that keeps to `pause`.
  [[nodiscard]] Stay earliest(int from, int minutes, Pause pause) const;

  /// The stay cut at breaks and nights.
  [[nodiscard]] std::vector<Window> segments(const Stay& stay) const;

 private:
  [[nodiscard]] std::size_t window_after(int minute) const;

  std::vector<Window> hours_;
  std::vector<int> worked_before_;       // minutes at work before each window; one more at the end
  std::vector<std::size_t> last_of_day_;  // index of the last window of the same day
  double share_;
};

}  // namespace rollwright::plan

#pragma once

#include <vector>

#include "plan/workshop.hpp"

namespace rollwright::plan {

/// Taken spans of something there is one of: a bike on the wall clock, a person in minutes at work.
/// Spans that touch are one, so that a busy week is a handful of them.
class Taken {
 public:
  /// End of the first taken span that overlaps, or -1.
  [[nodiscard]] int clash(const Window& span) const;
  /// Start of the first free gap of at least `length`, no sooner than `from`.
  [[nodiscard]] int first_gap(int from, int length) const;
  void take(const Window& span);       // of what is free
  void give_back(const Window& span);  // of what is taken

 private:
  std::vector<Window> spans_;  // ascending, apart
};

/// The hours of one person as a map between the wall clock and minutes at work, for laying tasks
/// out quickly: a stay that runs over breaks and nights is one span of minutes at work.
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
  /// The same among what is already taken, in minutes at work.
  [[nodiscard]] Stay earliest(int from, int minutes, Pause pause, const Taken& taken) const;

  /// Minutes at work before `minute` of the wall clock.
  [[nodiscard]] int at_work_before(int minute) const;
  [[nodiscard]] Window at_work(const Stay& stay) const {
    return {at_work_before(stay.start), at_work_before(stay.end)};
  }

  /// The stay cut at breaks and nights.
  [[nodiscard]] std::vector<Window> segments(const Stay& stay) const;

 private:
  [[nodiscard]] std::size_t window_after(int minute) const;
  [[nodiscard]] std::size_t window_of(int minute_at_work) const;
  [[nodiscard]] std::size_t last_without(std::size_t window, Pause pause) const;

  std::vector<Window> hours_;
  std::vector<int> worked_before_;       // minutes at work before each window; one more at the end
  std::vector<std::size_t> last_of_day_;  // index of the last window of the same day
  std::vector<std::size_t> first_from_day_;  // per day: first window of that day or later
  std::vector<std::size_t> first_of_block_;  // per kBlock minutes at work: window of the first
  double share_;
};

}  // namespace rollwright::plan

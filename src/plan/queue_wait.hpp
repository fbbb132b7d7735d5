#pragma once

#include "base/result.hpp"

namespace rollwright::plan {

/// Long-run figures of a queue before some equal stands, where work comes and takes time at random.
struct QueueLength {
  double all_free = 0;   // share of the time in which nothing is at any stand
  double lost = 0;       // share that would be sent away if nobody could wait (Erlang B)
  double must_wait = 0;  // share that has to wait (Erlang C)
  double waiting = 0;    // mean number that waits
  double present = 0;    // mean number that waits or is worked on
};

/// `offered` is arrivals per time unit times mean minutes of work, in stands; below `stands`.
/// Method: Erlang's recursion. Source: A. Erlang 1917, any text on queues (from memory). Accuracy:
///         exact for exponential times. Errors: kOutOfRange for fewer than 1 or more than 10,000
///         stands, or for work that 1 or more of every stand's time would not do.
[[nodiscard]] Result<QueueLength> queue_length(int stands, double offered);

/// Mean wait in queues of any spread, in mean times of work. `use` is the share of the time that a
/// stand is busy, 0 up to 1; the squared coefficients of variation are of arrivals and of work.
/// Source: J. Kingman 1961; for several stands the form of W. Hopp and M. Spearman (from memory).
/// Accuracy: an approximation; exact for one stand and exponential times. Errors: kOutOfRange.
struct QueueSpread {
  int stands = 1;
  double use = 0;
  double arrivals_squared_cv = 1;
  double work_squared_cv = 1;
};
[[nodiscard]] Result<double> queue_wait(const QueueSpread& queue);

}  // namespace rollwright::plan

#include "plan/queue_wait.hpp"

#include <cmath>

namespace rollwright::plan {
namespace {

constexpr int kMostStands = 10'000;

Result<void> check_stands(int stands) {
  if (1 <= stands && stands <= kMostStands) return {};
  return refuse(Code::kOutOfRange, "There are 1 to 10,000 stands.",
                {.field = "stands", .value = std::to_string(stands)});
}

}  // namespace

Result<QueueLength> queue_length(int stands, double offered) {
  if (auto fits = check_stands(stands); !fits) return std::unexpected(fits.error());
  if (!(0 <= offered && offered < stands)) {
    return refuse(Code::kOutOfRange, "The work offered is 0 up to less than the stands can do.",
                  {.field = "offered", .value = std::to_string(offered)});
  }
  double lost = 1;
  double term = 1;
  double sum = 1;  // of offered^k / k! below `stands`
  for (int k = 1; k <= stands; ++k) {
    lost = offered * lost / (k + offered * lost);
    term *= offered / k;
    if (k < stands) sum += term;
  }
  const double use = offered / stands;
  QueueLength queue{.lost = lost};
  queue.must_wait = lost / (1 - use * (1 - lost));
  queue.all_free = 1 / (sum + term / (1 - use));
  queue.waiting = queue.must_wait * use / (1 - use);
  queue.present = queue.waiting + offered;
  return queue;
}

Result<double> queue_wait(const QueueSpread& queue) {
  if (auto fits = check_stands(queue.stands); !fits) return std::unexpected(fits.error());
  const auto is_spread = [](double cv) { return 0 <= cv && cv <= 1e6; };
  if (!(0 <= queue.use && queue.use < 1) || !is_spread(queue.arrivals_squared_cv) ||
      !is_spread(queue.work_squared_cv)) {
    return refuse(Code::kOutOfRange, "Use is 0 up to less than 1, a squared variation 0 to 1e6.");
  }
  const double spread = (queue.arrivals_squared_cv + queue.work_squared_cv) / 2;
  const double busy = std::pow(queue.use, std::sqrt(2.0 * (queue.stands + 1)) - 1);
  return spread * busy / (queue.stands * (1 - queue.use));
}

}  // namespace rollwright::plan

#include "plan/promise.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "base/index.hpp"
#include "plan/calendar.hpp"
#include "plan/critical_chain.hpp"
#include "plan/promise_dispatch.hpp"
#include "plan/promise_draw.hpp"

namespace rollwright::plan {
namespace {

/// Sums are whole numbers, so that adding them up in another order changes nothing.
struct HolderSum {
  std::int64_t minutes = 0;
  int draws = 0;
  int on_chain = 0;
};
using HolderSums = std::map<std::pair<HoldKind, std::uint64_t>, HolderSum>;

/// What one thread found in its share of the draws.
struct Share {
  std::vector<HolderSums> holders;  // per asked order
  std::int64_t placements = 0;
};

class Simulation {
 public:
  Simulation(const PlanInput& input, const std::vector<int>& orders, const PromiseOptions& options)
      : input_(input),
        orders_(orders),
        options_(options),
        source_(input, options.seed),
        open_(orders.size()),
        ready_(orders.size(), std::vector<int>(at(options.draws))) {
    for (std::size_t asked = 0; asked < orders.size(); ++asked) {
      for (std::size_t task = 0; task < input.tasks.size(); ++task) {
        if (input.tasks[task].order == orders[asked] && is_open(input, input.tasks[task])) {
          open_[asked].push_back(static_cast<int>(task));
        }
      }
    }
  }

  std::vector<Promise> run() {
    const int threads = std::min(options_.threads, options_.draws);
    std::vector<Share> shares(at(threads));
    {
      std::vector<std::jthread> crew;
      for (int thread = 0; thread < threads; ++thread) {
        const auto work = [this, thread, threads, &share = shares[at(thread)]] {
          draw_some(first_draw(thread, threads), first_draw(thread + 1, threads), share);
        };
        // The last share is for the thread we are on.
        if (thread + 1 < threads) {
          crew.emplace_back(work);
        } else {
          work();
        }
      }
    }
    std::vector<Promise> promises;
    for (std::size_t asked = 0; asked < orders_.size(); ++asked) {
      promises.push_back(promise_of(asked, shares));
    }
    return promises;
  }

 private:
  int first_draw(int thread, int threads) const {
    return static_cast<int>(static_cast<std::int64_t>(options_.draws) * thread / threads);
  }

  /// Writes only its own draws of ready_, so that threads do not meet.
  void draw_some(int from, int to, Share& share) {
    share.holders.resize(orders_.size());
    Dispatcher dispatcher(input_);
    Draw draw;
    std::vector<Ran> ran;
    std::vector<Hold> chain;
    for (int number = from; number < to; ++number) {
      source_.sample(number, draw);
      share.placements += dispatcher.run(source_, draw, orders_, ran);
      for (std::size_t asked = 0; asked < orders_.size(); ++asked) {
        ready_[asked][at(number)] = ready_minute(asked, ran);
        if (ready_[asked][at(number)] < 0) continue;
        critical_chain(input_, ran, open_[asked], chain);
        add_up(chain, share.holders[asked]);
      }
    }
  }

  int ready_minute(std::size_t asked, const std::vector<Ran>& ran) const {
    int ready = input_.now;
    for (const int task : open_[asked]) {
      if (ran[at(task)].start < 0) return -1;
      ready = std::max(ready, ran[at(task)].end + input_.tasks[at(task)].unattended);
    }
    return ready < input_.days * kMinutesPerDay ? ready : -1;
  }

  static void add_up(const std::vector<Hold>& chain, HolderSums& sums) {
    const auto most = std::ranges::max_element(chain, {}, &Hold::minutes);
    for (auto hold = chain.begin(); hold != chain.end(); ++hold) {
      HolderSum& sum = sums[{hold->kind, hold->key}];
      sum.minutes += hold->minutes;
      ++sum.on_chain;
      if (hold == most) ++sum.draws;
    }
  }

  Promise promise_of(std::size_t asked, const std::vector<Share>& shares) const {
    Promise promise{.order = orders_[asked], .ready_minutes = ready_[asked]};
    add_curve(promise);
    HolderSums total;
    for (const Share& share : shares) {
      promise.placements += share.placements;
      for (const auto& [what, sum] : share.holders[asked]) {
        total[what].minutes += sum.minutes;
        total[what].draws += sum.draws;
        total[what].on_chain += sum.on_chain;
      }
    }
    for (const auto& [what, sum] : total) {
      const double mean = static_cast<double>(sum.minutes) / options_.draws;
      promise.held_by.push_back(
          {.hold = {what.first, what.second, static_cast<int>(std::lround(mean))},
           .draws = sum.draws,
           .draws_on_chain = sum.on_chain});
    }
    std::ranges::stable_sort(promise.held_by, [](const Holder& a, const Holder& b) {
      return std::pair(-a.draws, -a.hold.minutes) < std::pair(-b.draws, -b.hold.minutes);
    });
    return promise;
  }

  void add_curve(Promise& promise) const {
    std::map<int, int> ready_on;  // day of the horizon, draws
    for (const int minute : promise.ready_minutes) {
      if (minute < 0) {
        ++promise.past_horizon;
      } else {
        ++ready_on[minute / kMinutesPerDay];
      }
    }
    int so_far = 0;
    for (const auto& [index, draws] : ready_on) {
      so_far += draws;
      const Day day = input_.first_day + std::chrono::days(index);
      promise.curve.push_back({day, static_cast<double>(so_far) / options_.draws});
    }
    set_days(promise);
  }

  const PlanInput& input_;
  const std::vector<int>& orders_;
  PromiseOptions options_;
  DrawSource source_;
  std::vector<std::vector<int>> open_;   // per asked order: its open tasks
  std::vector<std::vector<int>> ready_;  // per asked order and draw: minute or -1
};

Result<void> check_asked(const PlanInput& input, const std::vector<int>& orders) {
  for (const int order : orders) {
    if (!(0 <= order && at(order) < input.orders.size())) {
      return refuse(Code::kNotFound, "there is no such order in the workshop",
                    {.field = "order", .value = fmt::to_string(order)});
    }
    const Order& asked = input.orders[at(order)];
    if (!asked.released) {
      return refuse(Code::kRefused,
                    fmt::format("order {} is not released, so nobody will work on it", asked.id));
    }
    const bool anything = std::ranges::any_of(input.tasks, [&](const Task& task) {
      return task.order == order && is_open(input, task);
    });
    if (!anything) {
      return refuse(Code::kRefused, fmt::format("order {} has no work left to promise", asked.id));
    }
  }
  return {};
}

Result<void> check_options(const PromiseOptions& options) {
  if (!(1 <= options.draws && options.draws <= 1'000'000)) {
    return refuse(Code::kOutOfRange, "draws are 1 to 1000000",
                  {.field = "draws", .value = fmt::to_string(options.draws)});
  }
  if (!(1 <= options.threads && options.threads <= 64)) {
    return refuse(Code::kOutOfRange, "threads are 1 to 64",
                  {.field = "threads", .value = fmt::to_string(options.threads)});
  }
  return {};
}

std::optional<int> days_between(const std::optional<Day>& as_is, const std::optional<Day>& other) {
  if (!as_is || !other) return {};
  return static_cast<int>((*as_is - *other).count());
}

}  // namespace

Result<std::vector<Promise>> promises(const PlanInput& input, const std::vector<int>& orders,
                                      const PromiseOptions& options) {
  if (const auto checked = check_options(options); !checked) {
    return std::unexpected(checked.error());
  }
  Problems problems = problems_of(input);
  if (!problems.empty()) return std::unexpected(std::move(problems.front()));
  if (const auto checked = check_asked(input, orders); !checked) {
    return std::unexpected(checked.error());
  }
  if (orders.empty()) return std::vector<Promise>{};
  return Simulation(input, orders, options).run();
}

Result<Promise> promise(const PlanInput& input, int order, const PromiseOptions& options) {
  auto found = promises(input, {order}, options);
  if (!found) return std::unexpected(found.error());
  return std::move(found->front());
}

Result<Gain> gain(const Promise& as_is, const Promise& alternative) {
  if (as_is.ready_minutes.size() != alternative.ready_minutes.size() ||
      as_is.ready_minutes.empty()) {
    return refuse(Code::kContradiction,
                  "two promises are compared draw by draw, so both need the same number of draws");
  }
  Gain gain{.days_50 = days_between(as_is.day_50, alternative.day_50),
            .days_80 = days_between(as_is.day_80, alternative.day_80),
            .days_90 = days_between(as_is.day_90, alternative.day_90),
            .days_95 = days_between(as_is.day_95, alternative.day_95)};
  std::int64_t days = 0;
  int both = 0;
  int sooner = 0;
  int later = 0;
  for (std::size_t draw = 0; draw < as_is.ready_minutes.size(); ++draw) {
    const auto day = [](int minute) { return minute < 0 ? kNever : minute / kMinutesPerDay; };
    const int before = day(as_is.ready_minutes[draw]);
    const int after = day(alternative.ready_minutes[draw]);
    if (after < before) ++sooner;
    if (after > before) ++later;
    if (before == kNever || after == kNever) continue;
    days += before - after;
    ++both;
  }
  const auto draws = static_cast<double>(as_is.ready_minutes.size());
  gain.mean_days = both > 0 ? static_cast<double>(days) / both : 0;
  gain.share_sooner = sooner / draws;
  gain.share_later = later / draws;
  return gain;
}

double chance_by(const Promise& promise, Day day) {
  const auto after = std::ranges::upper_bound(promise.curve, day, {}, &CurvePoint::day);
  return after == promise.curve.begin() ? 0 : std::prev(after)->probability;
}

void set_days(Promise& promise) {
  promise.day_50 = day_with(promise, 0.50);
  promise.day_80 = day_with(promise, 0.80);
  promise.day_90 = day_with(promise, 0.90);
  promise.day_95 = day_with(promise, 0.95);
}

std::optional<Day> day_with(const Promise& promise, double chance) {
  constexpr double kLastPlace = 1e-9;  // 0.9 of 1000 draws is 900 of them, whatever 0.9 is in binary
  for (const CurvePoint& point : promise.curve) {
    if (point.probability >= chance - kLastPlace) return point.day;
  }
  return {};
}

}  // namespace rollwright::plan

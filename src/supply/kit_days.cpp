#include "supply/kit_days.hpp"

#include <algorithm>
#include <cmath>

#include "base/result.hpp"

namespace rollwright::supply {
namespace {

constexpr double kHopeless = 1e6;  // days that a unit of log chance may cost before one gives up
constexpr double kEnough = 1e-9;  // a chance of being late below this ends a sum over days
constexpr double kNoGain = 1e-9;
constexpr double kNearly = 0.998;  // of the chance that ordering all today gives
constexpr double kNever = 1e-9;  // a chance below this counts as this, so that logarithms end

double at_day(const std::vector<double>& by, int day) {
  if (day < 0) return 0;
  const auto last = static_cast<int>(by.size()) - 1;
  return by[static_cast<std::size_t>(std::min(day, last))];
}

/// The days of one kit, changed one part at a time.
class Search {
 public:
  explicit Search(const KitQuestion& question) : question_(question) {
    const std::size_t count = question.parts.size();
    wait_.assign(count, 0);
    kept_ = wait_;
    all_cost_ = question.in_hand;
    for (std::size_t i = 0; i < count; ++i) {
      const KitPart& part = question.parts[i];
      all_cost_ += part.cost;
      reach_ = std::max(reach_, static_cast<int>(part.by->size()));
      if (part.to_buy) to_buy_.push_back(i);
    }
    reach_ += std::max(question.until, 0) + 1;
    most_ = std::max(question.until, 0);
    others_.resize(static_cast<std::size_t>(reach_));
  }

  KitDays best() {
    wanted_ = std::min(question_.confidence, kNearly * complete());
    settle(0);
    if (complete() < wanted_) {
      double low = 0;
      double high = std::max(all_cost_, 1.0);
      while (settle(high), complete() < wanted_ && high < kHopeless * all_cost_) high *= 8;
      kept_ = wait_;
      constexpr int kHalvings = 14;
      for (int halving = 0; halving < kHalvings; ++halving) {
        const double middle = (low + high) / 2;
        settle(middle);
        if (complete() < wanted_) {
          low = middle;
        } else {
          high = middle;
          kept_ = wait_;
        }
      }
      wait_ = kept_;
    }
    use_the_rest();
    return {.wait = wait_, .complete = complete(), .shelf_days = shelf_days()};
  }

 private:
  double there(std::size_t part, int day) const {
    return at_day(*question_.parts[part].by, day - wait_[part]);
  }

  double complete() const {
    double all = 1;
    for (std::size_t part = 0; part < wait_.size(); ++part) all *= there(part, question_.until);
    return all;
  }

  /// Mean day of the last part.
  double last_day() const {
    double sum = 0;
    for (int day = 0; day < reach_; ++day) {
      double all = 1;
      for (std::size_t part = 0; part < wait_.size() && all > 0; ++part) all *= there(part, day);
      if (1 - all < kEnough) break;
      sum += 1 - all;
    }
    return sum;
  }

  double mean_day(std::size_t part) const {
    double sum = 0;
    for (int day = 0; day < reach_; ++day) sum += 1 - there(part, day);
    return sum;
  }

  double shelf_days() const {
    double cost = all_cost_ * last_day();
    for (std::size_t part = 0; part < wait_.size(); ++part) {
      cost -= question_.parts[part].cost * mean_day(part);
    }
    return cost;
  }

  double late(std::size_t part, int wait, double multiplier) const {
    const double chance = at_day(*question_.parts[part].by, question_.until - wait);
    return -multiplier * std::log(std::max(chance, kNever));
  }

  /// Chances by day that all parts from one on are here, for each but the first.
  void multiply_from_the_end() {
    const std::size_t count = wait_.size();
    after_.resize(count);
    std::vector<double> product(static_cast<std::size_t>(reach_), 1.0);
    for (std::size_t part = count; part-- > 0;) {
      after_[part] = product;
      multiply(product, part);
    }
  }

  void multiply(std::vector<double>& product, std::size_t part) const {
    const std::vector<double>& by = *question_.parts[part].by;
    const auto last = static_cast<int>(by.size()) - 1;
    const int wait = wait_[part];
    std::fill_n(product.begin(), std::min(wait, reach_), 0.0);
    for (int day = wait; day < reach_; ++day) {
      product[static_cast<std::size_t>(day)] *=
          by[static_cast<std::size_t>(std::min(day - wait, last))];
    }
  }

  double cost_of_one(std::size_t part, int wait, double multiplier) const {
    const std::vector<double>& by = *question_.parts[part].by;
    double last = 0;
    for (int day = 0; day < reach_; ++day) {
      const double left = 1 - others_[static_cast<std::size_t>(day)] * at_day(by, day - wait);
      last += left;
      if (left < kEnough) break;
    }
    return all_cost_ * last - (1 + question_.paid_later) * question_.parts[part].cost * wait +
           late(part, wait, multiplier);
  }

  double cost_of_all(int later, double multiplier) {
    for (const std::size_t part : to_buy_) wait_[part] += later;
    double cost = all_cost_ * last_day();
    for (const std::size_t part : to_buy_) {
      cost += late(part, wait_[part], multiplier) -
              (1 + question_.paid_later) * question_.parts[part].cost * wait_[part];
    }
    for (const std::size_t part : to_buy_) wait_[part] -= later;
    return cost;
  }

  /// Walks down a convex function of whole numbers from 0 within [least, most]; where it ends.
  template <typename Cost>
  static int downhill(int least, int most, const Cost& cost) {
    int here = 0;
    double best = cost(0);
    for (const int way : {-1, 1}) {
      int step = 1;
      while (step > 0) {
        const int next = here + way * step;
        const bool is_inside = least <= next && next <= most;
        const double then = is_inside ? cost(next) : best;
        if (then < best - kNoGain) {
          best = then;
          here = next;
          step *= 2;
        } else {
          step /= 2;
        }
      }
      if (here != 0) break;  // on the other side it rises
    }
    return here;
  }

  bool move_one(std::size_t part, double multiplier) {
    const int was = wait_[part];
    const int moved = downhill(-was, most_ - was, [&](int later) {
      return cost_of_one(part, was + later, multiplier);
    });
    wait_[part] = was + moved;
    return moved != 0;
  }

  bool move_each(double multiplier) {
    bool moved = false;
    multiply_from_the_end();
    std::vector<double> before(static_cast<std::size_t>(reach_), 1.0);
    for (std::size_t part = 0; part < wait_.size(); ++part) {
      if (question_.parts[part].to_buy) {
        for (std::size_t day = 0; day < before.size(); ++day) {
          others_[day] = before[day] * after_[part][day];
        }
        moved = move_one(part, multiplier) || moved;
      }
      multiply(before, part);
    }
    return moved;
  }

  bool move_all(double multiplier) {
    int least = -most_;
    int most = most_;
    for (const std::size_t part : to_buy_) {
      least = std::max(least, -wait_[part]);
      most = std::min(most, most_ - wait_[part]);
    }
    const int moved = downhill(least, most, [&](int later) {
      return cost_of_all(later, multiplier);
    });
    for (const std::size_t part : to_buy_) wait_[part] += moved;
    return moved != 0;
  }

  double cost_now() {
    return cost_of_all(0, 0);
  }

  /// Whole days leave some of the confidence over: what still gains is moved, alone or against
  /// another.
  void use_the_rest() {
    double best = cost_now();
    const auto try_it = [&](std::size_t part, int later, std::size_t other, int sooner) {
      const std::vector<int> was = wait_;
      wait_[part] += later;
      wait_[other] -= sooner;
      const bool is_allowed = wait_[part] >= 0 && wait_[part] <= most_ && wait_[other] >= 0 &&
                              wait_[other] <= most_ && complete() >= wanted_;
      const double cost = is_allowed ? cost_now() : best;
      if (cost < best - kNoGain) {
        best = cost;
        return true;
      }
      wait_ = was;
      return false;
    };
    constexpr int kRounds = 20;
    bool gained = true;
    for (int round = 0; gained && round < kRounds; ++round) {
      gained = false;
      for (const std::size_t part : to_buy_) {
        for (const int later : {1, -1, 2}) gained = try_it(part, later, part, 0) || gained;
        for (const std::size_t other : to_buy_) {
          if (other == part) continue;
          for (const int sooner : {1, 2, 3, -1}) gained = try_it(part, 1, other, sooner) || gained;
          gained = try_it(part, -1, other, 1) || gained;
        }
      }
    }
  }

  void settle(double multiplier) {
    constexpr int kRounds = 30;
    wait_ = kept_;
    for (int round = 0; round < kRounds; ++round) {
      const bool together = move_all(multiplier);
      const bool apart = move_each(multiplier);
      if (!together && !apart) break;
    }
  }

  const KitQuestion& question_;
  std::vector<int> wait_;
  std::vector<int> kept_;  // what keeps the confidence, else all at once: steps begin there
  std::vector<std::size_t> to_buy_;
  std::vector<double> others_;              // chance by day that all parts but one are here
  std::vector<std::vector<double>> after_;  // by part: that those behind it are
  double all_cost_ = 0;
  double wanted_ = 0;  // the confidence, or nearly what ordering all today gives
  int reach_ = 1;
  int most_ = 0;
};

}  // namespace

KitDays kit_days(const KitQuestion& question) {
  ROLLWRIGHT_PROMISE(0 < question.confidence && question.confidence < 1);
  for (const KitPart& part : question.parts) {
    ROLLWRIGHT_PROMISE(part.by != nullptr && !part.by->empty() && part.cost >= 0);
  }
  return Search(question).best();
}

}  // namespace rollwright::supply

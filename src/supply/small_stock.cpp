#include "supply/small_stock.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace rollwright::supply {
namespace {

constexpr double kCutOff = 1e-9;
constexpr int kMostDemand = 100000;  // pieces in a lead time; more is not small stock

Result<void> in_range(const char* what, double value, double least, double most) {
  if (least <= value && value <= most) return {};
  return refuse(Code::kOutOfRange,
                fmt::format("{} lies between {} and {}, not {}", what, least, most, value));
}

Result<void> checked(const SmallStock& stock) {
  const Result<void> checks[] = {
      in_range("the number of occasions per day", stock.occasions_per_day, 0.001, 20),
      in_range("the number of sizes of an occasion",
               static_cast<double>(stock.pieces.size()), 1, 200),
      in_range("the cost of an order", stock.order_cost, 0, 1e6),
      in_range("the cost of holding a piece for a day", stock.holding_per_day, 1e-9, 1e6),
      in_range("the cost of lacking a piece for a day", stock.lacking_per_day,
               stock.holding_per_day, 1e9)};
  for (const Result<void>& check : checks) {
    if (!check) return check;
  }
  double sum = 0;
  for (const double p : stock.pieces) {
    if (Result<void> ok = in_range("the chance of a number of pieces", p, 0, 1); !ok) return ok;
    sum += p;
  }
  if (!(std::abs(sum - 1) <= 1e-6)) {
    return refuse(Code::kContradiction,
                  fmt::format("the chances of the numbers of pieces sum to 1, not {}", sum));
  }
  if (!(within(stock.lead, kOddsDays) > 0.99)) {
    return refuse(Code::kOutOfRange, "a delivery comes within two years in 99 cases of 100");
  }
  return {};
}

/// Law of the pieces taken in `days`: Panjer's recursion for a compound Poisson sum.
std::vector<double> demand_in(const SmallStock& stock, double days, std::size_t reach) {
  std::vector<double> law(reach + 1, 0);
  const double occasions = stock.occasions_per_day * days;
  law[0] = std::exp(-occasions);
  for (std::size_t n = 1; n <= reach; ++n) {
    const std::size_t most = std::min(n, stock.pieces.size());
    for (std::size_t i = 1; i <= most; ++i) {
      law[n] += static_cast<double>(i) * stock.pieces[i - 1] * law[n - i];
    }
    law[n] *= occasions / static_cast<double>(n);
  }
  return law;
}

/// Everything that does not depend on the levels.
class Engine {
 public:
  explicit Engine(const SmallStock& stock) : stock_(stock) {
    mean_pieces_ = 0;
    for (std::size_t i = 0; i < stock.pieces.size(); ++i) {
      mean_pieces_ += static_cast<double>(i + 1) * stock.pieces[i];
    }
    learn_demand();
  }

  /// Mean pieces short and on the shelf a lead time after the position was `y`.
  struct Shelf {
    double on_shelf = 0;
    double lacking = 0;
    double some = 0;  // probability of at least one piece
  };
  Shelf shelf(int y) const {
    Shelf result;
    for (std::size_t n = 0; n < demand_.size(); ++n) {
      const int left = y - static_cast<int>(n);
      if (left > 0) {
        result.on_shelf += left * demand_[n];
        result.some += demand_[n];
      }
    }
    result.lacking = result.on_shelf - (y - mean_demand_);
    return result;
  }

  double cost(int y) {
    const auto known = costs_.find(y);
    if (known != costs_.end()) return known->second;
    const Shelf at = shelf(y);
    return costs_[y] = stock_.holding_per_day * at.on_shelf + stock_.lacking_per_day * at.lacking;
  }

  /// Expected visits of the sums of pieces to j.
  double visits(int j) {
    while (static_cast<int>(visits_.size()) <= j) {
      const std::size_t n = visits_.size();
      double sum = n == 0 ? 1 : 0;
      for (std::size_t i = 1; i <= std::min(n, stock_.pieces.size()); ++i) {
        sum += stock_.pieces[i - 1] * visits_[n - i];
      }
      visits_.push_back(sum);
    }
    return visits_[static_cast<std::size_t>(j)];
  }

  double cost_of(const StockLevels& levels) {
    double sum = stock_.order_cost * stock_.occasions_per_day;
    double all = 0;
    for (int j = 0; j < levels.up_to - levels.at; ++j) {
      sum += visits(j) * cost(levels.up_to - j);
      all += visits(j);
    }
    return sum / all;
  }

  double mean_demand() const { return mean_demand_; }

  /// Chance that a lead time takes more pieces than these.
  double more_than(int pieces) const {
    double sum = 0;
    for (std::size_t n = 0; n < demand_.size(); ++n) {
      if (static_cast<int>(n) > pieces) sum += demand_[n];
    }
    return std::min(1.0, sum);
  }

 private:
  void learn_demand() {
    double days = 0;
    for (std::size_t k = 1; k < stock_.lead.by.size(); ++k) {
      days = std::max(days, stock_.lead.by[k] > stock_.lead.by[k - 1] ? static_cast<double>(k) : 0);
    }
    // Mean and eight standard deviations of the longest lead time, and the largest occasion.
    const double occasions = stock_.occasions_per_day * days;
    const auto most = static_cast<double>(stock_.pieces.size());
    const double reach = occasions * mean_pieces_ + 8 * std::sqrt(occasions) * most + 8 * most;
    const auto size = static_cast<std::size_t>(std::min(reach, static_cast<double>(kMostDemand)));
    demand_.assign(size + 1, 0);
    double left = 1;
    for (std::size_t k = 0; k < stock_.lead.by.size() && left > kCutOff; ++k) {
      const double p = stock_.lead.by[k] - (k == 0 ? 0 : stock_.lead.by[k - 1]);
      if (p <= 0) continue;
      add(demand_in(stock_, static_cast<double>(k), size), p);
      left -= p;
    }
    double sum = 0;
    for (const double p : demand_) sum += p;
    for (double& p : demand_) p /= sum;
    while (demand_.size() > 1 && demand_.back() < kCutOff / 100) demand_.pop_back();
    for (std::size_t n = 0; n < demand_.size(); ++n) {
      mean_demand_ += static_cast<double>(n) * demand_[n];
    }
  }
  void add(const std::vector<double>& law, double share) {
    for (std::size_t n = 0; n < law.size(); ++n) demand_[n] += share * law[n];
  }

  const SmallStock& stock_;
  double mean_pieces_ = 1;
  double mean_demand_ = 0;
  std::vector<double> demand_;
  std::vector<double> visits_;
  std::map<int, double> costs_;
};

/// Position with the least cost when nothing were to pay for an order.
int lowest(Engine& engine) {
  int y = static_cast<int>(engine.mean_demand());
  while (engine.cost(y + 1) < engine.cost(y)) ++y;
  while (engine.cost(y - 1) <= engine.cost(y)) --y;
  return y;
}

}  // namespace

Result<double> chance_lacking(const SmallStock& stock, int on_shelf, const DayOdds& until) {
  SmallStock meanwhile = stock;
  meanwhile.lead = until;
  if (Result<void> ok = checked(meanwhile); !ok) return std::unexpected(ok.error());
  return Engine(meanwhile).more_than(on_shelf);
}

Result<StockCourse> course_of(const SmallStock& stock, const StockLevels& levels) {
  if (Result<void> ok = checked(stock); !ok) return std::unexpected(ok.error());
  if (levels.up_to <= levels.at) {
    return refuse(Code::kContradiction, "the level to order up to lies above the one to order at");
  }
  Engine engine(stock);
  StockCourse course{.cost_per_day = engine.cost_of(levels)};
  double all = 0;
  for (int j = 0; j < levels.up_to - levels.at; ++j) {
    const auto shelf = engine.shelf(levels.up_to - j);
    const double weight = engine.visits(j);
    course.on_shelf += weight * shelf.on_shelf;
    course.lacking += weight * shelf.lacking;
    course.at_hand += weight * shelf.some;
    all += weight;
  }
  course.on_shelf /= all;
  course.lacking /= all;
  course.at_hand /= all;
  course.orders_per_day = stock.occasions_per_day / all;
  return course;
}

Result<StockLevels> best_levels(const SmallStock& stock) {
  if (Result<void> ok = checked(stock); !ok) return std::unexpected(ok.error());
  Engine engine(stock);
  // Y.-S. Zheng and A. Federgruen 1991: from the best s for one S, walk S up and keep improving.
  const int y = lowest(engine);
  StockLevels best{.at = y - 1, .up_to = y};
  while (engine.cost_of(best) > engine.cost(best.at)) --best.at;
  double least = engine.cost_of(best);
  for (int up_to = y + 1; engine.cost(up_to) <= least; ++up_to) {
    if (engine.cost_of({best.at, up_to}) >= least) continue;
    best.up_to = up_to;
    while (engine.cost_of(best) <= engine.cost(best.at + 1)) ++best.at;
    least = engine.cost_of(best);
  }
  return best;
}

}  // namespace rollwright::supply

#include "mech/wheelset_stock.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kClosestMm = 0.1;
// The usual drawer. [spoke-stock]
constexpr int kDrawerLeastMm = 180;
constexpr int kDrawerMostMm = 310;
constexpr int kDrawerStepMm = 2;

using Taken = std::vector<StockLength>;

/// What is compared of two ways to lay out spokes, most important first.
struct Cost {
  std::size_t different = 0;
  double off_mm = 0;
  double sum_mm = 0;
};

Cost cost_of(const Taken& taken) {
  Cost cost;
  std::set<Length> lengths;
  for (const StockLength& one : taken) {
    lengths.insert(one.length);
    cost.off_mm += std::abs(one.difference.in(mm));
    cost.sum_mm += one.length.in(mm);
  }
  cost.different = lengths.size();
  return cost;
}

/// A hair must not decide between sums of decimals.
bool is_better(const Cost& a, const Cost& b) {
  const auto rounded_off = [](const Cost& cost) {
    return std::tuple(cost.different, std::llround(cost.off_mm * 1e6), cost.sum_mm);
  };
  return rounded_off(a) < rounded_off(b);
}

/// Tries every fitting length for the flanks from `taken.size()` on.
void enumerate(const std::vector<Taken>& fitting, Taken& taken, std::optional<Taken>& best) {
  if (taken.size() == fitting.size()) {
    if (!best || is_better(cost_of(taken), cost_of(*best))) best = taken;
    return;
  }
  for (const StockLength& one : fitting[taken.size()]) {
    taken.push_back(one);
    enumerate(fitting, taken, best);
    taken.pop_back();
  }
}

std::optional<Error> stock_problem(std::size_t flanks, const std::vector<Length>& sorted) {
  double closest = kClosestMm;
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    closest = std::min(closest, (sorted[i] - sorted[i - 1]).in(mm));
  }
  constexpr double kHair = 1e-9;
  return first_outside(
      {{"flanks of the wheelset", static_cast<double>(flanks), 1, 4, ""},
       {"count of stock lengths", static_cast<double>(sorted.size()), 0, 400, ""},
       {"distance of two stock lengths", closest, kClosestMm - kHair, 1e9, "mm"}});
}

}  // namespace

Result<WheelsetStock> wheelset_stock(const std::vector<Length>& computed,
                                     const std::vector<Length>& stock) {
  std::vector<Length> sorted = stock;
  std::ranges::sort(sorted);
  const auto twins = std::ranges::unique(sorted);
  sorted.erase(twins.begin(), twins.end());
  if (auto error = stock_problem(computed.size(), sorted)) return std::unexpected(*error);
  std::vector<Taken> fitting;
  for (const Length length : computed) {
    // Says why when nothing fits.
    if (const auto any = stock_length(length, sorted); !any) return std::unexpected(any.error());
    Taken one;
    for (const Length candidate : sorted) {
      if (const auto fits = stock_length(length, {candidate})) one.push_back(*fits);
    }
    fitting.push_back(std::move(one));
  }
  Taken taken;
  std::optional<Taken> best;
  enumerate(fitting, taken, best);
  return WheelsetStock{*best, static_cast<int>(cost_of(*best).different)};
}

std::vector<Length> usual_drawer() {
  std::vector<Length> drawer;
  for (int length = kDrawerLeastMm; length <= kDrawerMostMm; length += kDrawerStepMm) {
    drawer.push_back(length * mm);
  }
  return drawer;
}

}  // namespace rollwright::mech

#include "plan/lot_size.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rollwright::plan {
namespace {

constexpr std::size_t kMostPeriods = 1'000;

Result<void> check_series(const LotSeries& series) {
  if (series.demand.size() != series.order_cost.size()) {
    return refuse(Code::kBadInput, "Every period has a demand and a cost of ordering.",
                  {.field = "order cost", .value = std::to_string(series.order_cost.size())});
  }
  if (series.demand.size() > kMostPeriods) {
    return refuse(Code::kOutOfRange, "A series has at most 1,000 periods.");
  }
  const auto is_fine = [](double number) { return 0 <= number && number <= 1e12; };
  if (is_fine(series.keep_cost) &&
      std::all_of(series.demand.begin(), series.demand.end(), is_fine) &&
      std::all_of(series.order_cost.begin(), series.order_cost.end(), is_fine)) {
    return {};
  }
  return refuse(Code::kOutOfRange, "Demands and costs are 0 to 1e12.");
}

/// Cost of keeping what a lot of `first` holds for the periods up to and without `end`.
double keeping(const LotSeries& series, std::size_t first, std::size_t end) {
  double cost = 0;
  for (std::size_t t = first; t < end; ++t) {
    cost += series.keep_cost * static_cast<double>(t - first) * series.demand[t];
  }
  return cost;
}

void add_lot(const LotSeries& series, std::size_t first, std::size_t end, LotPlan& plan) {
  double pieces = 0;
  for (std::size_t t = first; t < end; ++t) pieces += series.demand[t];
  if (pieces == 0) return;
  plan.lots.push_back({static_cast<int>(first), pieces});
  plan.cost += series.order_cost[first] + keeping(series, first, end);
}

/// End of the lot that begins at `first`: the first period that it no longer covers.
std::size_t reach_of(const LotSeries& series, std::size_t first, LotRule rule) {
  const std::size_t last = series.demand.size();
  if (rule == LotRule::kEachPeriod) return first + 1;
  double before = std::numeric_limits<double>::infinity();
  double pieces = 0;
  for (std::size_t end = first + 1; end <= last; ++end) {
    pieces += series.demand[end - 1];
    const double kept = keeping(series, first, end);
    double measure = std::abs(kept - series.order_cost[first]);
    if (rule == LotRule::kCostPerPeriod) {
      measure = (series.order_cost[first] + kept) / static_cast<double>(end - first);
    }
    if (rule == LotRule::kCostPerPiece) measure = (series.order_cost[first] + kept) / pieces;
    if (measure > before) return end - 1;
    before = measure;
    if (rule == LotRule::kBalance && kept > series.order_cost[first]) return end;
  }
  return last;
}

}  // namespace

Result<LotPlan> cheapest_lots(const LotSeries& series) {
  if (auto fits = check_series(series); !fits) return std::unexpected(fits.error());
  const std::size_t periods = series.demand.size();
  std::vector<double> least(periods + 1, std::numeric_limits<double>::infinity());
  std::vector<std::size_t> begins(periods + 1, 0);
  least[0] = 0;
  for (std::size_t first = 0; first < periods; ++first) {
    double kept = 0;
    double pieces = 0;
    for (std::size_t end = first + 1; end <= periods; ++end) {
      kept += series.keep_cost * static_cast<double>(end - 1 - first) * series.demand[end - 1];
      pieces += series.demand[end - 1];
      const double cost = least[first] + (pieces > 0 ? series.order_cost[first] + kept : 0);
      if (cost >= least[end]) continue;
      least[end] = cost;
      begins[end] = first;
    }
  }
  std::vector<std::size_t> ends;
  for (std::size_t end = periods; end > 0; end = begins[end]) ends.push_back(end);
  LotPlan plan;
  for (auto end = ends.rbegin(); end != ends.rend(); ++end) {
    add_lot(series, begins[*end], *end, plan);
  }
  return plan;
}

Result<LotPlan> lots_by_rule(const LotSeries& series, LotRule rule) {
  if (auto fits = check_series(series); !fits) return std::unexpected(fits.error());
  LotPlan plan;
  for (std::size_t first = 0; first < series.demand.size();) {
    if (series.demand[first] == 0) {
      ++first;
      continue;
    }
    const std::size_t end = reach_of(series, first, rule);
    add_lot(series, first, end, plan);
    first = end;
  }
  return plan;
}

}  // namespace rollwright::plan

#include "plan/stock_level.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace rollwright::plan {
namespace {

constexpr int kMostTurns = 200;
constexpr double kSettled = 1e-10;
constexpr int kMostPieces = 1'000'000;

double density(double z) { return std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi); }
double below(double z) { return std::erfc(-z / std::numbers::sqrt2) / 2; }

/// Where a rising function of z reaches a value.
template <class Function>
double where(Function rising, double value) {
  double low = -40;
  double high = 40;
  for (int turn = 0; turn < kMostTurns && high - low > 1e-13; ++turn) {
    const double middle = (low + high) / 2;
    (rising(middle) < value ? low : high) = middle;
  }
  return (low + high) / 2;
}

bool is_above_zero(double number) { return 0 < number && number <= 1e15; }

Error bad_costs() {
  return {Code::kOutOfRange,
          "Demand and costs are above 0, and being short costs more than keeping."};
}

double missing_per_order(const NormalDemand& demand, double level) {
  return demand.sd * normal_loss((level - demand.mean) / demand.sd);
}

}  // namespace

double normal_loss(double z) { return density(z) - z * below(-z); }
double normal_level(double chance) { return where(below, chance); }
double normal_level_of_loss(double loss) {
  return where([](double z) { return -normal_loss(z); }, -loss);
}

NormalDemand demand_under_way(const NormalDemand& per_day, double days, double days_sd) {
  const double spread = days * per_day.sd * per_day.sd;
  const double lateness = per_day.mean * per_day.mean * days_sd * days_sd;
  return {per_day.mean * days, std::sqrt(spread + lateness)};
}

Result<double> buy_once(const NormalDemand& demand, double short_cost, double over_cost) {
  if (!is_above_zero(short_cost) || !is_above_zero(over_cost) || !is_above_zero(demand.sd)) {
    return std::unexpected(bad_costs());
  }
  return demand.mean + demand.sd * normal_level(short_cost / (short_cost + over_cost));
}

Result<double> usual_quantity(const StockCosts& costs) {
  if (!is_above_zero(costs.demand_per_year) || !is_above_zero(costs.order_cost) ||
      !is_above_zero(costs.keep_cost)) {
    return std::unexpected(bad_costs());
  }
  return std::sqrt(2 * costs.demand_per_year * costs.order_cost / costs.keep_cost);
}

Result<std::vector<OrderLevel>> order_levels(const NormalDemand& under_way,
                                             const StockCosts& costs) {
  const Result<double> usual = usual_quantity(costs);
  if (!usual) return std::unexpected(usual.error());
  if (!is_above_zero(costs.short_cost) || !is_above_zero(under_way.sd)) {
    return std::unexpected(bad_costs());
  }
  std::vector<OrderLevel> steps;
  double quantity = *usual;
  for (int turn = 0; turn < kMostTurns; ++turn) {
    const double risk = quantity * costs.keep_cost / (costs.short_cost * costs.demand_per_year);
    if (!(risk < 1)) return std::unexpected(bad_costs());
    const double level = under_way.mean + under_way.sd * normal_level(1 - risk);
    const bool settled = !steps.empty() && std::abs(steps.back().quantity - quantity) < kSettled;
    steps.push_back({quantity, level});
    if (settled) break;
    const double per_order =
        costs.order_cost + costs.short_cost * missing_per_order(under_way, level);
    quantity = std::sqrt(2 * costs.demand_per_year * per_order / costs.keep_cost);
  }
  return steps;
}

double year_cost(const NormalDemand& under_way, const StockCosts& costs, const OrderLevel& order) {
  const double kept = order.quantity / 2 + order.level - under_way.mean;
  const double per_order =
      costs.order_cost + costs.short_cost * missing_per_order(under_way, order.level);
  return costs.keep_cost * kept + per_order * costs.demand_per_year / order.quantity;
}

Result<double> level_for_share(const NormalDemand& under_way, double quantity, double share) {
  if (!is_above_zero(quantity) || !is_above_zero(under_way.sd) || !(0 < share && share < 1)) {
    return refuse(Code::kOutOfRange,
                  "Quantity and spread are above 0, the share is between 0 and 1.");
  }
  const double loss = quantity * (1 - share) / under_way.sd;
  return under_way.mean + under_way.sd * normal_level_of_loss(loss);
}

double largest_normal(int n) {
  ROLLWRIGHT_PROMISE(1 <= n && n <= 1'000);
  constexpr double kEnd = 12;
  constexpr int kSteps = 48'000;
  double mean = 0;
  for (int step = 0; step < kSteps; ++step) {
    const double z = -kEnd + (step + 0.5) * 2 * kEnd / kSteps;
    mean += z * n * std::pow(below(z), n - 1) * density(z);
  }
  return mean * 2 * kEnd / kSteps;
}

double largest_exponential(int n) {
  double mean = 0;
  for (int k = n; k >= 1; --k) mean += 1.0 / k;
  return mean;
}

ThreePoint three_point(double least, double likeliest, double most) {
  const double sixth = (most - least) / 6;
  return {(least + 4 * likeliest + most) / 6, sixth * sixth};
}

Result<NetPlan> net_plan(const NeedSeries& series) {
  if (series.needed.size() != series.coming.size()) {
    return refuse(Code::kBadInput, "Every period says what is needed and what is coming.");
  }
  const auto is_fine = [](int number) { return 0 <= number && number <= kMostPieces; };
  if (series.needed.size() > 1'000 || !is_fine(series.on_hand) || !is_fine(series.lead_periods) ||
      !is_fine(series.pack) || !std::all_of(series.needed.begin(), series.needed.end(), is_fine) ||
      !std::all_of(series.coming.begin(), series.coming.end(), is_fine)) {
    return refuse(Code::kOutOfRange, "Pieces are 0 to a million, in at most 1,000 periods.");
  }
  NetPlan plan;
  plan.placed.assign(series.needed.size(), 0);
  int on_hand = series.on_hand;
  for (std::size_t t = 0; t < series.needed.size(); ++t) {
    on_hand += series.coming[t];
    const int missing = std::max(0, series.needed[t] - on_hand);
    int received = missing;
    if (series.pack > 0) received = (missing + series.pack - 1) / series.pack * series.pack;
    on_hand += received - series.needed[t];
    plan.missing.push_back(missing);
    plan.received.push_back(received);
    plan.on_hand.push_back(on_hand);
    const auto lead = static_cast<std::size_t>(series.lead_periods);
    if (t >= lead) plan.placed[t - lead] = received;
    if (t < lead) plan.too_late += received;
  }
  return plan;
}

}  // namespace rollwright::plan

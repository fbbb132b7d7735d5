#include "supply/lead_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/result.hpp"

namespace rollwright::supply {
namespace {

double normal_below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

/// P(e <= z) for z <= 0, read off a table: the fit asks a few million times.
class AstrayNormal {
 public:
  AstrayNormal() {
    for (int i = 0; i <= kReach * kPerOne + 1; ++i) {
      const double z = -static_cast<double>(i) / kPerOne;
      below_.push_back((1 - LeadModel::kAstray) * normal_below(z) +
                       LeadModel::kAstray * normal_below(z / LeadModel::kAstrayWidth));
    }
  }
  double below_negative(double z) const {
    const double place = std::min(-z, static_cast<double>(kReach)) * kPerOne;
    const auto at = static_cast<std::size_t>(place);
    const double part = place - static_cast<double>(at);
    return below_[at] + part * (below_[at + 1] - below_[at]);
  }
  double below(double z) const { return z <= 0 ? below_negative(z) : 1 - below_negative(-z); }
  double between(double from, double to) const {
    return from > 0 ? below_negative(-from) - below_negative(-to) : below(to) - below(from);
  }

 private:
  static constexpr int kReach = 60;
  static constexpr int kPerOne = 1024;
  std::vector<double> below_;
};

const AstrayNormal& astray() {
  static const AstrayNormal table;
  return table;
}

/// Places of a grid with the lengths they stand for (trapezoids).
struct Grid {
  std::vector<double> at;
  std::vector<double> length;
};

struct Stretch {
  double from = 0;
  double to = 0;
  int steps = 1;
};

Grid grid_of(const std::vector<Stretch>& stretches) {
  Grid grid;
  for (const Stretch& part : stretches) {
    for (int i = 0; i <= part.steps; ++i) {
      grid.at.push_back(part.from + (part.to - part.from) * i / part.steps);
    }
  }
  std::sort(grid.at.begin(), grid.at.end());
  grid.length.assign(grid.at.size(), 0);
  for (std::size_t i = 0; i + 1 < grid.at.size(); ++i) {
    const double half = (grid.at[i + 1] - grid.at[i]) / 2;
    grid.length[i] += half;
    grid.length[i + 1] += half;
  }
  return grid;
}

double bell(double x, double sigma) { return std::exp(-x * x / (2 * sigma * sigma)) / sigma; }

/// Receipts of one kind, standardised by its row: z = (log days - row) / sigma.
struct Standard {
  struct Seen {
    double from = 0;  // the interval in which the time lay
    double to = 0;
    int count = 0;
  };
  struct Open {
    double beyond = 0;  // the time lies beyond it
    int count = 0;
  };
  std::vector<Seen> seen;
  std::vector<Open> open;
  int count = 0;
  double middle = 0;   // median of z
  double spread = LeadModel::kWithin;  // of z, from the middle half
};

Standard standardised(const LeadHistory& kind) {
  Standard data;
  std::vector<double> middles;
  std::map<int, int> by_day;
  for (const auto& [days, count] : kind.days) by_day[std::max(1, days)] += count;
  const double row = std::log(kind.middle_days);
  for (const auto& [days, count] : by_day) {
    const double from = days == 1 ? -1e9 : (std::log(days - 1) - row) / kind.sigma;
    const double to = (std::log(days) - row) / kind.sigma;
    data.seen.push_back({from, to, count});
    const double middle = (std::log(days - 0.5) - row) / kind.sigma;
    middles.insert(middles.end(), static_cast<std::size_t>(count), middle);
    data.count += count;
  }
  for (const auto& [days, count] : kind.open) {
    if (days > 0) data.open.push_back({(std::log(days) - row) / kind.sigma, count});
  }
  if (middles.empty()) return data;
  const std::size_t n = middles.size();
  data.middle = middles[n / 2];
  // With few receipts the middle half says nothing; the row's own spread stands in.
  if (n >= 8) data.spread = std::max(0.05, (middles[3 * n / 4] - middles[n / 4]) / 1.349);
  return data;
}

/// Likelihood of one kind's receipts over (u, log s), u = a + b.
struct KindFit {
  Grid u;
  Grid log_s;
  std::vector<double> likelihood;  // times the prior of s and the length of its cell; row by u
  std::vector<double> over_s;      // summed over s, by u
};

Grid places_of_u(const Standard& data) {
  const double all = std::hypot(LeadModel::kSupplier, LeadModel::kKind);
  if (data.count == 0 && data.open.empty()) return grid_of({{-6 * all, 6 * all, 60}});
  if (data.count == 0) return grid_of({{-6 * all, 6 * all, 120}});
  // The receipts may lie far outside of what was believed; the truth then lies between.
  const double reach = 8 * data.spread / std::sqrt(data.count);
  const double from = std::min(-5 * all, data.middle - reach);
  const double to = std::max(5 * all, data.middle + reach);
  const int steps = std::clamp(static_cast<int>((to - from) / (all / 4)), 20, 200);
  return grid_of({{from, to, steps}, {data.middle - reach, data.middle + reach, 40}});
}

Grid places_of_s(const Standard& data) {
  const double prior = std::log(LeadModel::kWithin);
  const double reach = 4 * LeadModel::kWithinSpread;
  Stretch wide{prior - reach, prior + reach, 16};
  if (data.count < 8) return grid_of({wide});
  const double seen = std::log(data.spread);
  const double near = 6 / std::sqrt(2.0 * data.count);
  wide.from = std::min(wide.from, seen - near);
  wide.to = std::max(wide.to, seen + near);
  return grid_of({wide, {seen - near, seen + near, 18}});
}

double log_likelihood(const Standard& data, double u, double s) {
  double sum = 0;
  for (const Standard::Seen& seen : data.seen) {
    const double p = astray().between((seen.from - u) / s, (seen.to - u) / s);
    sum += seen.count * std::log(std::max(p, 1e-300));
  }
  for (const Standard::Open& open : data.open) {
    const double p = 1 - astray().below((open.beyond - u) / s);
    sum += open.count * std::log(std::max(p, 1e-300));
  }
  return sum;
}

/// With open lines the middle of the receipts is not where the likelihood is: the grid is laid around
/// its highest place instead, found by looking closer three times.
void look_for_middle(Standard& data) {
  if (data.open.empty()) return;
  constexpr int kSteps = 24;
  const double all = std::hypot(LeadModel::kSupplier, LeadModel::kKind);
  Stretch u{std::min(-5 * all, data.middle - 1), std::max(5 * all, data.middle + 1), kSteps};
  for (const Standard::Open& open : data.open) u.to = std::max(u.to, open.beyond + 1);
  Stretch log_s{std::min(std::log(data.spread), std::log(LeadModel::kWithin) - 1.4),
                std::log(LeadModel::kWithin) + 1.4, kSteps};
  log_s.to = std::max(log_s.to, std::log(data.spread) + 1);
  for (int round = 0; round < 3; ++round) {
    double most = -1e300;
    double best_u = 0;
    double best_s = 0;
    for (const double each_u : grid_of({u}).at) {
      for (const double each_s : grid_of({log_s}).at) {
        const double off = (each_s - std::log(LeadModel::kWithin)) / LeadModel::kWithinSpread;
        const double likely = log_likelihood(data, each_u, std::exp(each_s)) - off * off / 2 -
                              each_u * each_u / (2 * all * all);
        if (likely <= most) continue;
        most = likely;
        best_u = each_u;
        best_s = each_s;
      }
    }
    const double near_u = 1.5 * (u.to - u.from) / kSteps;
    const double near_s = 1.5 * (log_s.to - log_s.from) / kSteps;
    u = {best_u - near_u, best_u + near_u, kSteps};
    log_s = {best_s - near_s, best_s + near_s, kSteps};
    data.middle = best_u;
    if (data.count >= 8) data.spread = std::exp(best_s);
  }
}

KindFit fit_of(const LeadHistory& kind) {
  Standard data = standardised(kind);
  look_for_middle(data);
  KindFit fit{.u = places_of_u(data), .log_s = places_of_s(data), .likelihood = {}, .over_s = {}};
  for (const double u : fit.u.at) {
    for (const double log_s : fit.log_s.at) {
      fit.likelihood.push_back(log_likelihood(data, u, std::exp(log_s)));
    }
  }
  const double most = *std::max_element(fit.likelihood.begin(), fit.likelihood.end());
  const std::size_t width = fit.log_s.at.size();
  fit.over_s.assign(fit.u.at.size(), 0);
  for (std::size_t i = 0; i < fit.likelihood.size(); ++i) {
    const std::size_t k = i % width;
    const double off = fit.log_s.at[k] - std::log(LeadModel::kWithin);
    fit.likelihood[i] = std::exp(fit.likelihood[i] - most) * fit.log_s.length[k] *
                        bell(off, LeadModel::kWithinSpread);
    fit.over_s[i / width] += fit.likelihood[i];
  }
  return fit;
}

Grid places_of_a() { return grid_of({{-8, 8, 160}}); }  // in units of its sigma

/// Logarithm of how well each way `a` of the supplier explains one kind.
std::vector<double> explains(const KindFit& fit, const Grid& a) {
  std::vector<double> result;
  for (const double way : a.at) {
    double sum = 0;
    for (std::size_t i = 0; i < fit.u.at.size(); ++i) {
      sum += fit.u.length[i] * fit.over_s[i] *
             bell(fit.u.at[i] - LeadModel::kSupplier * way, LeadModel::kKind);
    }
    result.push_back(std::log(std::max(sum, 1e-300)));
  }
  return result;
}

/// What the other kinds and the prior say of `a`: weights that sum to 1.
std::vector<double> from_others(const Grid& a, const std::vector<double>& all,
                                const std::vector<double>& own) {
  std::vector<double> weight(a.at.size());
  double most = -1e300;
  for (std::size_t i = 0; i < weight.size(); ++i) {
    weight[i] = all[i] - own[i] - a.at[i] * a.at[i] / 2;
    most = std::max(most, weight[i]);
  }
  double sum = 0;
  for (std::size_t i = 0; i < weight.size(); ++i) {
    weight[i] = std::exp(weight[i] - most) * a.length[i];
    sum += weight[i];
  }
  for (double& w : weight) w /= sum;
  return weight;
}

double variance_of(const std::vector<LeadNode>& nodes) {
  double mean = 0;
  double square = 0;
  for (const LeadNode& node : nodes) {
    mean += node.weight * node.log_middle;
    square += node.weight * node.log_middle * node.log_middle;
  }
  return square - mean * mean;
}

LeadBelief belief_of(const LeadHistory& kind, const KindFit& fit, const Grid& a,
                     const std::vector<double>& others) {
  LeadBelief belief;
  const std::size_t width = fit.log_s.at.size();
  for (std::size_t i = 0; i < fit.u.at.size(); ++i) {
    double prior = 0;
    for (std::size_t k = 0; k < a.at.size(); ++k) {
      prior += others[k] * bell(fit.u.at[i] - LeadModel::kSupplier * a.at[k], LeadModel::kKind);
    }
    for (std::size_t k = 0; k < width; ++k) {
      belief.nodes.push_back(
          {.log_middle = std::log(kind.middle_days) + kind.sigma * fit.u.at[i],
           .sigma = kind.sigma * std::exp(fit.log_s.at[k]),
           .weight = prior * fit.u.length[i] * fit.likelihood[i * width + k]});
    }
  }
  double most = 0;
  for (const LeadNode& node : belief.nodes) most = std::max(most, node.weight);
  std::erase_if(belief.nodes, [most](const LeadNode& n) { return n.weight < most * 1e-4; });
  double sum = 0;
  for (const LeadNode& node : belief.nodes) sum += node.weight;
  for (LeadNode& node : belief.nodes) node.weight /= sum;
  const double before = kind.sigma * kind.sigma *
                        (LeadModel::kSupplier * LeadModel::kSupplier +
                         LeadModel::kKind * LeadModel::kKind);
  belief.unsure = std::min(1.0, variance_of(belief.nodes) / before);
  return belief;
}

}  // namespace

std::vector<LeadBelief> learn(const std::vector<LeadHistory>& kinds) {
  const Grid a = places_of_a();
  std::vector<KindFit> fits;
  std::vector<std::vector<double>> explained;
  std::vector<double> all(a.at.size(), 0);
  for (const LeadHistory& kind : kinds) {
    ROLLWRIGHT_PROMISE(0.5 <= kind.middle_days && 0.05 <= kind.sigma && kind.sigma <= 2);
    fits.push_back(fit_of(kind));
    explained.push_back(kind.days.empty() && kind.open.empty() ? std::vector<double>(a.at.size(), 0)
                                          : explains(fits.back(), a));
    for (std::size_t i = 0; i < all.size(); ++i) all[i] += explained.back()[i];
  }
  std::vector<LeadBelief> beliefs;
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    beliefs.push_back(belief_of(kinds[i], fits[i], a, from_others(a, all, explained[i])));
  }
  return beliefs;
}

DayOdds next_delivery(const LeadBelief& belief) {
  constexpr int kEachDay = 80;  // beyond, every twentieth part further, straight lines between
  DayOdds odds{.by = {0.0}};
  while (static_cast<int>(odds.by.size()) <= kOddsDays) {
    const int before = static_cast<int>(odds.by.size()) - 1;
    const int days = std::min(kOddsDays, before < kEachDay ? before + 1 : before + before / 20);
    double sum = 0;
    for (const LeadNode& node : belief.nodes) {
      sum += node.weight * astray().below((std::log(days) - node.log_middle) / node.sigma);
    }
    const double last = odds.by.back();
    const double rise = (std::clamp(sum, last, 1.0) - last) / (days - before);
    for (int k = 1; k <= days - before; ++k) odds.by.push_back(last + rise * k);
  }
  return odds;
}

}  // namespace rollwright::supply

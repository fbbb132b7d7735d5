#include "mech/truing_lattice.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/index.hpp"
#include "base/result.hpp"
#include "mech/wheel_solver.hpp"

namespace rollwright::mech {
namespace {

constexpr int kMostNewton = 40;
constexpr double kFlat = 1e-12;
// Keeps the equations solvable and, among equals, the turns small: excess per square quarter.
constexpr double kRidge = 1e-7;

/// One row of a band as a function of all unknowns: the quarters, then a middle for each band.
struct SmoothRow {
  std::vector<double> change;
  double now = 0;
  double least = 0;
  double most = 0;
};

std::vector<SmoothRow> smooth_rows(const TurnProblem& problem) {
  std::vector<SmoothRow> rows;
  const std::size_t spokes = at(problem.spokes);
  for (std::size_t b = 0; b < problem.bands.size(); ++b) {
    const TurnBand& band = problem.bands[b];
    for (std::size_t i = 0; i < band.now.size(); ++i) {
      SmoothRow row{.change = std::vector<double>(spokes + problem.bands.size()),
                    .now = band.now[i] / band.scale,
                    .least = band.least / band.scale,
                    .most = band.most / band.scale};
      for (std::size_t j = 0; j < spokes; ++j) row.change[j] = band.change[j][i] / band.scale;
      if (band.floating) row.change[spokes + b] = -1;
      rows.push_back(std::move(row));
    }
  }
  return rows;
}

double over(const SmoothRow& row, const std::vector<double>& x) {
  const double value = row.now + dot(row.change.data(), x.data(), x.size());
  return value > row.most ? value - row.most : value < row.least ? value - row.least : 0;
}

double cost(const std::vector<SmoothRow>& rows, const std::vector<double>& x) {
  double sum = kRidge * dot(x.data(), x.data(), x.size());
  for (const SmoothRow& row : rows) {
    const double e = over(row, x);
    sum += e * e;
  }
  return sum;
}

/// Newton's step for the rows that are outside.
std::vector<double> newton_step(const std::vector<SmoothRow>& rows, const std::vector<double>& x) {
  const std::size_t n = x.size();
  std::vector<double> matrix(n * n);
  std::vector<double> right(n);
  for (std::size_t i = 0; i < n; ++i) {
    matrix[i * n + i] = kRidge;
    right[i] = -kRidge * x[i];
  }
  for (const SmoothRow& row : rows) {
    const double e = over(row, x);
    if (e == 0) continue;
    for (std::size_t i = 0; i < n; ++i) {
      right[i] -= row.change[i] * e;
      for (std::size_t j = 0; j <= i; ++j) matrix[i * n + j] += row.change[i] * row.change[j];
    }
  }
  const auto solver = PositiveSolver::of(static_cast<int>(n), std::move(matrix));
  ROLLWRIGHT_PROMISE(solver);  // the ridge keeps it positive
  return solver->solve(std::move(right));
}

/// Squared distance of all rows from the middles of their bounds: tᵀ H t - 2 gᵀ t.
struct Distance {
  std::vector<double> h;
  std::vector<double> g;
};

Distance distance_of(const TurnProblem& problem) {
  const std::size_t n = at(problem.spokes);
  Distance d{std::vector<double>(n * n), std::vector<double>(n)};
  for (const TurnBand& band : problem.bands) {
    if (band.hard) continue;
    std::vector<std::vector<double>> columns = band.change;
    std::vector<double> off = band.now;
    const double middle = band.floating ? mean_of(off) : (band.least + band.most) / 2;
    for (double& row : off) row -= middle;
    for (std::size_t j = 0; j < n && band.floating; ++j) {
      const double mean = mean_of(columns[j]);
      for (double& row : columns[j]) row -= mean;
    }
    const double weight = 1 / (band.scale * band.scale);
    for (std::size_t i = 0; i < n; ++i) {
      d.g[i] -= weight * dot(columns[i].data(), off.data(), off.size());
      for (std::size_t j = 0; j <= i; ++j) {
        d.h[i * n + j] += weight * dot(columns[i].data(), columns[j].data(), off.size());
      }
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) d.h[i * n + j] = d.h[j * n + i];
  }
  return d;
}

std::vector<int> nearest_plane(const Distance& distance, const std::vector<std::size_t>& order,
                               double price, int most) {
  const std::size_t n = order.size();
  std::vector<double> h(n * n);
  std::vector<double> g(n);
  for (std::size_t i = 0; i < n; ++i) {
    g[i] = distance.g[order[i]];
    for (std::size_t j = 0; j <= i; ++j) h[i * n + j] = distance.h[order[i] * n + order[j]];
    h[i * n + i] += price;
  }
  const auto solver = PositiveSolver::of(static_cast<int>(n), std::move(h));
  ROLLWRIGHT_PROMISE(solver);  // the price keeps it positive
  const auto exact = solver->solve(std::move(g));
  std::vector<double> missed(n);  // by order, exact less taken
  std::vector<int> quarters(n);
  for (std::size_t k = n; k-- > 0;) {
    double wanted = exact[k];
    for (std::size_t j = k + 1; j < n; ++j) {
      wanted += solver->factor(j, k) * missed[j] / solver->factor(k, k);
    }
    const int taken = std::clamp(static_cast<int>(std::lround(wanted)), -most, most);
    missed[k] = exact[k] - taken;
    quarters[order[k]] = taken;
  }
  return quarters;
}

}  // namespace

std::vector<std::vector<int>> lattice_turns(const TurnProblem& problem, Random& random) {
  constexpr int kOrders = 12;
  constexpr double kPrices[] = {0.01, 0.3, 1, 3};
  const Distance distance = distance_of(problem);
  std::vector<std::size_t> order(at(problem.spokes));
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::vector<std::vector<int>> found;
  for (int i = 0; i < kOrders; ++i) {
    for (std::size_t k = order.size(); k > 1; --k) std::swap(order[k - 1], order[random.below(k)]);
    for (const double price : kPrices) {
      found.push_back(nearest_plane(distance, order, price, problem.most_quarters));
    }
  }
  return found;
}

std::vector<double> smooth_turns(const TurnProblem& problem) {
  const auto rows = smooth_rows(problem);
  std::vector<double> x(at(problem.spokes) + problem.bands.size());
  double before = cost(rows, x);
  for (int i = 0; i < kMostNewton; ++i) {
    const auto step = newton_step(rows, x);
    double length = 1;
    double after = before;
    std::vector<double> next = x;
    for (; length > 1e-6; length /= 2) {
      for (std::size_t j = 0; j < x.size(); ++j) next[j] = x[j] + length * step[j];
      after = cost(rows, next);
      if (after < before) break;
    }
    if (!(after < before - kFlat)) break;
    x = next;
    before = after;
  }
  x.resize(at(problem.spokes));
  return x;
}

}  // namespace rollwright::mech

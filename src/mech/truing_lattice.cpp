#include <cmath>

#include "base/index.hpp"
#include "base/result.hpp"
#include "mech/truing_turns.hpp"
#include "mech/wheel_solver.hpp"

namespace rollwright::mech {
namespace {

constexpr int kMostNewton = 60;
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

}  // namespace

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

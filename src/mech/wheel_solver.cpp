#include "mech/wheel_solver.hpp"

#include <cmath>

#include "base/index.hpp"

namespace rollwright::mech {

std::optional<PositiveSolver> PositiveSolver::of(int size, std::vector<double> matrix) {
  const std::size_t n = at(size);
  for (std::size_t i = 0; i < n; ++i) {
    double* row = &matrix[i * n];
    for (std::size_t j = 0; j < i; ++j) {
      const double* other = &matrix[j * n];
      row[j] = (row[j] - dot(row, other, j)) / other[j];
    }
    const double left = row[i] - dot(row, row, i);
    if (!(left > 0)) return std::nullopt;
    row[i] = std::sqrt(left);
  }
  return PositiveSolver(size, std::move(matrix));
}

std::vector<double> PositiveSolver::half_solve(std::vector<double> right) const {
  const std::size_t n = at(size_);
  for (std::size_t i = n; i-- > 0;) {
    const double* row = &lower_[i * n];
    right[i] /= row[i];
    for (std::size_t j = 0; j < i; ++j) right[j] -= row[j] * right[i];
  }
  return right;
}

std::vector<double> PositiveSolver::solve(std::vector<double> right) const {
  const std::size_t n = at(size_);
  for (std::size_t i = 0; i < n; ++i) {
    const double* row = &lower_[i * n];
    right[i] = (right[i] - dot(row, right.data(), i)) / row[i];
  }
  return half_solve(std::move(right));
}

double PositiveSolver::variance(const double* row) const {
  const std::size_t n = at(size_);
  std::vector<double> half(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double* lower = &lower_[i * n];
    half[i] = (row[i] - dot(lower, half.data(), i)) / lower[i];
  }
  return dot(half.data(), half.data(), n);
}

double PositiveSolver::log_determinant() const {
  const std::size_t n = at(size_);
  double sum = 0;
  for (std::size_t i = 0; i < n; ++i) sum += std::log(lower_[i * n + i]);
  return 2 * sum;
}

}  // namespace rollwright::mech

#pragma once

#include <optional>
#include <vector>

#include "mech/rows.hpp"

namespace rollwright::mech {

/// Symmetric positive definite equations of a wheel, a few hundred unknowns.
///
/// Method:    Cholesky, A = L Lᵀ, row by row in a fixed order of additions, so that the same wheel
///            gives the same bytes on any machine (a tuned library orders them by cache sizes).
/// Source:    textbook. Accuracy: double precision.
/// Invariants: holds the factor of a positive definite matrix. Threads: const use from many.
class PositiveSolver {
 public:
  /// `matrix` holds size * size numbers by rows; only the lower half is read. Nothing when the
  /// matrix is not positive definite.
  [[nodiscard]] static std::optional<PositiveSolver> of(int size, std::vector<double> matrix);

  [[nodiscard]] int size() const { return size_; }
  /// x with A x = `right`, which has `size()` numbers.
  [[nodiscard]] std::vector<double> solve(std::vector<double> right) const;
  /// x with Lᵀ x = `right`: turns independent unit normals into draws with covariance A⁻¹.
  [[nodiscard]] std::vector<double> half_solve(std::vector<double> right) const;
  /// rowᵀ A⁻¹ row: the variance of a sum of unknowns when A is their information.
  [[nodiscard]] double variance(const double* row) const;
  [[nodiscard]] double log_determinant() const;
  /// L by row and column, column no greater than row.
  [[nodiscard]] double factor(std::size_t row, std::size_t column) const {
    return lower_[row * static_cast<std::size_t>(size_) + column];
  }

 private:
  PositiveSolver(int size, std::vector<double> lower) : size_(size), lower_(std::move(lower)) {}
  int size_;
  std::vector<double> lower_;
};

}  // namespace rollwright::mech

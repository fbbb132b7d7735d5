#pragma once

#include <vector>

#include "mech/wheel_model.hpp"

namespace rollwright::mech {

/// Readings that linear causes give, in tables: a cause is one turn of a nipple (first, in the
/// order of the spokes) or 1 mm of a bend of the bare rim. Built once for a wheel, read many times.
///
/// Method:    columns of mech/wheel_model.hpp, tabulated at whole degrees, straight lines between.
/// Source:    [truing]. Accuracy: 0.001 mm a turn of what the model gives.
/// Ignores:   what the model ignores.
/// Threads:   const use from many.
class TruingInfluence {
 public:
  TruingInfluence(const WheelModel& wheel, double elbow_factor);

  [[nodiscard]] int spokes() const { return spokes_; }
  [[nodiscard]] int causes() const { return spokes_ + static_cast<int>(bends_.size()); }
  [[nodiscard]] const std::vector<RimBend>& bends() const { return bends_; }
  [[nodiscard]] double elbow_factor() const { return elbow_factor_; }

  /// mm that each cause moves the rim at a place; one number a cause.
  [[nodiscard]] std::vector<double> rim_row(RimDirection direction, Angle where) const;
  /// N that each cause adds to the tension of a spoke.
  [[nodiscard]] const double* tension_row(int spoke) const;
  /// mm that each cause moves the rim's middle to the left.
  [[nodiscard]] const std::vector<double>& dish_row() const { return dish_; }

 private:
  void add(const WheelModel& wheel, const WheelShape& shape, std::size_t cause);
  int spokes_;
  double elbow_factor_;
  std::vector<RimBend> bends_;
  std::vector<double> lateral_, radial_;  // [degree][cause]
  std::vector<double> tension_;           // [spoke][cause]
  std::vector<double> dish_;              // [cause]
};

/// Waves of the rim's own bends that are told apart; narrower dents count as noise of the reading.
inline constexpr int kMostBendWaves = 12;

}  // namespace rollwright::mech

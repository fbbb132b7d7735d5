#pragma once

#include <cmath>
#include <vector>

#include "mech/truing.hpp"
#include "mech/wheel_solver.hpp"

namespace rollwright::mech {

/// What is believed of a wheel's causes (turns each nipple is off, mm of each bend) under one elbow
/// factor: a Gaussian that readings narrow and turns shift.
///
/// Method:    Kalman updates in information form. The zero of each gauge is free: run-out rows are
///            taken less their mean. Before any reading: each nipple 0.4 turns off, each side 1
///            turn off together, bends 0.4 mm (lateral) and 0.25 mm (radial) at two waves,
///            falling with waves^1.5 (common sense, wide on purpose).
/// Source:    [truing]. Invariants: the information is symmetric and positive. Threads: one writer.
class TruingBelief {
 public:
  TruingBelief(const TruingInfluence& influence, const std::vector<WheelSpoke>& spokes);

  void read(const TruingPass& pass, const TruingReadings& gauges);
  /// Hands err by 0.02 turns and a twentieth of what they turn.
  void turn(const std::vector<SpokeTurn>& turns);

  [[nodiscard]] const TruingInfluence& influence() const { return *influence_; }
  [[nodiscard]] const std::vector<double>& mean() const { return mean_; }
  [[nodiscard]] double log_evidence() const { return log_evidence_; }
  /// Standard uncertainty of the sum of causes weighed by `row`.
  [[nodiscard]] double uncertainty(const double* row) const {
    return std::sqrt(factor_.variance(row));
  }
  /// A draw of all causes from independent unit normals, one for each cause.
  [[nodiscard]] std::vector<double> draw(std::vector<double> normals) const;

 private:
  void learn(const std::vector<std::vector<double>>& causes, const std::vector<double>& left_over,
             const std::vector<double>& weight);
  void add_squares(const std::vector<std::vector<double>>& causes,
                   const std::vector<double>& weight);

  const TruingInfluence* influence_;
  std::vector<double> nominal_n_;  // tension of each spoke without errors
  std::vector<double> mean_;
  std::vector<double> information_;  // by rows, inverse of the covariance
  PositiveSolver factor_;            // of it
  double log_evidence_ = 0;
};

/// Standard error of a turn of `quarters` by hand, in turns.
[[nodiscard]] double turn_error(int quarters);

}  // namespace rollwright::mech

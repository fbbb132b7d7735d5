#pragma once

#include <vector>

#include "base/random.hpp"
#include "mech/truing.hpp"
#include "mech/wheel_model.hpp"

namespace rollwright::bench {

/// An invented sort of wheel as its builder knows it.
struct WheelSort {
  mech::RimSection rim;
  mech::LacedWheel lacing;
};
/// Fronts and rears with 36, 32 and 28 spokes: even, disc, dished, on an offset rim.
[[nodiscard]] std::vector<WheelSort> wheel_sorts();
/// Run-out of 0.4 mm both ways (hand builders' 0.2 mm to either side), dish 0.5 mm, spread 20 %.
[[nodiscard]] mech::TruingLimits limits_of(const WheelSort& sort);

/// One simulated wheel as it is: stiffnesses of its own (each of the rim's within some 10 %, the
/// spokes' within 3 %, elbows 0.65 to 1), a level of tension of its own, rim bends and a dent at
/// the joint, nipples that are off. Linear in turns; 72 waves, places every 2 degrees.
class SimulatedWheel {
 public:
  SimulatedWheel(const WheelSort& sort, Random& random);

  void turn(int spoke, double turns);

  [[nodiscard]] const std::vector<mech::WheelSpoke>& spokes() const { return spokes_; }
  [[nodiscard]] double elbow_factor() const { return elbow_factor_; }
  [[nodiscard]] double tension_n(int spoke) const;
  [[nodiscard]] double least_tension_n() const;
  [[nodiscard]] double lateral_mm(Angle where) const;
  [[nodiscard]] double radial_mm(Angle where) const;
  [[nodiscard]] double dish_mm() const;
  [[nodiscard]] double lateral_run_out_mm() const;
  [[nodiscard]] double radial_run_out_mm() const;

  /// Run-out and dish are inside their limits.
  [[nodiscard]] bool true_enough(const mech::TruingLimits& limits) const;
  /// All limits are met.
  [[nodiscard]] bool inside(const mech::TruingLimits& limits) const;

 private:
  struct Change {
    std::vector<double> lateral, radial, tension;
  };
  [[nodiscard]] static Change change_of(const mech::WheelModel& model,
                                        const mech::WheelShape& shape);
  void add(const Change& change, double times);
  void bend(const mech::WheelModel& model, mech::RimDirection direction, Random& random);
  void build(Random& random);
  [[nodiscard]] double side_mean_n(mech::WheelEnd end) const;

  std::vector<mech::WheelSpoke> spokes_;
  std::vector<double> lateral_, radial_, tension_;
  std::vector<Change> turns_;
  double elbow_factor_ = 1;
};

}  // namespace rollwright::bench

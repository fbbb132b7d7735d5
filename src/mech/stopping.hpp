#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// Which wheels are braked.
enum class Braked { kBoth, kFrontOnly, kRearOnly };

/// Bike and rider under braking.
struct BrakingBike {
  Mass whole;                        // bike, rider and load, 20 to 500 kg
  Length wheelbase;                  // 700 to 3000 mm
  Length centre_behind_front;        // centre of mass behind the front wheel's contact, inside it
  Length centre_height;              // above the ground, 300 to 1800 mm
  double grip = 0.7;                 // tyre on ground, 0.05 to 1.2
  std::optional<Force> brake_force;  // of the brakes used at the tyre, together; 10 to 5000 N
  Braked braked = Braked::kBoth;
  double slope = 0;                  // rise over run of the road, -0.35 to 0.35; downhill negative
};

/// What keeps a bike from slowing down faster.
enum class BrakingLimit { kGrip, kTippingOver, kBrakeForce };

/// How hard a bike can brake; in m/s^2 along the road.
struct Deceleration {
  double most_mps2 = 0;
  BrakingLimit limit = BrakingLimit::kGrip;
  double by_grip_mps2 = 0;
  double by_tipping_mps2 = 0;               // over the front wheel; only there when it is braked
  std::optional<double> by_brakes_mps2;     // when their force is known
};

/// The hardest braking of a bike.
///
/// Method:    balance of forces and moments of a rigid bike. Both wheels: mu g cos; tipping over
///            g cos b / h; one wheel with the load that braking shifts. Downhill takes g sin off.
/// Source:    [braking] in docs/sources.md.
/// Accuracy:  exact for the rigid bike; grip is known to 20 % at best ([tyre-grip]).
/// Ignores:   suspension dive, the rider moving back, unequal use of the two brakes, air drag.
/// Errors:    kOutOfRange; kContradiction when the centre of mass is not between the wheels, and
///            when the slope is steeper than the brakes can hold.
///
/// The maker's values and the law come first; a computed distance releases no brake.
[[nodiscard]] Result<Deceleration> hardest_braking(const BrakingBike& bike);

/// Way from the thought to standing still.
struct StoppingDistance {
  Length reaction;  // speed times reaction time
  Length braking;   // V^2 / 2 a
  Length whole;
  double seconds = 0;
};
/// Errors: kOutOfRange (speed 1 to 100 km/h, 0 to 5 s, 0.1 to 12 m/s^2).
[[nodiscard]] Result<StoppingDistance> stopping_distance(Speed speed, double reaction_s,
                                                         double deceleration_mps2);

/// Mean deceleration that a braking way (without reaction) amounts to.
/// Errors: kOutOfRange (speed 1 to 100 km/h, way 0.2 to 200 m).
[[nodiscard]] Result<double> deceleration_over(Speed speed, Length braking);

/// A measured braking way carried to the speed that the test names: S (Vs / Vm)^2.
/// Source: [brake-tests]. Errors: kOutOfRange as above; kRefused when the run was more than
/// 1.5 km/h off, which makes it void.
[[nodiscard]] Result<Length> corrected_braking(Length measured, Speed driven, Speed named);

/// One way that a standard allows at most.
struct BrakeTest {
  std::string bicycle;  // "city and trekking"
  bool wet = false;
  bool rear_only = false;
  Speed speed;
  Length most;
  std::string source;  // with "from memory" where that is so
};
/// Source: [brake-tests]. The printed standard comes first; none of these replaces the test.
[[nodiscard]] const std::vector<BrakeTest>& brake_tests();

}  // namespace rollwright::mech

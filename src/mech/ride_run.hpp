#pragma once

#include <optional>
#include <vector>

#include "base/result.hpp"
#include "mech/ride_setup.hpp"
#include "mech/ride_way.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// Where the energy of a ride came from and went. What came in equals what went out.
struct RideLedger {
  // In.
  Energy rider;    // at the pedals
  Energy motor;    // at its shaft
  Energy pushing;  // walking beside the bike
  // Out.
  Energy air;      // negative when the wind pushed more than it held
  Energy rolling;
  Energy bearing;
  Energy drive;    // lost between pedals (or motor) and wheel
  Energy brakes;
  Energy lift;     // end higher than start; negative when lower
  Energy kinetic;  // still moving at the end

  [[nodiscard]] Energy in() const { return rider + motor + pushing; }
  [[nodiscard]] Energy out() const {
    return air + rolling + bearing + drive + brakes + lift + kinetic;
  }
};

/// The ride at the end of a piece of the way.
struct RideMark {
  Length along;
  double seconds = 0;
  Speed speed;
  Energy left;  // in the battery; 0 when it is empty
};

struct RideRun {
  RideLedger ledger;
  double balance_error = 0;        // difference of in and out over all that moved either way
  double seconds = 0;              // stops left out
  Energy from_battery;             // motor and electronics
  Energy left;
  std::optional<Length> empty_at;  // way on the map; the ride goes on without the motor
  Length pushed;                   // way on foot
  Speed fastest;
  std::vector<RideMark> marks;     // one for each piece
};

/// Longest step, on the map, of a ride that is reckoned once.
inline constexpr Length kRideStep = 5 * metre;

/// Rides a way once.
///
/// Method:    step by step along the road: the change of the bike's kinetic energy over a step is
///            pull less forces, both at the speed at its end (backward Euler over the way). Pull
///            falls and forces rise with speed, so each step has one speed; rising_root finds it.
///            Where even walking speed asks for more, rider and motor rest and she pushes; over her
///            greatest speed she brakes. Stops and gaps brake the bike to rest. Lift and kinetic
///            energy are taken from the ends of the ride, not from its steps, so that the balance
///            of the ledger is a check.
/// Source:    [road-power], [e-bike-energy], [dc-motor], [air], [wind], [ride-model].
/// Accuracy:  the ledger closes to 1e-9; against a plain simulation in small steps of time 0.5 % of
///            time and battery with steps of 5 m (tests). Against a real ride, as good as what goes
///            in: 10 to 20 %.
/// Ignores:   wind across the road, bends, traffic, surfaces that change on the way, heat of the
///            motor, what braking could give back, that a rider works harder uphill.
/// Errors:    kOutOfRange, kContradiction (ride_problem); kNotFound for a way without pieces;
///            longest_step 1 to 100 m.
[[nodiscard]] Result<RideRun> ride_along(const RideWay& way, const Ride& ride,
                                         Length longest_step = kRideStep);

/// The same for input that ride_along would accept; for many draws over one way.
[[nodiscard]] RideRun ride_along_checked(const RideWay& way, const Ride& ride,
                                         Length longest_step);

}  // namespace rollwright::mech

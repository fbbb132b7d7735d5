#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "mech/battery.hpp"
#include "mech/ride_run.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// How unsure each input is: standard deviations, 0 for known. The rider's is in RiderPower.
struct RideSpread {
  Speed wind = 1.5 * metre_per_second;  // at 10 m, 0 to 20 m/s
  double wind_from_deg = 30;            // 0 to 180
  double rolling = 0.15;                // share of the rolling resistance, 0 to 0.6
  double drag = 0.08;                   // share of the drag area (clothes, posture), 0 to 0.6
  double health = 0.04;                 // of the battery's health, 0 to 0.3
  double temperature_c = 3;             // of air and battery, 0 to 20
  double model = 0.08;                  // share of the consumption that the model itself gets wrong
                                        // (stops, surface, warm-up), 0 to 0.5
};

/// "Will it come home?"
struct OddsAsked {
  Ride ride;                 // the middle of everything; its charge is not read
  Battery battery;
  RideSpread spread;
  int draws = 2000;          // 50 to 100 000
  std::uint64_t seed = 1;
  Length longest_step = 20 * metre;  // as in ride_along
};

/// Three places of a spread: one in ten is lower, one in two, nine in ten (nearest rank).
template <class T>
struct TenFiftyNinety {
  T low{};
  T middle{};
  T high{};
};

/// The charge left at a place of the way; 0 in a draw whose battery ran out before.
struct LeftAlong {
  Length along;
  TenFiftyNinety<Energy> left;
};

struct RideOdds {
  int draws = 0;
  double home = 0;       // share of draws that end with charge left, above the reserve
  double home_least = 0; // the share lies between these with 95 %, as far as draws tell (Wilson)
  double home_most = 0;
  TenFiftyNinety<Energy> left;       // at the end
  TenFiftyNinety<double> seconds;
  std::vector<LeftAlong> along;      // at 100 even places, or at each piece of a shorter way
  int empty = 0;                     // draws that ran out
  std::optional<TenFiftyNinety<Length>> empty_at;  // where those did; none when none did
  double walked = 0;                 // share of draws with more than 100 m on foot
  double worst_balance_error = 0;    // of all draws, see RideRun
};

/// Odds to finish a way with charge left.
///
/// Method:    draws of one day each: rider's power and the rolling resistance, drag and consumption
///            lognormal, wind, direction, temperature and health normal, kept within the ranges of
///            their fields; then ride_along. Draw n of a seed takes the same numbers whatever the
///            bike, so that a larger battery is never a worse one and differences are real. Same
///            input, same result on any machine with the same mathematics library.
/// Source:    [ride-odds] in docs/sources.md; the spreads are common practice (from memory).
/// Accuracy:  the band is that of the draws; the odds are as good as the spreads that go in.
/// Ignores:   weather that changes on the way, a rider who tires or saves the motor, detours.
/// Errors:    those of ride_along; kOutOfRange; kRefused for a bike without a motor; kTooLarge over
///            400 million steps.
[[nodiscard]] Result<RideOdds> ride_odds(const RideWay& way, const OddsAsked& asked);

}  // namespace rollwright::mech

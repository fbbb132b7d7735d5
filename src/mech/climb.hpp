#pragma once

#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// One point of a height profile.
struct ProfilePoint {
  Length along;      // way from the start, never less than at the point before
  Length elevation;  // -500 to 9000 m
};

/// How noise is kept out of the climb.
struct ClimbMethod {
  Length spacing = 10 * metre;    // of the even samples, 1 to 100 m
  int median_points = 5;          // odd, 1 to 51; takes out single wild heights
  Length window = 100 * metre;    // of the running mean, 0 to 1000 m
  Length hysteresis = 5 * metre;  // a rise or fall counts from here on, 0 to 50 m; barometers 3 m,
                                  // satellites and height maps 5 to 10 m
};

struct Climb {
  Length up;
  Length down;  // as a positive length
  // Steepest share of the smoothed profile, up or down: 0.08 is 8 %. Roads end near 0.35; above
  // that the recorded heights are wrong and so is the climb.
  double steepest = 0;
  // Rise of the smoothed profile where it is steeper than 30 %: a recorder that just woke up, or a
  // stair. The part of `up` to doubt.
  Length doubtful;
};

/// Height climbed and descended along a profile.
///
/// Method:    even samples by straight lines; running median; running mean, both narrowing towards
///            the ends so that an even slope passes unchanged; then turning points at least the
///            hysteresis apart, whose differences add up.
/// Source:    [climb] in docs/sources.md.
/// Accuracy:  exact for an even slope. Rolling ground with rises under the hysteresis counts as
///            flat. Two recorders on one ride commonly differ by 5 to 15 % (common practice).
/// Errors:    kOutOfRange; kBadInput when the way runs backwards; kTooLarge over 5 million samples.
[[nodiscard]] Result<Climb> climb_of(const std::vector<ProfilePoint>& profile,
                                     const ClimbMethod& method = {});

/// The smoothed heights that climb_of counts, at even steps from start to end; empty for fewer than
/// two points. Method, accuracy and errors: as climb_of.
[[nodiscard]] Result<std::vector<ProfilePoint>> smooth_profile(
    const std::vector<ProfilePoint>& profile, const ClimbMethod& method = {});

/// Noise of a recording: standard deviation of one height about the ground.
///
/// Method:    each point against the straight line between its neighbours; the median of the
///            differences, each over what white noise of 1 m would do to it. The median passes over
///            single wild heights and real bends of the ground.
/// Source:    [climb].
/// Accuracy:  10 % for white noise over 200 points. Nothing for fewer than 5 points, or for heights
///            that an earlier program has smoothed. Ignores: noise that neighbours share (the slow
///            drift of barometers and satellites), which no recording shows by itself.
/// Errors:    kOutOfRange, kBadInput as climb_of.
[[nodiscard]] Result<Length> height_noise(const std::vector<ProfilePoint>& profile);

/// A method that fits a recording's own noise.
///
/// Method:    height_noise over the root of the points in the window is what smoothing leaves; a
///            rise counts from six times that on, 3 m at least. Where that passes 10 m the window
///            widens, to 400 m at most.
/// Source:    [climb]; the factor six (noise on the flat rises and falls by that now and then) is
///            our choice, tried on invented hills in the tests.
/// Errors:    as height_noise.
[[nodiscard]] Result<ClimbMethod> method_for_noise(const std::vector<ProfilePoint>& profile);

/// Sum of all rises and falls as they stand, noise and all; for comparison.
[[nodiscard]] Climb raw_climb(const std::vector<ProfilePoint>& profile);

}  // namespace rollwright::mech

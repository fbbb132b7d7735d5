#pragma once

#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// Two toothed pulleys and their pitch.
struct BeltDrive {
  int front = 0;           // teeth, 10 to 130
  int rear = 0;            // teeth, 10 to 130
  Length pitch = 11 * mm;  // 8 and 11 mm are made for bicycles; 2 to 20 mm
};

/// Length of the belt that closes exactly over the two pulleys at `centre_distance`.
///
/// Method:    L = 2 C cos f + z1 p (1/2 + f/pi) + z2 p (1/2 - f/pi), sin f = (D - d) / 2 C, with
///            pitch diameters D, d = z p / pi.
/// Source:    [belt-length] in docs/sources.md.
/// Accuracy:  exact for ideal pulleys. Ignores: belt stretch under tension.
/// Errors:    kOutOfRange; kContradiction when the pulleys would overlap.
[[nodiscard]] Result<Length> belt_length(const BeltDrive& drive, Length centre_distance);

/// How a belt of a given count of teeth lies.
struct BeltRun {
  Length centre_distance;    // exact
  Length approximate;        // by the catalogue formula, for comparison
  Length span;               // free straight part between the pulleys
  double teeth_in_mesh = 0;  // on the smaller pulley
  Length per_tooth;          // how much farther apart one more belt tooth would put the axles
};

/// The centre distance at which a belt of `belt_teeth` (20 to 400) closes.
///
/// Method:    bisection on belt_length, which grows with the centre distance. Catalogue formula:
///            C = (K + sqrt(K^2 - 32 (D - d)^2)) / 16, K = 4 L - 2 pi (D + d).
/// Source:    [belt-length]. Accuracy: 1e-9 mm. Ignores: belt stretch.
/// Errors:    kOutOfRange; kContradiction when the belt is too short for the two pulleys.
[[nodiscard]] Result<BeltRun> belt_run(const BeltDrive& drive, int belt_teeth);

/// What a frame allows and what is on the shelf.
struct BeltSearch {
  std::vector<int> fronts;  // teeth to choose from, 1 to 100 counts
  std::vector<int> rears;   // likewise
  std::vector<int> belts;   // likewise
  Length pitch = 11 * mm;
  Length least_centre;      // the shortest the slider or eccentric allows, 200 to 800 mm
  Length most_centre;       // the longest
  Length room_to_tighten;   // what must be left of the travel to take up stretch, 0 to 30 mm
  double wanted_ratio = 0;  // front / rear to rank by; 0 ranks by the room that is left
};
struct BeltFit {
  int front = 0;
  int rear = 0;
  int belt_teeth = 0;
  double ratio = 0;
  BeltRun run;
  Length room_left;  // from this centre distance to the longest
};

/// Every front, rear and belt whose centre distance lands inside the frame's range with the wanted
/// room left; nearest to the wanted ratio first, then the most room. None is an empty list.
/// Errors: kOutOfRange; kContradiction when the range leaves no place for the room to tighten.
[[nodiscard]] Result<std::vector<BeltFit>> belts_that_fit(const BeltSearch& search);

/// Tension of a belt whose free span sounds at `pitch`, and back: T = 4 m s^2 f^2.
///
/// Source:    [belt-tension]. Accuracy: that of the mass per metre: weigh the belt.
/// Ignores:   bending stiffness of the belt. Turn the cranks to four places and take the lowest.
/// Errors:    kOutOfRange (mass 0.01 to 0.5 kg/m, span 50 to 800 mm, pitch 5 to 300 Hz).
struct BeltSpan {
  LineDensity mass;
  Length span;
};
[[nodiscard]] Result<Force> belt_tension(const BeltSpan& span, Frequency pitch);
[[nodiscard]] Result<Frequency> belt_pitch(const BeltSpan& span, Force tension);

}  // namespace rollwright::mech

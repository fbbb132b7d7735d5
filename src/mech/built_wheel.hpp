#pragma once

#include "base/result.hpp"
#include "mech/rim_section.hpp"
#include "mech/spoke_length.hpp"
#include "mech/tension_ratio.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A wheel with bent spokes before it is built.
struct WheelToBuild {
  WheelGeometry geometry;
  Length spoke_diameter;    // of the middle, 0.8 to 4 mm; steel
  TensionTargets tensions;  // means of the sides, 50 to 3000 N
  RimSection rim;           // its radius is that of the geometry
};

/// One side of it.
struct BuiltSide {
  SpokeLine spoke;
  Length sounding;         // nipple to outermost crossing: what sounds when it is plucked
  Frequency pitch;         // of that at the mean tension, midway between pinned and clamped ends
  Frequency pitch_apart;   // of either from the middle
  Length stretch;          // of the spoke at the mean tension
  Length beside_heads;     // room beside the nearest other spoke head
  int most_crosses = 0;
  double share = 0;        // of a load on the rim, that the spoke over the contact gives up
  double share_of_three = 0;  // with the two beside it
  Force slack_at;          // load on the rim over one of its spokes under which that goes slack
};

/// What the wheel will be once it is built.
struct BuiltWheel {
  BuiltSide left;
  BuiltSide right;
  Length rim_shrink;      // of the radius
  double lateral = 0;     // stiffness at the rim, N/mm, the lesser of two neighbouring nipples
  double radial = 0;
  double torsional = 0;   // N·m to turn the rim against the hub by a degree
  Force mean;             // tension of all spokes
  Force buckles_at;       // mean tension at which even tension alone folds the wheel
  Force buckling_advice;  // half of that
};

/// Method:    spoke_length, length_to_crossing, spoke_pitch, spoke_stretch, rim_shrink for the sides;
///            WheelModel with the usual elbow factor for stiffness and for the tension that spokes
///            give up under a load; the spokes' energy about a rigid rim for torsion; smeared for the
///            buckling tension.
/// Source:    [spoke-geometry], [spoke-pitch], [spoke-stretch], [wheel-thesis].
/// Accuracy:  as good as the rim's stiffness is known; stiffness and shares 20 % with an estimated
///            rim, pitch 3 to 9 %.
/// Ignores:   butting beyond the middle's diameter, the tyre, spokes that go slack.
/// Errors:    those of the calculations; kContradiction when the tensions buckle the wheel.
///
/// The rim maker's and the hub maker's printed limits come first; wear eye protection.
[[nodiscard]] Result<BuiltWheel> built_wheel(const WheelToBuild& wheel);

}  // namespace rollwright::mech

#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "mech/stress.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A metric thread.
struct Thread {
  Length diameter;  // nominal, 2 to 30 mm
  Length pitch;     // 0.25 to 3.5 mm
};

/// Sizes that follow from the basic profile.
/// Source: [metric-thread] in docs/sources.md (ISO 68-1, ISO 724). Accuracy: exact, no tolerance
/// zone. Errors: kOutOfRange; kContradiction for a pitch too coarse for the diameter.
struct ThreadSizes {
  Length flank;     // d2, d - 3/4 H
  Length nut_core;  // d1, d - 5/4 H
  Length core;      // d3, d - 17/12 H
  double stress_area_mm2 = 0;
};
[[nodiscard]] Result<ThreadSizes> thread_sizes(const Thread& thread);

/// A bolted joint as tightened.
struct BoltedJoint {
  Thread thread;
  Length head_face;               // outer diameter of the bearing face, 3 to 60 mm
  Length hole;                    // clearance hole, 2 to 33 mm
  double thread_friction = 0.12;  // 0.04 to 0.4
  double head_friction = 0.12;    // 0.04 to 0.4; dry, oiled and greased differ widely
};

/// Torque that gives a preload, and back.
///
/// Method:    M = F (p / 2 pi + mu_G d2 / (2 cos 30) + mu_K D / 2), D the mean of head face and
///            hole (Motosh).
/// Source:    [bolt-torque] in docs/sources.md (VDI 2230).
/// Accuracy:  that of the friction: 0.10 instead of 0.14 moves the preload by a third. Greasing a
///            bolt whose torque is meant dry can over-stress it. The standard's printed tables
///            round two coefficients and give 0.2 to 0.4 % more torque.
/// Ignores:   prevailing torque of lock nuts, thread compound, settling.
/// Errors:    kOutOfRange; kContradiction when the hole is not smaller than the head's face.
///
/// The value printed on the part or in its maker's book comes before anything computed here.
[[nodiscard]] Result<Torque> torque_for_preload(const BoltedJoint& joint, Force preload);
[[nodiscard]] Result<Force> preload_for_torque(const BoltedJoint& joint, Torque torque);

/// Preload at which tension and twist together bring the bolt to `share` (0.1 to 1) of its yield.
/// Method:   F = A s Rp / sqrt(1 + 3 (3/2 d2/ds (p / (pi d2) + mu_G / cos 30))^2), ds = (d2+d3)/2.
/// Source:   [bolt-torque]. Errors: kOutOfRange (yield 100 to 2000 MPa), kContradiction.
[[nodiscard]] Result<Force> preload_at_yield(const BoltedJoint& joint, Pressure yield,
                                             double share = 0.9);

/// A strength class of bolts.
struct BoltClass {
  std::string name;  // "8.8"
  Pressure yield;    // Rp0.2
  Pressure proof;    // stress under proof load; zero when the class has none
};
/// Source: [bolt-classes]; yields from memory.
[[nodiscard]] const std::vector<BoltClass>& bolt_classes();

/// One row of the usual tightening table: 90 % of yield, one friction for thread and head.
struct TighteningRow {
  std::string thread;  // "M5"
  Thread size;
  Length head_face;  // hexagon and cap screws
  Length hole;       // ISO 273, medium
};
[[nodiscard]] const std::vector<TighteningRow>& tightening_rows();

struct Tightening {
  Force preload;
  Torque torque;
};
/// Preload and torque of one joint at 90 % of yield. Errors: as above.
[[nodiscard]] Result<Tightening> tightening_at_90_percent(const BoltedJoint& joint, Pressure yield);

/// One limit on a joint, from bolt, thread or part.
struct TorqueLimit {
  std::string name;  // "bar, printed", "bolt 8.8"
  Torque torque;     // 0.05 to 500 N·m
};
/// The limit that is reached first. Errors: kBadInput when there is none; kOutOfRange.
[[nodiscard]] Result<TorqueLimit> strictest_torque(const std::vector<TorqueLimit>& limits);

}  // namespace rollwright::mech

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "mech/joint_torque.hpp"

namespace rollwright::mech {

/// How far friction and tool may be off.
struct JointScatter {
  double least_friction = 0.10;  // of thread and head together, 0.04 to 0.4
  double most_friction = 0.16;   // at least that
  double tool = 0.06;            // torque wrench, share of the torque to either side, 0 to 0.5
};

/// Preload that a torque brings about.
struct PreloadBand {
  Force least;                    // rough and under-tightened
  Force nominal;                  // friction in the middle of its range
  Force most;                     // slick and over-tightened
  double tightening_factor = 1;   // most over least, alpha_A of VDI 2230
};

/// Preload of a joint over the scatter; the joint's own frictions are not used.
/// Method:   preload_for_torque at the ends. Source: [bolt-torque]; the bands of friction are
///           common practice (from memory). Errors: kOutOfRange; kContradiction, also for a least friction
///           over the most.
[[nodiscard]] Result<PreloadBand> preload_band(const BoltedJoint& joint, Torque torque,
                                               const JointScatter& scatter);

/// What the screw goes into, and what its head presses on.
struct JointParts {
  std::string bolt = "bolt";
  Pressure bolt_yield;                     // 100 to 2000 MPa
  double yield_share = 0.9;                // of the yield to use, 0.1 to 1
  std::string tapped = "thread of the part";
  Length engaged;                          // length of thread that carries, 1 to 60 mm
  Pressure tapped_shear;                   // shear strength of the tapped part, 20 to 1500 MPa
  double thread_share = 0.75;              // of that to use, 0.1 to 1: taper, bell, damage
  std::string seat = "seat under the head";
  Pressure seat_most;                      // pressure it stands, 20 to 2000 MPa
  std::optional<TorqueLimit> printed;      // the maker's torque: a most, whatever is computed
  Force needed = {};                       // preload that the joint must have, 0 for none given
};

/// One thing that can give way, and the preload at which it would.
struct JointLimit {
  std::string name;
  Force preload;
};

/// Torque for a joint that nothing in it can be overloaded by.
struct JointTorque {
  Torque torque;                    // the most for the setting of the wrench; show N·m and in-lb
  std::string weakest;              // what sets it: bolt, thread, seat or the printed value
  PreloadBand preload;              // at that torque
  std::vector<JointLimit> limits;   // bolt, thread and seat, weakest first
  bool enough = true;               // the least preload is at least what is needed
};

/// The most torque that keeps bolt, thread and part whole even with slick threads and a wrench that
/// reads low, never over the printed one.
///
/// Method:    preloads of bolt (preload_at_yield at the least friction), tapped thread
///            (pi d l/P (P/2 + (d - d2)/sqrt 3) times shear strength) and seat (pressure times
///            pi/4 (head^2 - hole^2)); the smallest, at the least friction, less the tool's share.
/// Source:    [bolt-torque] in docs/sources.md; area of the tapped thread from memory of VDI 2230.
/// Accuracy:  strengths are the user's data; the geometry has no tolerance zone.
/// Ignores:   bending, working loads, carbon parts (only their printed torque counts), settling.
/// Errors:    kOutOfRange; kContradiction as torque_for_preload.
///
/// The value printed on the part or in its maker's book comes first.
[[nodiscard]] Result<JointTorque> joint_torque(const BoltedJoint& joint, const JointParts& parts,
                                               const JointScatter& scatter = {});

/// Whether a part's failure torque keeps the 1.5 times its maker's torque that ISO 4210-2 asks of
/// screws of bars, stem, saddle and post. Errors: kOutOfRange (0.1 to 500 N·m).
[[nodiscard]] Result<bool> keeps_failure_margin(Torque failure, Torque printed);

}  // namespace rollwright::mech

#pragma once

#include <vector>

#include "base/result.hpp"
#include "mech/rim_section.hpp"
#include "mech/wheel_lacing.hpp"
#include "mech/wheel_smeared.hpp"
#include "mech/wheel_solver.hpp"

namespace rollwright::mech {

/// Directions at a point of the rim: to the left, towards the axle, along growing angles.
enum class RimDirection { kLateral, kRadial, kTangential };

/// A shape that the whole wheel takes: the rim's, as coefficients, and each spoke's change.
struct WheelShape {
  std::vector<double> terms;            // mm, for WheelModel::move
  std::vector<double> tension_change;  // N, one for each spoke
};

/// A rim that is not true of itself: 1 mm of cos (or sin) of `waves` times the angle.
struct RimBend {
  RimDirection direction;  // kLateral or kRadial
  int waves = 2;           // 2 to the model's waves
  bool sine = false;
};

struct WheelModelSetting {
  double elbow_factor = kElbowFactor;  // see mech/wheel_smeared.hpp, 0.3 to 1
  int waves = 48;                      // Fourier terms each way round, 8 to 120
};

/// A wheel as an elastic ring on single spokes, linear about its tensions.
///
/// Method:    Fourier series for the rim's lateral, radial and tangential movement; strain energy
///            of bending both ways, torsion (its twist solved for term by term) and length of the
///            ring, stretch and string stiffness of each spoke, the hoop force's push sideways; one
///            Cholesky factor for all questions.
/// Source:    [wheel-thesis], [ring]. The elbow factor scales c1² of each spoke's stretch.
/// Accuracy:  0.5 % of the converged model at 48 waves; real wheels with bent elbows are up to 35 %
///            softer sideways than a factor of 1 says.
/// Ignores:   nipples off the shear centre, joint and holes, the tyre, slack spokes, friction at
///            crossings, the change of stiffness with what is asked; the rim's compression in its
///            own plane, which takes away 1 to 3 % radially and, when the rim turns round the hub,
///            all but hub over rim radius of the strings' share (reasoned from the energies).
/// Invariants: positive definite. Threads: const use from many.
class WheelModel {
 public:
  /// Errors: kOutOfRange for the rim, the setting, a spoke's length, rigidity or tension, fewer
  /// than 8 or more than 144 spokes; kContradiction when the wheel does not stand by itself: the
  /// tensions buckle it, or nothing keeps the rim from turning (radial spokes without tension).
  [[nodiscard]] static Result<WheelModel> of(const RimSection& rim, std::vector<WheelSpoke> spokes,
                                             const WheelModelSetting& setting = {});

  [[nodiscard]] const std::vector<WheelSpoke>& spokes() const { return spokes_; }
  [[nodiscard]] const RimSection& rim() const { return rim_; }

  /// What 1 N at a point of the rim does. Linear: shapes add up and scale.
  [[nodiscard]] WheelShape under_newton(RimDirection direction, Angle at) const;
  /// What one full turn tighter of nipple `spoke` (from 0) does, without wind-up.
  [[nodiscard]] WheelShape after_turn(int spoke) const;
  /// What a bent rim does to the wheel built on it.
  [[nodiscard]] WheelShape with_bend(const RimBend& bend) const;

  /// Movement in mm of the rim at a point.
  [[nodiscard]] double move(const WheelShape& shape, RimDirection direction, Angle at) const;
  /// N/mm at a point of the rim.
  [[nodiscard]] double stiffness(RimDirection direction, Angle at) const;

 private:
  WheelModel(RimSection rim, std::vector<WheelSpoke> spokes, WheelModelSetting setting,
             PositiveSolver solver);
  [[nodiscard]] WheelShape answer(std::vector<double> load) const;

  RimSection rim_;
  std::vector<WheelSpoke> spokes_;
  WheelModelSetting setting_;
  PositiveSolver solver_;
};

}  // namespace rollwright::mech

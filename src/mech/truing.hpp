#pragma once

#include <optional>
#include <vector>

#include "base/result.hpp"
#include "mech/truing_influence.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// What gauges read on the stand at one place of the rim. Zeros of the gauges are free.
struct RunOutReading {
  Angle at;                       // from where the spokes' angles are counted
  std::optional<Length> lateral;  // towards the left, -20 to 20 mm
  std::optional<Length> radial;   // towards the axle, -20 to 20 mm
};
struct TensionReading {
  int spoke = 0;      // from 0, in the wheel's order
  Force tension;      // 0 to 5000 N
  Force uncertainty;  // standard, 1 to 1000 N; a meter's is about 5 % (common practice)
};
struct SpokeTurn {
  int spoke = 0;
  int quarters = 0;  // of a turn, positive tightens; -16 to 16
};

/// One round on the stand: readings first, then the turns that were made.
struct TruingPass {
  std::vector<RunOutReading> run_out;    // at 8 places or more; 2 a spoke are plenty
  std::vector<TensionReading> tensions;  // of any spokes, or none
  std::optional<Length> dish;            // mean of the rim left of the locknuts' middle, ± 20 mm
  std::vector<SpokeTurn> turns;          // made after these readings; none yet in the last pass
};
struct TruingReadings {
  std::vector<TruingPass> passes;     // in order, the last holds today's readings; 1 to 20
  Length gauge = 0.03 * mm;           // standard uncertainty of run-out, 0.001 to 1 mm
  Length dish_gauge = 0.1 * mm;       // of dish, 0.01 to 2 mm
};

/// When a wheel is done. Sources: [run-out], [tension-spread]; the shop's own limits come first.
struct TruingLimits {
  Length lateral = 0.5 * mm;  // greatest less least around the rim, 0.05 to 10 mm
  Length radial = 0.5 * mm;   // the same
  Length dish = 0.5 * mm;     // rim off the middle either way, 0.05 to 10 mm
  double spread = 0.2;        // of a spoke from its side's mean, 0.02 to 0.5
  Force left;                 // mean to build to, 50 to 3000 N (mech/tension_ratio.hpp)
  Force right;
  double mean_within = 0.15;  // of a side's mean from it, 0.02 to 0.5
  Force highest;              // strictest of rim's and spokes' limits, 100 to 3000 N
  int most_quarters = 4;      // for one spoke in one pass, 1 to 8
};

/// The rim at one place as estimated, from its own mean around the wheel.
struct RimPlace {
  Angle at;        // from where the spokes' angles are counted
  Length lateral;  // towards the left
  Length radial;   // towards the axle
};

/// A wheel as estimated, with standard uncertainties.
struct TruingState {
  Length lateral;  // greatest less least around the rim
  Length radial;
  Length dish;     // towards the left; meaningless when no pass had a reading of it
  Force left;      // mean of the side
  Force right;
  double spread = 0;                 // furthest spoke from its side's mean, as a share
  std::vector<RimPlace> rim;         // at every nipple and midway to the next one
  std::vector<Force> tensions;       // by spoke
  std::vector<Force> uncertainties;  // standard, of the tensions
  double true_enough = 0;            // probability that run-out and dish are inside their limits
  double inside = 0;                 // probability that all limits are met
};

enum class TruingVerdict {
  kInside,    // leave it alone
  kTurn,      // these turns should bring it inside
  kApproach,  // these turns bring it nearer; one pass is not enough, or quarters are too coarse
  kRimBent,   // no turns within the tension limits reach the run-out limits
};

/// Where the rim stays out however the spokes are turned.
struct BentRim {
  RimDirection direction = RimDirection::kLateral;
  Angle at;        // the place furthest out
  Length size;     // run-out that stays
  Length towards;  // how far that place stays off the middle of the run-out, signed as a reading
};

struct TruingAdvice {
  TruingVerdict verdict = TruingVerdict::kInside;
  std::vector<SpokeTurn> turns;  // by spoke, none with 0 quarters
  TruingState now;
  TruingState after;             // expected when the turns are made
  std::optional<BentRim> bent;   // with kRimBent
  double elbow_factor = 0;       // as the readings suggest, mean
  std::vector<int> read_next;    // spokes whose tension is too little known, least known first
  bool dish_known = false;       // when false, dish is only kept from moving
};

/// A wheel prepared for advice; build it once for all passes.
///
/// Invariants: at least one member, all of the same wheel. Threads: const use from many.
class TruingWheel {
 public:
  /// `spokes` carry the tensions to build to (not those of today). `least_elbow` and `most_elbow`
  /// (0.3 to 1) bound the elbow factor of mech/wheel_smeared.hpp, which readings narrow down; both
  /// 1 for straight-pull spokes. Errors: as for WheelModel::of; kContradiction for least above
  /// most, or when all spokes hang from one flange.
  [[nodiscard]] static Result<TruingWheel> of(const RimSection& rim,
                                              const std::vector<WheelSpoke>& spokes,
                                              double least_elbow = 0.65, double most_elbow = 1);

  [[nodiscard]] const std::vector<WheelSpoke>& spokes() const { return spokes_; }
  /// One for each elbow factor that is thought possible.
  [[nodiscard]] const std::vector<TruingInfluence>& members() const { return members_; }

 private:
  TruingWheel() = default;
  std::vector<WheelSpoke> spokes_;
  std::vector<TruingInfluence> members_;
};

/// The fewest quarter turns that should bring a wheel inside its limits.
///
/// Method:    the state (each spoke's error in turns, the bare rim's bends up to 12 waves) is
///            estimated from all passes by linear Gaussian updates, once for each elbow factor;
///            these are weighed by how well they foretold the readings. Whole quarter turns are
///            searched for (mech/truing_turns.hpp) on the likeliest, once aimed just inside and
///            once well inside; of the answers expected inside, the one most probably so less 0.005
///            for each quarter; its quarters are then changed one by one while that makes it
///            likelier (mech/truing_odds.hpp). Probabilities by 200 draws over all factors.
/// Source:    [truing], [wheel-thesis].
/// Accuracy:  `./measure truing`: of 1,000 simulated wheels 94 to 96 in 100, by the seed, are
///            inside after three passes. A search, so "fewest" is not proven; tests compare it
///            with enumeration on small cases.
/// Ignores:   wind-up of the spokes (turn beyond and back), dents narrower than a twelfth of the
///            rim (leave out readings over a dented joint), slack spokes, the tyre.
/// Caution:   no spoke is expected to end where the upper 95 % bound of its tension passes
///            `highest`, unless it is there already; then it is not raised further.
/// Errors:    kOutOfRange and kBadInput naming the pass (from 1) for readings, turns or limits
///            outside their ranges, unknown spokes, or fewer than 8 places of run-out.
[[nodiscard]] Result<TruingAdvice> truing_advice(const TruingWheel& wheel,
                                                 const TruingReadings& readings,
                                                 const TruingLimits& limits);

}  // namespace rollwright::mech

#pragma once

#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A chain over two sprockets, half-inch pitch.
struct ChainDrive {
  int front = 0;           // teeth, 6 to 130
  int rear = 0;            // teeth, 6 to 130
  Length centre_distance;  // 150 to 1500 mm
};

/// Chain length in links (half-inch pitches), not yet a whole number.
struct ChainLinks {
  double exact = 0;
  double approximate = 0;  // the handbook form, good to 0.002 links on a bicycle
  int to_cut = 0;          // rounded up to an even count, so that the ends meet
};

/// Links of a chain without a derailleur.
///
/// Method:    exact: straight runs between pitch circles D = p / sin(pi/N) and whole pitches on the
///            sprockets. Approximate: 2C/p + (N+n)/2 + ((N-n)/2 pi)^2 p/C.
/// Source:    [chain-length] in docs/sources.md.
/// Accuracy:  0.01 links. Ignores: wear, the polygon shape of the path on the teeth.
/// Errors:    kOutOfRange; kContradiction when the sprockets overlap.
[[nodiscard]] Result<ChainLinks> chain_links(const ChainDrive& drive);

/// Centre distance at which a chain of `links` (20 to 300) is straight, by the exact form.
/// Errors: kOutOfRange; kContradiction when the chain is too short.
[[nodiscard]] Result<Length> chain_centre_distance(int front, int rear, int links);

/// Chains that fit without a derailleur.
struct ChainSearch {
  int front = 0;
  int rear = 0;
  Length least_centre;      // the shortest the slider or eccentric allows, 150 to 1500 mm
  Length most_centre;       // the longest
  Length room_to_tighten;   // of the travel, to take up wear, 0 to 30 mm
  bool half_links = false;  // a half link makes odd counts possible
};
struct ChainFit {
  int links = 0;
  Length centre_distance;
  Length room_left;
};
/// Every whole count of links whose centre distance lies in the frame's range with the wanted room
/// left, shortest first. None is an empty list.
/// Errors: kOutOfRange; kContradiction when the sprockets overlap or no room is left to tighten.
[[nodiscard]] Result<std::vector<ChainFit>> chains_that_fit(const ChainSearch& search);

/// Links for a derailleur bike, largest chainring to largest sprocket without the derailleur.
///
/// Method:    in inches 2 C + front / 4 + rear / 4 + 1, up to the next whole inch. With rear
///            suspension give the longest chainstay over the travel.
/// Source:    [chain-rule]. Accuracy: a rule of thumb; lay the chain on before cutting.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<int> derailleur_chain_links(const ChainDrive& largest);

/// Slack that the derailleur must take up, in teeth: spread of the rings plus of the sprockets.
struct Teeth {
  int front_most = 0, front_least = 0, rear_most = 0, rear_least = 0;
};
/// Errors: kOutOfRange; kContradiction when a least is over its most.
[[nodiscard]] Result<int> derailleur_capacity(const Teeth& teeth);

/// Elongation of a chain as a share of its new length, from a measured length over whole half-inch
/// pitches (2 to 200). Errors: kOutOfRange, also for a reading under -1 % or over 3 %, which is a
/// miscount.
[[nodiscard]] Result<double> chain_wear(Length measured, int pitches);
/// Length over `pitches` of a chain worn by `share` (0.005 is 0.5 %).
[[nodiscard]] Length worn_chain_length(int pitches, double share);

}  // namespace rollwright::mech

#pragma once

#include <string_view>
#include <vector>

namespace rollwright::spec::testing {

/// Parts of a bike that are usually chosen to go with each other. A frame stands for itself.
enum class Cluster {
  kFrame, kSteering, kSeat, kFrontWheel, kRearWheel, kBrakes, kElectric, kDrive, kFittings,
};
inline constexpr int kClusters = 9;

/// A position of the invented bikes. Ranges of mass and price are rough figures from memory.
struct SlotRow {
  std::string_view id;
  Cluster cluster = Cluster::kFrame;
  bool optional = false;
  int quantity = 1;
  int least_grams = 0;
  int most_grams = 0;
  int least_euros = 0;
  int most_euros = 0;
};
/// The frame first; the first 30 make a whole e-bike with belt and hub gear.
[[nodiscard]] const std::vector<SlotRow>& slot_rows();

/// How two parts meet, or three, or four.
enum class Meeting {
  kSame,      // one has a size, the other is made for that size
  kAccepts,   // the other takes any of several
  kTable,     // a table says which go together, some with an adapter, some with care
  kNotMore,   // a width, a thickness against the room for it
  kNeeds,     // a part with some trait wants the other slot filled, or a trait there
  kStack,     // heights that add up against a length
  kTriple,    // a table over three
  kUseClass,  // one part against what the order asks for; a CLAIM
  kFunction,  // one part by itself: is it what belongs there
  kMass,      // the mass of everything and the load against what the frame is permitted
};

/// One interface. The last slot of kNotMore, kStack and kAccepts is the one that sets the limit.
struct InterfaceRow {
  Meeting meeting = Meeting::kSame;
  std::vector<std::string_view> slots;
  int values = 4;      // how many values are on offer
  bool local = false;  // a size that says nothing about the cluster's families (a bar's clamp)
};
/// The graph of the invented bikes, what matters most first. It follows the trade's own rules:
/// the frame touches most slots; hub, rim, tyre and tube, headset, fork and stem, motor, battery,
/// display and charger, crank, ring, belt and sprocket hang together; few look at three or four.
[[nodiscard]] const std::vector<InterfaceRow>& interface_rows();

}  // namespace rollwright::spec::testing

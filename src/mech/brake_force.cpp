#include "mech/brake_force.hpp"

#include <algorithm>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kPads = 2;

/// Force at the tyre over force of the hand.
Result<double> whole_ratio(const BrakeChain& chain) {
  if (auto error = first_outside({{"lever ratio", chain.lever_ratio, 1, 20, ""},
                                  {"efficiency", chain.efficiency, 0.2, 1, ""},
                                  {"calliper ratio", chain.calliper_ratio, 0.5, 20, ""},
                                  {"friction of the pads", chain.friction, 0.05, 0.9, ""},
                                  {"pad radius", chain.pad_radius.in(mm), 40, 350, "mm"},
                                  {"tyre radius", chain.tyre_radius.in(mm), 100, 400, "mm"}})) {
    return std::unexpected(*error);
  }
  return chain.lever_ratio * chain.efficiency * chain.calliper_ratio * kPads * chain.friction *
         (chain.pad_radius / chain.tyre_radius);
}

}  // namespace

Result<Force> brake_force(const BrakeChain& chain, Force hand) {
  if (auto error = first_outside({{"hand force", hand.in(newton), 0, 500, "N"}})) {
    return std::unexpected(*error);
  }
  const auto ratio = whole_ratio(chain);
  if (!ratio) return std::unexpected(ratio.error());
  return *ratio * hand;
}

Result<Force> hand_force(const BrakeChain& chain, Force at_tyre) {
  if (auto error = first_outside({{"brake force", at_tyre.in(newton), 0, 5000, "N"}})) {
    return std::unexpected(*error);
  }
  const auto ratio = whole_ratio(chain);
  if (!ratio) return std::unexpected(ratio.error());
  return at_tyre / *ratio;
}

Result<Force> corrected_brake_reading(Force read, Force applied, Force meant) {
  if (auto error = first_outside({{"brake force read", read.in(newton), 0, 5000, "N"},
                                  {"hand force applied", applied.in(newton), 10, 500, "N"},
                                  {"hand force meant", meant.in(newton), 10, 500, "N"}})) {
    return std::unexpected(*error);
  }
  return meant / applied * read;
}

Result<MassJudged> mass_within(const std::vector<MassLimit>& limits, Mass whole) {
  if (limits.empty()) {
    return refuse(Code::kBadInput, "No permitted mass is known; enter what the makers print.",
                  {.field = "permitted mass"});
  }
  if (auto error = first_outside({{"whole mass", whole.in(kg), 1, 1000, "kg"}})) {
    return std::unexpected(*error);
  }
  for (const MassLimit& limit : limits) {
    if (auto error = first_outside({{limit.name, limit.most.in(kg), 20, 500, "kg"}})) {
      return std::unexpected(*error);
    }
  }
  const MassLimit& strictest =
      *std::min_element(limits.begin(), limits.end(),
                        [](const MassLimit& a, const MassLimit& b) { return a.most < b.most; });
  return MassJudged{strictest, strictest.most - whole, whole <= strictest.most};
}

}  // namespace rollwright::mech

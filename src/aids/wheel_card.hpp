#pragma once

#include <optional>

#include "aids/given.hpp"
#include "mech/built_wheel.hpp"
#include "mech/wheelset_stock.hpp"

// A wheel's card: what is reckoned, and how it is written down.
namespace rollwright::aids {

/// What a wheel's card says, before it is words.
struct WheelCard {
  mech::WheelGeometry geometry;
  mech::WheelSpokes spokes;
  std::optional<mech::TensionTargets> tensions;  // nothing without a limit of the rim
  std::optional<mech::BuiltWheel> built;         // with tensions
  Result<mech::WheelsetStock> stock;             // left, right, then the other wheel's
  bool cut_to_length = false;
  double nipple_limit_deg = 0;  // of the rim, or what is usual
  bool nipple_limit_known = false;
};

[[nodiscard]] std::vector<Input> wheel_card_fields();
/// Errors: those of the calculations, but for stock that does not fit, which is for the card to say.
[[nodiscard]] Result<WheelCard> wheel_card(const Given& given);

/// wheel_card_words.cpp: the card's table of both sides, its rows and its cautions.
[[nodiscard]] Reckoned wheel_card_words(const WheelCard& card, const Given& given);

}  // namespace rollwright::aids

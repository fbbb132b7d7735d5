#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A tyre's size as ISO 5775 writes it: "47-622".
struct TyreSize {
  Length width;      // nominal section width, 10 to 150 mm
  Length bead_seat;  // nominal rim diameter, 150 to 800 mm
};

/// Reads "47-622", also with spaces around the hyphen.
/// Source: [tyre-designation] in docs/sources.md. Errors: kBadInput, with a sentence of its own for
/// names in inches and for "700x47C", which do not say which rim they fit; kOutOfRange.
[[nodiscard]] Result<TyreSize> parse_tyre_size(std::string_view text);
[[nodiscard]] std::string designation(const TyreSize& size);

/// Outside diameter and way of one turn.
/// Method:    bead seat + 2 width; pi times that. Source: [tyre-designation].
/// Accuracy:  1 % either way; a measured roll-out with the rider on goes first.
/// Ignores:   that a section is rarely as high as it is wide; squash.
[[nodiscard]] Length tyre_diameter(const TyreSize& size);
[[nodiscard]] Length tyre_circumference(const TyreSize& size);

/// One row of the table "tyre widths for a rim". The table is data of the shop.
struct RimWidthRow {
  Length rim_inner;
  Length least_tyre;
  Length most_tyre;
};
struct RimMatch {
  Length least_tyre;
  Length most_tyre;
  bool holds = false;
};

/// Whether a tyre of `width` may go on a rim of `rim_inner` width.
///
/// Method:    the table's rows, straight lines between neighbouring rows.
/// Source:    the rows' own; usual values [tyre-rim-width].
/// Accuracy:  editions of the table disagree; the tyre's and the rim's own release come first.
/// Errors:    kOutOfRange when the rim is narrower or wider than every row; kBadInput for a table
///            that is empty, out of order or has a least over its most.
[[nodiscard]] Result<RimMatch> tyre_on_rim(Length width, Length rim_inner,
                                           const std::vector<RimWidthRow>& rows);

/// Room of a tyre in a frame or fork.
struct TyreRoom {
  Length opening;     // between the stays or blades (or guards) at the tyre, 15 to 250 mm
  Length real_width;  // as mounted and measured; the nominal width when nobody measured, 10 to 150
  Length least_room;  // wanted on each side, 0 to 30 mm; [tyre-clearance]
};
struct TyreClearance {
  Length each_side;  // negative when the tyre does not go in at all
  Length widest;     // the widest tyre that leaves the wanted room
  bool holds = false;
};
/// Method: half of opening less width. Source: [tyre-clearance]. Ignores: rim run-out, mud, flex.
/// Errors: kOutOfRange.
[[nodiscard]] Result<TyreClearance> tyre_clearance(const TyreRoom& room);

/// What the tyre and the rim print. A zero limit is one that is not printed.
struct PressureMarks {
  Pressure tyre_least;
  Pressure tyre_most;
  Pressure rim_most;
  bool hookless_rim = false;
  bool tyre_for_hookless = false;  // the tyre's maker releases it for straight-sided rims
};
struct PressureRange {
  Pressure least;
  Pressure most;
  std::string most_set_by;  // "tyre", "rim", "hookless rim"
};

/// The pressures that all marks allow.
///
/// Method:    the lowest of the tyre's and the rim's greatest, and 5 bar on a hookless rim.
/// Source:    [hookless], [tyre-pressure].
/// Errors:    kOutOfRange (a printed pressure over 12 bar); kBadInput when neither tyre nor rim
///            prints a greatest pressure; kContradiction when the least passes the greatest, or a
///            hookless rim meets a tyre that is not released for it.
[[nodiscard]] Result<PressureRange> pressure_range(const PressureMarks& marks);

struct SuggestedPressure {
  Pressure pressure;
  Pressure before_limits;
  bool limited = false;  // the marks moved it
};

/// A first pressure to try, for the load on one wheel (10 to 250 kg) and the tyre's real width
/// (18 to 120 mm).
///
/// Method:    the pressure at which the tyre drops by about 15 % of its height under the load:
///            4.55 bar * (load / 45.4 kg) * (28 mm / width)^1.8, kept within the marks.
/// Source:    [tyre-drop] in docs/sources.md; chart points from memory.
/// Accuracy:  10 % against the chart between 20 and 37 mm; wider tyres are extrapolated.
/// Ignores:   casing, inserts, surface, temperature.
/// Errors:    kOutOfRange.
[[nodiscard]] Result<SuggestedPressure> suggested_pressure(Mass wheel_load, Length real_width,
                                                           const PressureRange& range);

}  // namespace rollwright::mech

#include "mech/spoke_length.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

// Limits of the stock rule, mm under and over the computed length. [spoke-stock]
constexpr double kMostUnder = 1.0;
constexpr double kMostOver = 0.5;
// Stock lists and computed lengths come from decimals; a hair must not decide.
constexpr double kHair = 1e-9;

std::optional<Error> flange_not_smaller(Length flange_circle, Length rim_diameter) {
  if (flange_circle < rim_diameter) return std::nullopt;
  return Error{
      Code::kContradiction,
      fmt::format("The flange circle of {} mm is not smaller than the effective rim diameter of {} "
                  "mm; one of the two is mistyped.",
                  rounded(flange_circle.in(mm), 2), rounded(rim_diameter.in(mm), 2)),
      Place{.field = "flange circle"}};
}

std::optional<Error> lacing_problem(const WheelSide& side) {
  if (!(side.crosses > 0)) return std::nullopt;
  if (side.holes % 2 != 0) {
    return Error{Code::kContradiction,
                 fmt::format("A flange with {} holes cannot be laced crossed: leading and trailing "
                             "spokes go in pairs, so the count per flange is even.",
                             side.holes),
                 Place{.field = "holes"}};
  }
  const auto most = most_crosses(side.flange_circle, side.rim_diameter, side.holes);
  if (!most) return most.error();
  if (side.crosses <= *most) return std::nullopt;
  return Error{
      Code::kContradiction,
      fmt::format("{} crosses do not fit {} holes on a {} mm flange circle: the spokes would run "
                  "over the heads beside them. {} crosses are the most.",
                  plain(side.crosses), side.holes, rounded(side.flange_circle.in(mm), 2), *most),
      Place{.field = "crosses", .value = plain(side.crosses)}};
}

std::optional<Error> side_problem(const WheelSide& side) {
  if (auto error =
          first_outside({{"flange circle", side.flange_circle.in(mm), 15, 300, "mm"},
                         {"flange offset", side.flange_offset.in(mm), -20, 120, "mm"},
                         {"effective rim diameter", side.rim_diameter.in(mm), 150, 800, "mm"},
                         {"rim offset", side.nipples_towards.in(mm), -10, 10, "mm"},
                         {"spoke hole", side.spoke_hole.in(mm), 1.8, 5, "mm"},
                         {"holes in the flange", static_cast<double>(side.holes), 4, 72, ""},
                         {"crosses", side.crosses, 0, 18, ""}})) {
    return error;
  }
  if (auto error = flange_not_smaller(side.flange_circle, side.rim_diameter)) return error;
  return lacing_problem(side);
}

Result<SpokeLine> named_side(std::string_view name, const WheelSide& side) {
  auto line = spoke_length(side);
  if (line) return line;
  Error error = line.error();
  error.sentence = fmt::format("{} side: {}", name, error.sentence);
  return std::unexpected(std::move(error));
}

WheelSide side_of(const WheelGeometry& wheel, const Flange& flange, Length nipples_towards) {
  return {.flange_circle = flange.circle,
          .flange_offset = flange.offset,
          .rim_diameter = wheel.rim_diameter,
          .nipples_towards = nipples_towards,
          .spoke_hole = wheel.spoke_hole,
          .holes = flange.holes,
          .crosses = flange.crosses};
}

}  // namespace

Result<SpokeLine> spoke_between(const SpokeEnds& ends) {
  if (auto error =
          first_outside({{"hub radius", ends.hub_radius.in(mm), 0, 150, "mm"},
                         {"hub angle", ends.hub_angle.in(radian), -1e3, 1e3, "radian"},
                         {"hub point across", ends.hub_across.in(mm), -150, 150, "mm"},
                         {"rim radius", ends.rim_radius.in(mm), 75, 400, "mm"},
                         {"rim angle", ends.rim_angle.in(radian), -1e3, 1e3, "radian"},
                         {"nipple across", ends.rim_across.in(mm), -30, 30, "mm"},
                         {"seat correction", ends.seat_correction.in(mm), -150, 150, "mm"}})) {
    return std::unexpected(*error);
  }
  const double turn = (ends.hub_angle - ends.rim_angle).in(radian);
  // Seen from the nipple: inwards along its radius, sideways in the plane, along the axle.
  const double inwards = ends.rim_radius.in(mm) - ends.hub_radius.in(mm) * std::cos(turn);
  const double sideways = ends.hub_radius.in(mm) * std::sin(turn);
  const double along = (ends.hub_across - ends.rim_across).in(mm);
  const double path = std::hypot(inwards, sideways, along);
  if (!(path > 1)) {
    return refuse(Code::kOutOfRange, "The two ends of the spoke fall together.",
                  {.field = "rim radius"});
  }
  return SpokeLine{.length = path * mm + ends.seat_correction,
                   .path = path * mm,
                   .lateral = along / path,
                   .radial = inwards / path,
                   .tangential = sideways / path,
                   .bracing = std::asin(along / path) * radian,
                   .nipple_tilt = std::atan2(std::fabs(sideways), inwards) * radian};
}

Result<SpokeLine> spoke_length(const WheelSide& side) {
  if (auto error = side_problem(side)) return std::unexpected(*error);
  return spoke_between({.hub_radius = side.flange_circle / 2,
                        .hub_angle = 2 * std::numbers::pi * side.crosses / side.holes * radian,
                        .hub_across = side.flange_offset,
                        .rim_radius = side.rim_diameter / 2,
                        .rim_across = side.nipples_towards,
                        .seat_correction = -(side.spoke_hole / 2)});
}

Result<int> most_crosses(Length flange_circle, Length rim_diameter, int holes) {
  if (auto error =
          first_outside({{"flange circle", flange_circle.in(mm), 15, 300, "mm"},
                         {"effective rim diameter", rim_diameter.in(mm), 150, 800, "mm"},
                         {"holes in the flange", static_cast<double>(holes), 4, 72, ""}})) {
    return std::unexpected(*error);
  }
  if (auto error = flange_not_smaller(flange_circle, rim_diameter)) return std::unexpected(*error);
  const double tangent = std::acos(flange_circle / rim_diameter);
  return static_cast<int>(std::floor(holes * tangent / (2 * std::numbers::pi) + kHair));
}

Result<Length> room_beside_heads(const WheelSide& side) {
  if (auto error = side_problem(side)) return std::unexpected(*error);
  const double circle = side.flange_circle.in(mm) / 2;
  const double step = 2 * std::numbers::pi / side.holes;
  // The spoke starts in hole 0 at (circle, 0); its nipple lies `crosses` holes back.
  const double nipple = -step * side.crosses;
  const double dx = side.rim_diameter.in(mm) / 2 * std::cos(nipple) - circle;
  const double dy = side.rim_diameter.in(mm) / 2 * std::sin(nipple);
  const double long_way = std::hypot(dx, dy);
  double nearest = 2 * circle;
  for (int hole = 1; hole < side.holes; ++hole) {
    const double x = circle * (std::cos(step * hole) - 1);
    const double y = circle * std::sin(step * hole);
    const double share = std::clamp((x * dx + y * dy) / (long_way * long_way), 0.0, 1.0);
    nearest = std::min(nearest, std::hypot(x - share * dx, y - share * dy));
  }
  return nearest * mm;
}

Result<SpokeLine> straight_pull_length(const StraightPullSide& side) {
  if (auto error =
          first_outside({{"axis circle radius", side.axis_circle_radius.in(mm), 0, 60, "mm"},
                         {"flange offset", side.flange_offset.in(mm), -20, 120, "mm"},
                         {"effective rim diameter", side.rim_diameter.in(mm), 150, 800, "mm"},
                         {"rim offset", side.nipples_towards.in(mm), -10, 10, "mm"},
                         {"seat correction", side.seat_correction.in(mm), -40, 40, "mm"}})) {
    return std::unexpected(*error);
  }
  // The tangent point lies where the radius to it and the spoke are square to each other.
  const double tangent = std::acos(side.axis_circle_radius / (side.rim_diameter / 2));
  return spoke_between({.hub_radius = side.axis_circle_radius,
                        .hub_angle = tangent * radian,
                        .hub_across = side.flange_offset,
                        .rim_radius = side.rim_diameter / 2,
                        .rim_across = side.nipples_towards,
                        .seat_correction = side.seat_correction});
}

Result<WheelSpokes> wheel_spokes(const WheelGeometry& wheel) {
  const Length towards_left = wheel.nipples_towards_left;
  const auto left = named_side("Left", side_of(wheel, wheel.left, towards_left));
  if (!left) return std::unexpected(left.error());
  const auto right = named_side("Right", side_of(wheel, wheel.right, -towards_left));
  if (!right) return std::unexpected(right.error());
  const int few = std::min(wheel.left.holes, wheel.right.holes);
  const int many = std::max(wheel.left.holes, wheel.right.holes);
  if (many != few && many != 2 * few) {
    return refuse(
        Code::kContradiction,
        fmt::format("The flanges have {} and {} holes; a wheel is laced with equal counts "
                    "or with twice as many on one side.",
                    wheel.left.holes, wheel.right.holes),
        {.field = "holes"});
  }
  return WheelSpokes{*left, *right, wheel.left.holes, wheel.right.holes};
}

Result<StockLength> stock_length(Length computed, const std::vector<Length>& stock) {
  if (auto error = first_outside({{"computed length", computed.in(mm), 40, 400, "mm"}})) {
    return std::unexpected(*error);
  }
  std::vector<Length> sorted = stock;
  std::sort(sorted.begin(), sorted.end());
  const auto over = std::upper_bound(sorted.begin(), sorted.end(), computed + kHair * mm);
  if (over != sorted.begin() && (computed - *(over - 1)).in(mm) <= kMostUnder + kHair) {
    return StockLength{*(over - 1), *(over - 1) - computed};
  }
  if (over != sorted.end() && (*over - computed).in(mm) <= kMostOver + kHair) {
    return StockLength{*over, *over - computed};
  }
  std::vector<std::string> near;
  if (over != sorted.begin()) near.push_back(rounded((over - 1)->in(mm), 2) + " mm");
  if (over != sorted.end()) near.push_back(rounded(over->in(mm), 2) + " mm");
  return refuse(Code::kNotFound,
                fmt::format("No stock length lies from {} mm under to {} mm over {} mm; {}.",
                            kMostUnder, kMostOver, rounded(computed.in(mm), 2),
                            near.empty() ? "there is no stock" : "nearest: " + listed(near)),
                {.field = "stock length", .value = rounded(computed.in(mm), 2)});
}

}  // namespace rollwright::mech

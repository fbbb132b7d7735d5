#include "mech/built_wheel.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mech/spoke_crossing.hpp"
#include "mech/spoke_pitch.hpp"
#include "mech/spoke_stretch.hpp"
#include "mech/wheel_lacing.hpp"
#include "mech/wheel_model.hpp"
#include "mech/wheel_smeared.hpp"

namespace rollwright::mech {
namespace {

constexpr Pressure kSteel = 200 * gigapascal;

WheelSide side_of(const WheelToBuild& wheel, bool left) {
  const Flange& flange = left ? wheel.geometry.left : wheel.geometry.right;
  const Length towards_left = wheel.geometry.nipples_towards_left;
  return {.flange_circle = flange.circle,
          .flange_offset = flange.offset,
          .rim_diameter = wheel.geometry.rim_diameter,
          .nipples_towards = left ? towards_left : -towards_left,
          .spoke_hole = wheel.geometry.spoke_hole,
          .holes = flange.holes,
          .crosses = flange.crosses};
}

Result<void> add_pitch(const WheelToBuild& wheel, Force tension, BuiltSide& side) {
  SoundingSpoke sounding{.length = side.sounding, .diameter = wheel.spoke_diameter};
  sounding.ends = SpokeEndsHeld::kPinned;
  const auto low = spoke_pitch(sounding, tension);
  sounding.ends = SpokeEndsHeld::kClamped;
  const auto high = spoke_pitch(sounding, tension);
  if (!low) return std::unexpected(low.error());
  if (!high) return std::unexpected(high.error());
  side.pitch = 0.5 * (*low + *high);
  side.pitch_apart = 0.5 * (*high - *low);
  return {};
}

Result<SpokeSpring> spring_of(const WheelToBuild& wheel, Length length) {
  return spoke_spring({{length, wheel.spoke_diameter}}, kSteel);
}

/// All that a side has by itself.
Result<BuiltSide> side_alone(const WheelToBuild& wheel, bool left) {
  const WheelSide asked = side_of(wheel, left);
  const Force tension = left ? wheel.tensions.left : wheel.tensions.right;
  const auto spoke = spoke_length(asked);
  if (!spoke) return std::unexpected(spoke.error());
  const auto sounding = length_to_crossing(asked);
  const auto room = room_beside_heads(asked);
  const auto most = most_crosses(asked.flange_circle, asked.rim_diameter, asked.holes);
  const auto spring = spring_of(wheel, spoke->path);
  if (!sounding) return std::unexpected(sounding.error());
  if (!room) return std::unexpected(room.error());
  if (!most) return std::unexpected(most.error());
  if (!spring) return std::unexpected(spring.error());
  const auto stretch = spoke_stretch(*spring, tension);
  if (!stretch) return std::unexpected(stretch.error());
  BuiltSide side{.spoke = *spoke, .sounding = *sounding, .stretch = *stretch,
                 .beside_heads = *room, .most_crosses = *most};
  if (const auto ok = add_pitch(wheel, tension, side); !ok) return std::unexpected(ok.error());
  return side;
}

Result<std::vector<WheelSpoke>> laced_spokes(const WheelToBuild& wheel, const BuiltWheel& built) {
  const auto left = spring_of(wheel, built.left.spoke.path);
  const auto right = spring_of(wheel, built.right.spoke.path);
  if (!left) return std::unexpected(left.error());
  if (!right) return std::unexpected(right.error());
  return laced({.left = {wheel.geometry.left, left->rigidity, wheel.tensions.left},
                .right = {wheel.geometry.right, right->rigidity, wheel.tensions.right},
                .nipple_circle = wheel.geometry.rim_diameter,
                .nipples_towards_left = wheel.geometry.nipples_towards_left});
}

/// What the spoke at `at` and its neighbours give up under a load on the rim over it.
void add_shares(const WheelModel& model, std::size_t at, Force tension, BuiltSide& side) {
  const auto& spokes = model.spokes();
  const WheelShape shape = model.under_newton(RimDirection::kRadial, spokes[at].at);
  const auto given_up = [&](std::size_t spoke) {
    return -shape.tension_change[(spoke + spokes.size()) % spokes.size()];
  };
  side.share = given_up(at);
  side.share_of_three = side.share + given_up(at + 1) + given_up(at + spokes.size() - 1);
  side.slack_at = tension / side.share;
}

std::size_t first_of(const std::vector<WheelSpoke>& spokes, WheelEnd end) {
  return static_cast<std::size_t>(std::ranges::find(spokes, end, &WheelSpoke::end) -
                                  spokes.begin());
}

void add_model(const WheelModel& model, const WheelToBuild& wheel, BuiltWheel& built) {
  const auto& spokes = model.spokes();
  const std::size_t left = first_of(spokes, WheelEnd::kLeft);
  const std::size_t right = first_of(spokes, WheelEnd::kRight);
  add_shares(model, left, wheel.tensions.left, built.left);
  add_shares(model, right, wheel.tensions.right, built.right);
  const auto lesser = [&](RimDirection direction) {
    return std::min(model.stiffness(direction, spokes[left].at),
                    model.stiffness(direction, spokes[right].at));
  };
  built.lateral = lesser(RimDirection::kLateral);
  built.radial = lesser(RimDirection::kRadial);
}

/// The whole rim turning against the hub, N·m for a degree, by the second derivative of what the
/// spokes store; no part of the rim is bent by that.
double turning_stiffness(const std::vector<WheelSpoke>& spokes, Length radius) {
  const double radius_m = radius.in(mm) / 1000;
  double sum = 0;  // N·m for a radian
  for (const WheelSpoke& spoke : spokes) {
    const double length_m = spoke.path.in(mm) / 1000;
    const double along = radius_m * spoke.tangential;  // m of stretch for a radian
    const double bend = radius_m * (radius_m - length_m * spoke.radial) - along * along;
    sum += (spoke.rigidity.in(newton) * along * along + spoke.tension.in(newton) * bend) / length_m;
  }
  return sum * std::numbers::pi / 180;
}

Force mean_of(const WheelToBuild& wheel) {
  const double left = wheel.geometry.left.holes;
  const double right = wheel.geometry.right.holes;
  return (left * wheel.tensions.left + right * wheel.tensions.right) / (left + right);
}

Result<void> add_whole(const WheelToBuild& wheel, BuiltWheel& built) {
  const auto spokes = laced_spokes(wheel, built);
  if (!spokes) return std::unexpected(spokes.error());
  RimSection rim = wheel.rim;
  rim.radius = wheel.geometry.rim_diameter / 2;
  const auto bed = smeared(rim, *spokes);
  if (!bed) return std::unexpected(bed.error());
  const WheelBuckling folds = buckling(*bed);
  built.mean = mean_of(wheel);
  built.buckles_at = folds.mean_tension;
  built.buckling_advice = folds.advised;
  built.torsional = turning_stiffness(*spokes, rim.radius);
  const auto shrink = rim_shrink({.spokes = static_cast<int>(spokes->size()),
                                  .tension = built.mean,
                                  .radius = rim.radius,
                                  .rigidity = rim.rigidity});
  if (!shrink) return std::unexpected(shrink.error());
  built.rim_shrink = shrink->shrink;
  const auto model = WheelModel::of(rim, *spokes);
  if (!model) return std::unexpected(model.error());
  add_model(*model, wheel, built);
  return {};
}

}  // namespace

Result<BuiltWheel> built_wheel(const WheelToBuild& wheel) {
  const auto left = side_alone(wheel, true);
  if (!left) return std::unexpected(left.error());
  const auto right = side_alone(wheel, false);
  if (!right) return std::unexpected(right.error());
  BuiltWheel built{.left = *left, .right = *right};
  if (const auto ok = add_whole(wheel, built); !ok) return std::unexpected(ok.error());
  return built;
}

}  // namespace rollwright::mech

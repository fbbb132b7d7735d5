#include "mech/bike_outline.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

// Two printed tables of one bike disagree by rounding, never by more. [fit-geometry]
constexpr Length kTableRounding = 12 * mm;

std::string shown(Length length) { return rounded(length.in(mm), 1) + " mm"; }

Error contradiction(std::string field, std::string sentence) {
  return {Code::kContradiction, std::move(sentence), Place{.field = std::move(field)}};
}

Length distance(const SidePoint& a, const SidePoint& b) {
  return std::hypot((a.x - b.x).in(mm), (a.y - b.y).in(mm)) * mm;
}

std::optional<Error> frame_problem(const FrameGeometry& frame) {
  if (auto error =
          first_outside({{"seat tube", frame.seat_tube.in(mm), 150, 750, "mm"},
                         {"head tube", frame.head_tube.in(mm), 60, 350, "mm"},
                         {"chainstay", frame.chainstay.in(mm), 300, 700, "mm"},
                         {"bottom bracket drop", frame.bracket_drop.in(mm), -60, 110, "mm"}})) {
    return error;
  }
  return std::nullopt;
}

std::optional<Error> wheel_problem(const WheelOutline& wheel, std::string_view name) {
  if (auto error = first_outside({{"tyre diameter", wheel.tyre_diameter.in(mm), 200, 1000, "mm"},
                                  {"rim diameter", wheel.rim_diameter.in(mm), 100, 950, "mm"}})) {
    return error;
  }
  if (wheel.rim_diameter < wheel.tyre_diameter) return std::nullopt;
  return contradiction("rim diameter",
                       fmt::format("The {} rim of {} is not smaller than its tyre of {}.", name,
                                   shown(wheel.rim_diameter), shown(wheel.tyre_diameter)));
}

std::optional<Error> fork_problem(const ForkGeometry& fork) {
  return first_outside({{"fork length", fork.length.in(mm), 200, 650, "mm"},
                        {"fork offset", fork.offset.in(mm), 0, 110, "mm"},
                        {"lower headset", fork.lower_stack.in(mm), 0, 40, "mm"}});
}

std::optional<Error> input_problem(const OutlineInput& input) {
  if (auto error = frame_problem(input.frame)) return error;
  if (auto error = wheel_problem(input.front, "front")) return error;
  if (auto error = wheel_problem(input.rear, "rear")) return error;
  if (auto error = first_outside({{"crank length", input.crank.in(mm), 80, 220, "mm"}})) {
    return error;
  }
  if (input.fork) {
    if (auto error = fork_problem(*input.fork)) return error;
  }
  if (input.wheelbase) {
    return first_outside({{"wheelbase", input.wheelbase->in(mm), 700, 2600, "mm"}});
  }
  if (input.fork) return std::nullopt;
  return Error{Code::kBadInput,
               "The drawing needs the wheelbase or the fork's length and offset to place the front "
               "wheel.",
               Place{.field = "wheelbase"}};
}

/// `along` down the steering axis from the top of the head tube, `ahead` square to it.
SidePoint on_steerer(const FrameGeometry& frame, Length along, Length ahead) {
  const double head = frame.head_angle.in(radian);
  return {frame.reach + std::cos(head) * along + std::sin(head) * ahead,
          frame.stack - std::sin(head) * along + std::cos(head) * ahead};
}

SidePoint crown_of(const OutlineInput& input) {
  const Length lower = input.fork ? input.fork->lower_stack : Length{};
  return on_steerer(input.frame, input.frame.head_tube + lower, {});
}

/// Where the fork puts the axle. Its length is straight from the crown, so the part along the
/// steering axis is shorter.
SidePoint axle_by_fork(const OutlineInput& input) {
  const ForkGeometry& fork = *input.fork;
  const double along = std::sqrt((fork.length.in(mm) - fork.offset.in(mm)) *
                                 (fork.length.in(mm) + fork.offset.in(mm)));
  return on_steerer(input.frame, input.frame.head_tube + fork.lower_stack + along * mm,
                    fork.offset);
}

struct Axles {
  SidePoint rear;
  SidePoint front;
  Length ground;
};

Result<Axles> axles_of(const OutlineInput& input) {
  const FrameGeometry& frame = input.frame;
  const double stay = frame.chainstay.in(mm);
  const double drop = frame.bracket_drop.in(mm);
  const Length level = std::sqrt(stay * stay - drop * drop) * mm;
  Axles axles{.rear = {-level, frame.bracket_drop}, .front = {}, .ground = {}};
  axles.ground = frame.bracket_drop - input.rear.tyre_diameter / 2;
  axles.front.y = axles.ground + input.front.tyre_diameter / 2;
  if (!input.fork) {
    axles.front.x = axles.rear.x + *input.wheelbase;
    return axles;
  }
  const SidePoint by_fork = axle_by_fork(input);
  const Length height_off = by_fork.y - axles.front.y;
  if (height_off > kTableRounding || -height_off > kTableRounding) {
    return std::unexpected(contradiction(
        "fork length",
        fmt::format("The fork puts the front axle {} {} where its tyre on the ground has it. Check "
                    "the fork's length, the stack, the head angle and both tyres.",
                    shown(height_off > Length{} ? height_off : -height_off),
                    height_off > Length{} ? "above" : "under")));
  }
  axles.front.x = input.wheelbase ? axles.rear.x + *input.wheelbase : by_fork.x;
  const Length base_off = by_fork.x - axles.front.x;
  if (base_off <= kTableRounding && -base_off <= kTableRounding) return axles;
  return std::unexpected(contradiction(
      "wheelbase", fmt::format("The wheelbase is given as {}, but this frame and fork make it {}.",
                               shown(*input.wheelbase), shown(by_fork.x - axles.rear.x))));
}

std::optional<Error> overlap_problem(const OutlineInput& input, const Axles& axles,
                                     const SidePoint& crown) {
  const Length rear = input.rear.tyre_diameter / 2;
  const Length front = input.front.tyre_diameter / 2;
  if (input.frame.chainstay <= rear) {
    return contradiction("chainstay",
                         fmt::format("With a chainstay of {} the rear tyre of radius {} covers the "
                                     "bottom bracket.",
                                     shown(input.frame.chainstay), shown(rear)));
  }
  if (distance(axles.front, axles.rear) <= rear + front) {
    return contradiction(
        "wheelbase", fmt::format("The tyres overlap: the axles are {} apart and the radii sum "
                                 "to {}.",
                                 shown(distance(axles.front, axles.rear)), shown(rear + front)));
  }
  if (distance(axles.front, crown) <= front) {
    return contradiction("front tyre",
                         fmt::format("The front tyre of radius {} covers the fork's crown, {} from "
                                     "the axle.",
                                     shown(front), shown(distance(axles.front, crown))));
  }
  if (-axles.ground <= input.crank) {
    return contradiction("crank length",
                         fmt::format("A crank of {} reaches the ground: the bottom bracket is {} "
                                     "over it.",
                                     shown(input.crank), shown(-axles.ground)));
  }
  if (input.frame.seat_tube <= input.saddle_height) return std::nullopt;
  return contradiction(
      "saddle height",
      fmt::format("The saddle at {} would be under the top of the seat tube at {}.",
                  shown(input.saddle_height), shown(input.frame.seat_tube)));
}

/// Where the steering axis meets the ground, less where the tyre does.
Length trail_of(const FrameGeometry& frame, const Axles& axles) {
  const double head = frame.head_angle.in(radian);
  const Length down = frame.stack - axles.ground;
  return frame.reach + std::cos(head) / std::sin(head) * down - axles.front.x;
}

}  // namespace

const SidePoint* BikeOutline::point(std::string_view name) const {
  for (const NamedPoint& row : points) {
    if (row.name == name) return &row.at;
  }
  return nullptr;
}

Result<BikeOutline> bike_outline(const OutlineInput& input) {
  if (auto error = input_problem(input)) return std::unexpected(*error);
  const FrameGeometry& frame = input.frame;
  const auto saddle = saddle_point({input.saddle_height, frame.seat_angle});
  if (!saddle) return std::unexpected(saddle.error());
  const auto bar = bar_point(
      {frame.stack, frame.reach, frame.head_angle, input.spacers, input.stem, input.stem_angle});
  if (!bar) return std::unexpected(bar.error());
  const auto axles = axles_of(input);
  if (!axles) return std::unexpected(axles.error());
  const SidePoint crown = crown_of(input);
  if (auto error = overlap_problem(input, *axles, crown)) return std::unexpected(*error);

  const double seat = frame.seat_angle.in(radian);
  const SidePoint cluster{-std::cos(seat) * frame.seat_tube, std::sin(seat) * frame.seat_tube};
  return BikeOutline{.points = {{"rear axle", axles->rear},
                                {"front axle", axles->front},
                                {"bottom bracket", {}},
                                {"head tube top", {frame.reach, frame.stack}},
                                {"head tube bottom", on_steerer(frame, frame.head_tube, {})},
                                {"crown", crown},
                                {"seat cluster", cluster},
                                {"saddle", *saddle},
                                {"bar", *bar}},
                     .circles = {{"rear tyre", axles->rear, input.rear.tyre_diameter / 2},
                                 {"front tyre", axles->front, input.front.tyre_diameter / 2},
                                 {"rear rim", axles->rear, input.rear.rim_diameter / 2},
                                 {"front rim", axles->front, input.front.rim_diameter / 2},
                                 {"crank", {}, input.crank}},
                     .ground = axles->ground,
                     .wheelbase = axles->front.x - axles->rear.x,
                     .trail = trail_of(frame, *axles)};
}

}  // namespace rollwright::mech

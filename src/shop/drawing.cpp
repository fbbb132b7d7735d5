#include "shop/drawing.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "mech/bike_outline.hpp"
#include "mech/rider_fit.hpp"
#include "mech/tyre.hpp"
#include "shop/bike.hpp"

namespace rollwright::shop {
namespace {

/// Collects the facts a drawing needs and the names of those that are not known.
class Wanted {
 public:
  explicit Wanted(const spec::Bike& bike) : bike_(bike) {}

  double number(const char* slot, const char* attribute, const char* name) {
    const auto value = maybe(slot, attribute);
    if (!value && std::find(missing_.begin(), missing_.end(), name) == missing_.end()) {
      missing_.emplace_back(name);
    }
    return value.value_or(0);
  }
  [[nodiscard]] std::optional<double> maybe(const char* slot, const char* attribute) const {
    const trade::Part* part = bike_.part_in(trade::SlotId(slot));
    return part == nullptr ? std::nullopt : trade::number_of(*part, attribute);
  }
  [[nodiscard]] const std::vector<std::string>& missing() const { return missing_; }

 private:
  const spec::Bike& bike_;
  std::vector<std::string> missing_;
};

mech::WheelOutline wheel_outline(Wanted& wanted, const char* slot, const char* name) {
  const mech::TyreSize tyre{wanted.number(slot, "tyre_width", name) * mm,
                            wanted.number(slot, "bead_seat_diameter", name) * mm};
  return {.tyre_diameter = mech::tyre_diameter(tyre), .rim_diameter = tyre.bead_seat};
}

/// The saddle where the rider's inseam puts it, else where an average rider of this frame sits.
Length saddle_height_for(const trade::Order& order, const Wanted& wanted) {
  const double crank = wanted.maybe("crankset", "crank_length").value_or(170);
  if (order.rider.inseam) {
    const auto height = mech::saddle_height(*order.rider.inseam, crank * mm);
    if (height) return height->by_bracket;
  }
  return wanted.maybe("frame", "seat_tube_length").value_or(500) * mm + 200 * mm;
}

mech::OutlineInput input_from(Wanted& wanted, const trade::Order& order) {
  mech::OutlineInput input;
  input.frame = {
      .stack = wanted.number("frame", "stack", "the frame's stack") * mm,
      .reach = wanted.number("frame", "reach", "the frame's reach") * mm,
      .head_angle = wanted.number("frame", "head_angle", "the frame's head angle") * radian,
      .seat_angle = wanted.number("frame", "seat_angle", "the frame's seat angle") * radian,
      .seat_tube = wanted.number("frame", "seat_tube_length", "the frame's seat tube") * mm,
      .head_tube = wanted.number("frame", "head_tube_length", "the frame's head tube") * mm,
      .chainstay = wanted.number("frame", "chainstay", "the frame's chainstay") * mm,
      .bracket_drop = wanted.number("frame", "bb_drop", "the bottom bracket drop") * mm};
  if (const auto wheelbase = wanted.maybe("frame", "wheelbase")) {
    input.wheelbase = *wheelbase * mm;
  } else {
    input.fork = mech::ForkGeometry{
        .length = wanted.number("fork", "axle_to_crown", "the fork's length") * mm,
        .offset = wanted.number("fork", "offset", "the fork's offset") * mm,
        .lower_stack = wanted.maybe("headset", "lower_stack").value_or(0) * mm};
  }
  input.front = wheel_outline(wanted, "front_tyre", "the front tyre's size");
  input.rear = wheel_outline(wanted, "rear_tyre", "the rear tyre's size");
  input.saddle_height = saddle_height_for(order, wanted);
  input.spacers = wanted.maybe("headset", "spacers_supplied").value_or(10) * mm +
                  wanted.maybe("stem", "clamp_height").value_or(40) * mm / 2;
  input.stem = wanted.maybe("stem", "stem_length").value_or(80) * mm;
  input.stem_angle = wanted.maybe("stem", "stem_angle").value_or(0) * radian;
  input.crank = wanted.maybe("crankset", "crank_length").value_or(170) * mm;
  return input;
}

PointView between(const PointView& a, const PointView& b, double share) {
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

/// Low-step frames have their upper tube low: from the foot of the head tube to the lower third of
/// the seat tube. No maker's table says where; the page says that tubes are only indicated.
void lower_the_top_tube(const spec::Bike& bike, OutlineView& view) {
  const trade::Part* frame = bike.part_in(trade::SlotId("frame"));
  if (frame == nullptr || trade::word_of(*frame, "layout") != "step-through") return;
  const auto& points = view.points;
  view.points["top_tube_front"] =
      between(points.at("head_tube_bottom"), points.at("head_tube_top"), 0.35);
  view.points["top_tube_rear"] =
      between(points.at("bottom_bracket"), points.at("seat_cluster"), 0.35);
}

std::string with_underscores(std::string name) {
  std::replace(name.begin(), name.end(), ' ', '_');
  return name;
}

/// Where on the drawing a slot's part sits.
const char* place_of(const std::string& slot) {
  static const std::map<std::string, const char*> kPlaces = {
      {"frame", "seat_cluster"},      {"fork", "crown"},          {"headset", "head_tube_top"},
      {"stem", "head_tube_top"},      {"handlebar", "bar"},       {"grips", "bar"},
      {"shifter", "bar"},             {"display", "bar"},         {"seatpost", "seat_cluster"},
      {"seat_clamp", "seat_cluster"}, {"saddle", "saddle"},       {"bottom_bracket", "bottom_bracket"},
      {"crankset", "bottom_bracket"}, {"chainring", "bottom_bracket"},
      {"motor", "bottom_bracket"},    {"battery", "bottom_bracket"},
      {"chain", "bottom_bracket"},    {"belt", "bottom_bracket"}, {"pedals", "bottom_bracket"}};
  const auto known = kPlaces.find(slot);
  if (known != kPlaces.end()) return known->second;
  return slot.starts_with("front_") ? "front_axle" : "rear_axle";
}

std::vector<std::string> clashes_of(const SpecView& spec) {
  std::vector<std::string> places;
  const std::string clash(trade::word_of(trade::Verdict::kDoesNotFit));
  for (const FindingView& finding : spec.findings) {
    if (finding.verdict != clash) continue;
    for (const std::string& slot : finding.slots) {
      const std::string place = place_of(slot);
      if (std::find(places.begin(), places.end(), place) == places.end()) places.push_back(place);
    }
  }
  return places;
}

}  // namespace

OutlineView outline_view(const State& state, const trade::Order& order, const SpecView& spec) {
  OutlineView view;
  const spec::Bike bike = bike_of(state, order);
  Wanted wanted(bike);
  const mech::OutlineInput input = input_from(wanted, order);
  if (!wanted.missing().empty()) {
    view.why_not = "The drawing waits for " + listed(wanted.missing()) + ".";
    return view;
  }
  const auto outline = mech::bike_outline(input);
  if (!outline) {
    view.why_not = "The bike cannot be drawn to scale: " + outline.error().sentence;
    return view;
  }
  view.drawn = true;
  for (const mech::NamedPoint& point : outline->points) {
    view.points[with_underscores(point.name)] = {point.at.x.in(mm), point.at.y.in(mm)};
  }
  for (const mech::NamedCircle& circle : outline->circles) {
    view.lengths[with_underscores(circle.name) + "_radius"] = circle.radius.in(mm);
  }
  lower_the_top_tube(bike, view);
  view.lengths["wheelbase"] = outline->wheelbase.in(mm);
  view.lengths["ground"] = outline->ground.in(mm);
  view.lengths["trail"] = outline->trail.in(mm);
  view.lengths["stack"] = input.frame.stack.in(mm);
  view.lengths["reach"] = input.frame.reach.in(mm);
  view.lengths["saddle_height"] = input.saddle_height.in(mm);
  view.lengths["front_tyre_width"] = wanted.maybe("front_tyre", "tyre_width").value_or(0);
  view.lengths["rear_tyre_width"] = wanted.maybe("rear_tyre", "tyre_width").value_or(0);
  view.labels["wheelbase"] = with_unit(outline->wheelbase.in(mm), "mm", 0);
  view.labels["stack"] = "stack " + with_unit(input.frame.stack.in(mm), "mm", 0);
  view.labels["reach"] = "reach " + with_unit(input.frame.reach.in(mm), "mm", 0);
  // Without the rider's inseam the saddle is only indicated, and no number stands beside it.
  if (order.rider.inseam) {
    view.labels["saddle"] = "saddle " + with_unit(input.saddle_height.in(mm), "mm", 0);
  }
  for (const char* slot : {"front_tyre", "rear_tyre"}) {
    // A measured width is no size: the label says the nearest whole millimetre, as tyres do.
    const double width = std::round(wanted.maybe(slot, "tyre_width").value_or(0));
    view.labels[slot] = mech::designation(
        {width * mm, wanted.maybe(slot, "bead_seat_diameter").value_or(0) * mm});
  }
  if (const auto energy = wanted.maybe("battery", "energy")) {
    view.labels["battery"] = with_unit(*energy, "Wh", 0);
  }
  view.clash = clashes_of(spec);
  return view;
}

}  // namespace rollwright::shop

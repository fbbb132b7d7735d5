#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/rider_fit.hpp"
#include "mech/suspension.hpp"

namespace rollwright::aids {

namespace {

Row mm_row(std::string name, Length length, std::string note = {}) {
  return row(std::move(name), {length.in(mm), Dimension::kLength, "mm", 0}, std::move(note));
}

Result<Reckoned> saddle(const Given& given) {
  const Length inseam = given.amount("inseam", mm);
  const auto height = mech::saddle_height(inseam, given.amount("crank", mm));
  if (!height) return std::unexpected(height.error());
  const auto over = mech::standover(inseam, given.amount("top_tube", mm));
  if (!over) return std::unexpected(over.error());
  Reckoned reckoned{
      .rows = {mm_row("Bracket to saddle, 0.883 of the inseam", height->by_bracket,
                      "along the seat tube"),
               mm_row("Pedal to saddle, 1.09 of the inseam", height->by_pedal,
                      "crank in line with the seat tube"),
               mm_row("The same over the bracket", height->by_pedal_from_bracket),
               mm_row("Room over the top tube", over->room, over->holds ? "" : "under 25 mm")}};
  if (!over->holds) reckoned.cautions = {"The rider cannot stand over this frame with room to spare."};
  return reckoned;
}

Aid saddle_aid() {
  return {.id = "saddle-height", .title = "Saddle height",
          .lead = "Two rules of thumb side by side, and the room over the top tube.",
          .inputs = {amount("inseam", "Inseam", Dimension::kLength, "82 cm", "floor to crotch, barefoot"),
                     amount("crank", "Crank length", Dimension::kLength, "172.5 mm"),
                     amount("top_tube", "Top tube over the ground", Dimension::kLength, "760 mm",
                            "where the rider stands over it")},
          .method = "0.883 and 1.09 times the inseam. 19 riders showed no significant difference "
                    "between the two; knees ask for 25 to 35° of bend at the bottom.",
          .source = "saddle-height, standover",
          .caution = "",
          .reckon = saddle};
}

Result<Reckoned> contact_points(const Given& given) {
  const auto bar_middle = mech::bar_point({.stack = given.amount("stack", mm),
                                           .reach = given.amount("reach", mm),
                                           .head_angle = given.amount("head_angle", radian),
                                           .spacers = given.amount("spacers", mm),
                                           .stem = given.amount("stem", mm),
                                           .stem_angle = given.amount("stem_angle", radian)});
  if (!bar_middle) return std::unexpected(bar_middle.error());
  const auto seat = mech::saddle_point({.height = given.amount("saddle", mm),
                                        .seat_angle = given.amount("seat_angle", radian)});
  if (!seat) return std::unexpected(seat.error());
  return Reckoned{.rows = {mm_row("Bar ahead of the bracket", bar_middle->x),
                           mm_row("Bar over the bracket", bar_middle->y),
                           mm_row("Saddle behind the bracket", -1 * seat->x),
                           mm_row("Saddle over the bracket", seat->y),
                           mm_row("Saddle to bar, level", bar_middle->x - seat->x),
                           mm_row("Bar over the saddle", bar_middle->y - seat->y,
                                  "negative: below")}};
}

Aid contact_aid() {
  const auto mm_in = [](const char* key, const char* label, const char* preset) {
    return amount(key, label, Dimension::kLength, preset);
  };
  return {.id = "contact-points", .title = "Contact points",
          .lead = "Where bar and saddle come to stand on a frame.",
          .inputs = {mm_in("stack", "Stack", "600 mm"), mm_in("reach", "Reach", "390 mm"),
                     amount("head_angle", "Head angle", Dimension::kAngle, "71 °"),
                     mm_in("spacers", "Top of head tube to stem", "30 mm"),
                     mm_in("stem", "Stem", "90 mm"),
                     amount("stem_angle", "Stem angle", Dimension::kAngle, "6 °",
                            "from square to the steerer, up positive"),
                     mm_in("saddle", "Bracket to saddle", "724 mm"),
                     amount("seat_angle", "Seat angle", Dimension::kAngle, "73 °")},
          .method = "Plane geometry. Rise and sweep of the bar, setback and rails are left aside.",
          .source = "fit-geometry",
          .caution = "",
          .reckon = contact_points};
}

Result<Reckoned> springs(const Given& given) {
  const double share = given.number("share") / 100;
  const auto sinks = mech::sag(given.amount("travel", mm), share);
  if (!sinks) return std::unexpected(sinks.error());
  Reckoned reckoned{.rows = {mm_row("Sag at the wheel", *sinks)}};
  const auto rate = mech::coil_rate_n_per_mm({.wheel_force = given.amount("wheel_force", newton),
                                              .leverage = given.number("leverage"),
                                              .stroke = given.amount("stroke", mm),
                                              .share = share});
  if (!rate) return std::unexpected(rate.error());
  constexpr double kPoundsPerInch = 25.4 / (0.45359237 * 9.80665);
  reckoned.rows.push_back({"Coil spring", rounded(*rate, 0) + " N/mm",
                           rounded(*rate * kPoundsPerInch, 0) + " lb/in", "good to 10 %"});
  return reckoned;
}

Aid spring_aid() {
  return {.id = "sag", .title = "Sag and spring",
          .lead = "How far a wheel sinks under the rider, and the coil that does it.",
          .inputs = {amount("travel", "Wheel travel", Dimension::kLength, "140 mm"),
                     plain_number("share", "Sag, per cent of the travel", "30"),
                     amount("wheel_force", "Rider on that wheel", Dimension::kForce, "600 N"),
                     plain_number("leverage", "Wheel travel over shock stroke", "2.5"),
                     amount("stroke", "Shock stroke", Dimension::kLength, "55 mm")},
          .method = "Wheel force times leverage over the stroke used at rest.",
          .source = "suspension",
          .caution = "The shock maker's least and greatest spring come first.",
          .reckon = springs};
}

}  // namespace

std::vector<Aid> rider_aids() { return {saddle_aid(), contact_aid(), spring_aid()}; }

}  // namespace rollwright::aids

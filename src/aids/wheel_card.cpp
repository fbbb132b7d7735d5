#include "aids/wheel_card.hpp"

#include "aids/aids.hpp"
#include "aids/wheel_fields.hpp"

namespace rollwright::aids {

namespace {

constexpr const char* kFromDrawer = "from the drawer";
constexpr const char* kCutHere = "cut to length here";
// The rim and the nipple allow 5 to 8 degrees (from memory).
constexpr double kUsualNippleLimitDeg = 8;

/// Every whole millimetre, as a cutter makes them.
std::vector<Length> cut_lengths() {
  std::vector<Length> lengths;
  for (int length = 60; length <= 330; ++length) lengths.push_back(length * mm);
  return lengths;
}

std::vector<Length> drawer(const Given& given) {
  if (given.word("spokes_come") == kCutHere) return cut_lengths();
  if (!given.has("stock")) return mech::usual_drawer();
  std::vector<Length> lengths;
  for (const double length : given.numbers("stock")) lengths.push_back(length * mm);
  return lengths;
}

Result<mech::WheelsetStock> stock_for(const mech::WheelSpokes& spokes, const Given& given) {
  std::vector<Length> computed{spokes.left.length, spokes.right.length};
  if (given.has("other_lengths")) {
    for (const double length : given.numbers("other_lengths")) computed.push_back(length * mm);
  }
  return mech::wheelset_stock(computed, drawer(given));
}

Result<std::optional<mech::TensionTargets>> tensions_for(const mech::WheelSpokes& spokes,
                                                         const Given& given) {
  if (!given.has("rim_limit")) return std::nullopt;
  mech::TensionLimits limits{.rim_limit = given.amount("rim_limit", newton),
                             .spread = given.number("spread") / 100};
  if (given.has("tight_most")) limits.tight_most = given.amount("tight_most", newton);
  const auto targets = mech::tension_targets(spokes, limits);
  if (!targets) return std::unexpected(targets.error());
  return *targets;
}

}  // namespace

std::vector<Input> wheel_card_fields() {
  std::vector<Input> fields = wheel_geometry_fields();
  fields.push_back(millimetres("spoke_middle", "Spoke diameter, middle", "1.8"));
  fields.push_back(choice("spokes_come", "Spokes come", {kFromDrawer, kCutHere}));
  fields.push_back(plain_numbers("stock", "Lengths in the drawer", "",
                                 "millimetres; empty: every even one from 180 to 310"));
  fields.push_back(plain_numbers("other_lengths", "Computed lengths of the other wheel", "",
                                 "millimetres, so that both wheels take few lengths; may stay empty"));
  fields.push_back(amount("rim_limit", "The rim maker's greatest spoke tension", Dimension::kForce,
                          "", "may stay empty: then no tension is given"));
  fields.push_back(plain_number("spread", "Allowed spread, per cent", "10"));
  fields.push_back(amount("tight_most", "Tighter side at the most", Dimension::kForce, "",
                          "mean; may stay empty: as tight as the limit allows"));
  fields.push_back(amount("nipple_angle", "Greatest spoke angle of the rim", Dimension::kAngle, "",
                          "from the radius; may stay empty"));
  fields.back().unit = "°";
  fields.push_back(rim_field());
  return fields;
}

Result<WheelCard> wheel_card(const Given& given) {
  WheelCard card{.geometry = wheel_geometry(given),
                 .cut_to_length = given.word("spokes_come") == kCutHere};
  const auto spokes = mech::wheel_spokes(card.geometry);
  if (!spokes) return std::unexpected(spokes.error());
  card.spokes = *spokes;
  card.stock = stock_for(*spokes, given);
  card.nipple_limit_known = given.has("nipple_angle");
  card.nipple_limit_deg = card.nipple_limit_known
                              ? given.amount("nipple_angle", radian).in(degree)
                              : kUsualNippleLimitDeg;
  const auto tensions = tensions_for(*spokes, given);
  if (!tensions) return std::unexpected(tensions.error());
  card.tensions = *tensions;
  if (!card.tensions) return card;
  const auto built = mech::built_wheel({.geometry = card.geometry,
                                        .spoke_diameter = given.amount("spoke_middle", mm),
                                        .tensions = *card.tensions,
                                        .rim = rim_given(given)});
  if (!built) return std::unexpected(built.error());
  card.built = *built;
  return card;
}

std::vector<Aid> wheel_card_aids() {
  Aid aid{.id = "wheel-card", .title = "Wheel card",
          .lead = "One wheel before it is built: spokes to take, tensions, pitch, stiffness."};
  aid.inputs = wheel_card_fields();
  aid.method = "Lengths by the law of cosines; stock lengths by looking at every combination; tensions "
               "by balance along the axle under the rim's limit; pitch of the wire between nipple and "
               "crossing; stiffness and load by an elastic ring on its spokes.";
  aid.source = "spoke-geometry, spoke-stock, tension-balance, tension-spread, spoke-pitch, "
               "spoke-stretch, nipple-thread, wheel-thesis";
  aid.caution = "A wheel is under tension: wear eye protection, a spoke that breaks flies. The limits of "
                "the rim and the hub printed by their makers come first.";
  aid.reckon = [](const Given& given) -> Result<Reckoned> {
    const auto card = wheel_card(given);
    if (!card) return std::unexpected(card.error());
    return wheel_card_words(*card, given);
  };
  return {aid};
}

}  // namespace rollwright::aids

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "spec/bike_cases.hpp"
#include "spec/evaluate.hpp"

// Rules of data/trade beside plain predicates that say the same in another way, on every bike of
// for_bikes(). The predicates know nothing of shapes, calculations or tables.

namespace rollwright::spec {
namespace {

using trade::Verdict;

enum class Plain { kNothingToSay, kHolds, kFails };
Plain plain(bool holds) { return holds ? Plain::kHolds : Plain::kFails; }

/// A fact was asked that nobody knows.
struct NotKnown {};
/// A slot was asked that is empty.
struct EmptySlot {};

/// What a predicate may ask of a bike.
class Asked {
 public:
  Asked(const Bike& bike, const trade::Rule& rule) : bike_(bike), rule_(rule) {}

  [[nodiscard]] bool filled(const std::string& slot) const {
    return bike_.part_in(trade::SlotId(slot)) != nullptr;
  }
  [[nodiscard]] const trade::Value& fact(const std::string& slot, const std::string& name) const {
    const trade::Part* part = bike_.part_in(trade::SlotId(slot));
    if (part == nullptr) throw EmptySlot();
    const trade::Fact* fact = trade::fact_of(*part, name);
    if (fact == nullptr) throw NotKnown();
    return fact->value;
  }
  [[nodiscard]] double n(const std::string& slot, const std::string& name) const {
    return std::get<double>(fact(slot, name));
  }
  [[nodiscard]] std::string w(const std::string& slot, const std::string& name) const {
    return std::get<std::string>(fact(slot, name));
  }
  [[nodiscard]] bool yes(const std::string& slot, const std::string& name) const {
    return std::get<bool>(fact(slot, name));
  }
  [[nodiscard]] bool lists(const std::string& slot, const std::string& name,
                           const std::string& word) const {
    const auto& words = std::get<std::vector<std::string>>(fact(slot, name));
    return std::ranges::find(words, word) != words.end();
  }
  /// A need is met when the help is there, whatever the cause; not asked when the cause is absent.
  template <class Cause>
  [[nodiscard]] Plain need(Cause cause, const std::string& slot, const std::string& help) const {
    const trade::Part* part = bike_.part_in(trade::SlotId(slot));
    if (part == nullptr) throw EmptySlot();
    bool asked = true;
    bool sure = true;
    try {
      asked = cause();
    } catch (const NotKnown&) {
      sure = false;
    }
    const bool known = trade::fact_of(*part, help) != nullptr;
    if (!asked || (known && yes(slot, help))) return Plain::kHolds;
    if (!known || !sure) throw NotKnown();
    return Plain::kFails;
  }
  /// All parts and the load, in kg.
  [[nodiscard]] double whole() const {
    double sum = n("order", "load");
    for (const auto& [slot, part] : bike_.parts) {
      const auto mass = trade::mass_of(*part);
      if (!mass) throw NotKnown();
      sum += mass->in(kg) * trade::find_slot(real_trade().trade, slot)->quantity;
    }
    return sum;
  }
  /// "front" of "C-030a front front_rim", also when the id itself says the end.
  [[nodiscard]] std::string end() const {
    return rule_.name().find("front") != std::string::npos ? "front" : "rear";
  }
  /// The slot whose name begins so, of those that the rule looks at.
  [[nodiscard]] std::string one_of(const std::string& a, const std::string& b) const {
    for (const trade::SlotId& slot : trade::scope_of(rule_)) {
      if (slot.text == a || slot.text == b) return slot.text;
    }
    return "";
  }

 private:
  const Bike& bike_;
  const trade::Rule& rule_;
};

bool at_least(double a, double b) { return a >= b - 1e-6; }

bool cargo(const Asked& a) {
  const std::string layout = a.w("frame", "layout");
  return layout == "front-load" || layout == "longtail";
}
bool approved(const Asked& a) { return a.w("frame", "platform") != "none"; }

Plain whole_at_most(const Asked& a, const std::string& slot, const std::string& limit,
                    double share = 1) {
  const double most = a.n(slot, limit);
  return plain(at_least(most, share * a.whole()));
}

/// Law of cosines in the wheel's plane, Pythagoras along the axle, less half a hole.
Plain spoke_length_suits(const Asked& a, const std::string& side) {
  const std::string end = a.end();
  const std::string spokes = end + "_spokes";
  const std::string hub = end + "_hub";
  const std::string rim = end + "_rim";
  const bool cut = a.yes(spokes, "cut_to_length");
  const bool bent = a.w(spokes, "spoke_head") == "J-bend";
  if (cut || !bent) return Plain::kNothingToSay;
  const std::string other = side == "left" ? "right" : "left";
  const double circle = a.n(hub, "flange_diameter_" + side);
  const double flange = a.n(hub, "flange_offset_" + side);
  const double opposite = a.n(hub, "flange_offset_" + other);
  const double hole = a.n(hub, "spoke_hole_diameter");
  const double holes = a.n(hub, "spoke_count");
  const double erd = a.n(rim, "erd");
  const double offset = a.n(rim, "rim_offset");
  const double crosses = a.n(spokes, "crosses");
  const double length = a.n(spokes, "spoke_length_" + side);
  double nipples = side == "right" ? offset : -offset;  // towards this flange
  if (end == "front" && flange != opposite) {
    nipples = flange < opposite ? -std::abs(offset) : std::abs(offset);
  }
  const double turn = 4 * std::numbers::pi * crosses / holes;
  if (std::cos(turn) < circle / erd) return Plain::kFails;  // runs over its neighbours' heads
  const double across = flange - nipples;
  const double square = across * across + circle * circle / 4 + erd * erd / 4 -
                        circle * erd / 2 * std::cos(turn);
  const double over = length - (std::sqrt(square) - hole / 2);
  return plain(at_least(over, -1) && at_least(0.5, over));
}

double insertion(const Asked& a) {
  const double height = 0.883 * a.n("rider", "rider_inseam");
  const double above = height - a.n("frame", "seat_tube_length") - a.n("saddle", "saddle_stack");
  return a.n("seatpost", "post_length") - above;
}

/// Written out anew from the road power equation.
Plain home_again(const Asked& a, bool on_cargo, double bike, double drag) {
  const bool given = a.yes("order", "ride_given");
  if (!given || cargo(a) != on_cargo) return Plain::kNothingToSay;
  const double metres = a.n("order", "ride_length") / 1000;
  const double mass = a.n("order", "load") + bike;
  const double v = 18 / 3.6;
  const double level = 0.6 * (drag + 0.0044) * v * v +
                       a.n("rear_tyre", "rolling") * mass * 9.80665 + 0.091 + 0.0087 * v;
  const double road = level * metres + mass * 9.80665 * a.n("order", "ride_climb") / 1000;
  const double seconds = metres / v;
  const double motor = std::max(0.0, road - 80 * 0.95 * seconds);
  const double joules = motor / (a.n("motor", "drive_efficiency") / 100) + 5 * seconds;
  return plain(at_least(a.n("battery", "energy"), joules / 3600 / 0.77));
}

/// Compares pull and downhill force on the very slope of the ride.
Plain that_hill(const Asked& a, double gear, double tyre, double motor, double bike) {
  const double radius = a.n("frame", "bead_seat_diameter") / 2000 + tyre / 1000;
  const double push = a.n("rider", "rider_mass") * 9.80665 / std::numbers::pi;
  const double pull = (push * 0.170 + motor) * 0.95 / gear / radius;
  const double slope = std::atan(a.n("order", "ride_steepest") / 100);
  const double mass = a.n("order", "load") + bike;
  const double needed = mass * 9.80665 * (std::sin(slope) + 0.006 * std::cos(slope));
  return plain(pull >= needed);
}

Plain hill_with_hub_gear(const Asked& a) {
  const std::string hub = a.one_of("rear_hub", "rear_wheel");
  const bool given = a.yes("order", "ride_given");
  if (!given || a.w(hub, "rear_drive") != "internal gears") return Plain::kNothingToSay;
  const double gear =
      a.n("chainring", "teeth") / a.n("rear_sprocket", "teeth") * a.n(hub, "gear_low");
  return that_hill(a, gear, 50, a.n("motor", "motor_torque"), 28);
}

Plain hill_without_motor(const Asked& a) {
  if (!a.yes("order", "ride_given") || a.w("order", "assist_class") != "none") {
    return Plain::kNothingToSay;
  }
  return that_hill(a, a.n("chainring", "teeth_small") / a.n("cassette", "cog_max"), 45, 0, 16);
}

Plain bars_over_saddle(const Asked& a) {
  if (a.w("order", "region") != "US") return Plain::kNothingToSay;
  // What is not chosen yet adds nothing.
  const auto added = [&](const std::string& slot, const std::string& name) {
    return a.filled(slot) ? a.n(slot, name) : 0;
  };
  const double bar = a.n("frame", "stack") + added("headset", "upper_stack") +
                     added("headset", "spacers_supplied") + added("stem", "stem_rise") +
                     added("handlebar", "bar_rise");
  return plain(at_least(a.n("frame", "saddle_lowest") + 406, bar));
}

/// Leans the ground by 25 degrees and looks whether the pedal's edge is over it.
Plain pedal_clears(const Asked& a) {
  const double width = a.n("rear_tyre", "tyre_width");
  const double bracket =
      a.n("rear_tyre", "bead_seat_diameter") / 2 + width - a.n("frame", "bb_drop");
  const double up =
      bracket - a.n("crankset", "crank_length") - a.n("pedals", "pedal_thickness") / 2;
  const double out = a.n("crankset", "stance_width") / 2 + a.n("pedals", "pedal_width");
  const double lean = 25 * std::numbers::pi / 180;
  const double over = (up - width / 2) * std::cos(lean) - out * std::sin(lean) + width / 2;
  return plain(up > 0 && over >= 0);
}

Plain released(const Asked& a) {
  for (const char* slot : {"rack", "motor", "battery", "charger", "display", "speed_sensor",
                           "fork", "front_brake", "rear_brake", "front_wheel", "rear_wheel",
                           "crankset", "belt", "front_tyre", "rear_tyre", "stem", "handlebar",
                           "seatpost", "saddle", "front_light", "rear_light"}) {
    if (a.one_of(slot, slot).empty()) continue;
    if (!approved(a)) return Plain::kNothingToSay;
    return plain(a.lists(slot, "released_for", a.w("frame", "platform")));
  }
  throw EmptySlot();
}

Plain lines_through_frame(const Asked& a) {
  if (a.w("frame", "cable_routing") != "internal") return Plain::kNothingToSay;
  const double ports = a.n("frame", "cable_ports");
  double lines = 0;
  bool gap = false;
  for (const char* slot :
       {"rear_brake", "shifter", "seatpost", "rear_light", "display", "speed_sensor"}) {
    if (!a.filled(slot)) continue;
    try {
      lines += a.n(slot, "lines");
    } catch (const NotKnown&) {
      gap = true;
    }
  }
  if (lines > ports) return Plain::kFails;
  if (gap) throw NotKnown();
  return Plain::kHolds;
}

Plain bolted_needs_support(const Asked& a, const std::string& hub, const std::string& holder) {
  if (a.w(hub, "axle_type") != "bolted") return Plain::kNothingToSay;
  return a.need([&] { return a.yes(hub, "torque_support_needed"); }, holder, "torque_support");
}

using Predicate = std::function<Plain(const Asked&)>;

std::map<std::string, Predicate> seat_and_steering() {
  return {
      {"C-012c", [](const Asked& a) { return whole_at_most(a, "fork", "max_system_mass"); }},
      {"C-014", bars_over_saddle},
      {"C-111b",
       [](const Asked& a) {
         return plain(at_least(insertion(a), a.n("seatpost", "post_insertion_min")));
       }},
      {"C-111c",
       [](const Asked& a) {
         return plain(at_least(insertion(a), a.n("frame", "frame_insertion_min")));
       }},
      {"C-112b",
       [](const Asked& a) {
         return a.need(
             [&] {
               const std::string line = a.w("seatpost", "dropper_actuation");
               return line != "none" && line != "wireless";
             },
             "frame", "dropper_port");
       }},
      {"C-113",
       [](const Asked& a) {
         if (a.w("seatpost", "post_type") != "dropper") return Plain::kNothingToSay;
         return plain(at_least(a.n("seatpost", "dropper_insertion"), insertion(a)));
       }},
      {"C-115",
       [](const Asked& a) {
         if (!approved(a)) return Plain::kNothingToSay;
         const double now = a.n("seatpost", "post_setback") + a.n("saddle", "saddle_setback");
         return plain(at_least(20, std::abs(now - a.n("frame", "original_setback"))));
       }},
  };
}

std::map<std::string, Predicate> wheels() {
  return {
      {"C-023b",
       [](const Asked& a) {
         const std::string hub = a.one_of("rear_hub", "rear_wheel");
         if (a.w(hub, "axle_type") != "bolted") return Plain::kNothingToSay;
         const double each_side = (a.n(hub, "axle_length") - a.n("frame", "hub_spacing")) / 2;
         return plain(at_least(each_side, 17));
       }},
      {"C-024a rear",
       [](const Asked& a) {
         return bolted_needs_support(a, a.one_of("rear_hub", "rear_wheel"), "frame");
       }},
      {"C-024a front",
       [](const Asked& a) {
         return bolted_needs_support(a, a.one_of("front_hub", "front_wheel"), "fork");
       }},
      {"C-024b",
       [](const Asked& a) {
         const std::string hub = a.one_of("rear_hub", "rear_wheel");
         if (a.w(hub, "axle_type") != "bolted" || !a.yes(hub, "torque_support_needed")) {
           return Plain::kNothingToSay;
         }
         const double play = a.n("frame", "dropout_slot") - a.n(hub, "axle_flats");
         return plain(at_least(0.3, std::abs(play)));
       }},
      {"C-026c front", [](const Asked& a) { return spoke_length_suits(a, "left"); }},
      {"C-026c rear", [](const Asked& a) { return spoke_length_suits(a, "left"); }},
      {"C-026d front", [](const Asked& a) { return spoke_length_suits(a, "right"); }},
      {"C-026d rear", [](const Asked& a) { return spoke_length_suits(a, "right"); }},
      {"C-030a",
       [](const Asked& a) {
         const std::string slot = a.one_of(a.end() + "_rim", a.end() + "_wheel");
         return whole_at_most(a, slot, "max_system_mass");
       }},
      {"C-034e",
       [](const Asked& a) {
         if (a.w(a.one_of(a.end() + "_rim", a.end() + "_wheel"), "rim_hook") != "hookless") {
           return Plain::kNothingToSay;
         }
         return plain(at_least(5, a.n(a.end() + "_tyre", "pressure_min")));
       }},
      {"C-034f",
       [](const Asked& a) {
         if (a.w(a.one_of(a.end() + "_rim", a.end() + "_wheel"), "rim_hook") != "hookless") {
           return Plain::kNothingToSay;
         }
         return plain(at_least(a.n(a.end() + "_tyre", "tyre_width"), 28));
       }},
      {"C-036a front",
       [](const Asked& a) { return whole_at_most(a, "front_tyre", "tyre_load", 0.5); }},
      {"C-036a rear",
       [](const Asked& a) { return whole_at_most(a, "rear_tyre", "tyre_load", 0.6); }},
      {"C-040a",
       [](const Asked& a) {
         const double turn = std::numbers::pi * (a.n("rear_tyre", "bead_seat_diameter") +
                                                 2 * a.n("rear_tyre", "tyre_width"));
         const double least = a.n("motor", "wheel_circumference_min");
         const double most = a.n("motor", "wheel_circumference_max");
         return plain(at_least(turn, least) && at_least(most, turn));
       }},
      {"C-040b",
       [](const Asked& a) {
         return a.need([&] { return a.w("speed_sensor", "sensor_mount") == "rotor ring"; },
                       "rear_rotor", "sensor_ring");
       }},
  };
}

std::map<std::string, Predicate> drive_and_brakes() {
  const auto motor_asks = [](const std::string& slot, const std::string& help) {
    return [=](const Asked& a) { return a.need([&] { return a.filled("motor"); }, slot, help); };
  };
  return {
      {"C-056b",
       [=](const Asked& a) {
         if (!a.filled("chain")) return Plain::kNothingToSay;
         return motor_asks("chainring", "ebike_released")(a);
       }},
      {"C-059d",
       [](const Asked& a) {
         return plain(at_least(3, std::abs(a.n("front_derailleur", "chainline") -
                                           a.n("crankset", "chainline"))));
       }},
      {"C-059e",
       [](const Asked& a) {
         return plain(a.n("chainring", "teeth") <= a.n("front_derailleur", "teeth"));
       }},
      {"C-064",
       [](const Asked& a) {
         if (a.w("frame", "layout") == "drop-bar") return Plain::kNothingToSay;
         const double rim = a.n("front_tyre", "bead_seat_diameter") / 2;
         const double wheel = rim + a.n("front_tyre", "tyre_width");
         const double pedal = a.n("crankset", "crank_length");
         return plain(at_least(a.n("frame", "front_centre"), wheel + pedal + 89));
       }},
      {"C-065", pedal_clears},
      {"C-066b",
       [](const Asked& a) {
         if (!approved(a)) return Plain::kNothingToSay;
         return plain(at_least(1, std::abs(a.n("crankset", "stance_width") -
                                           a.n("frame", "original_stance"))));
       }},
      {"C-078c",
       [=](const Asked& a) {
         if (a.w("rear_hub", "rear_drive") != "internal gears") return Plain::kNothingToSay;
         return motor_asks("rear_hub", "ebike_released")(a);
       }},
      {"C-099",
       [](const Asked& a) {
         const std::string brake = a.end() + "_brake";
         return a.filled(brake) ? plain(a.yes(brake, "own_lever")) : Plain::kNothingToSay;
       }},
      {"C-102a",
       [](const Asked& a) {
         return whole_at_most(a, a.end() + "_brake", "brake_system_mass_max");
       }},
      {"C-136c",
       [](const Asked& a) {
         if (a.w("order", "assist_class") != "25 km/h") return Plain::kNothingToSay;
         return plain(at_least(25 / 3.6, a.n("motor", "assist_speed")));
       }},
      {"C-136d",
       [](const Asked& a) {
         const std::string wanted = a.w("order", "assist_class");
         if (wanted != "class 1" && wanted != "class 2") return Plain::kNothingToSay;
         return plain(at_least(32.2 / 3.6, a.n("motor", "assist_speed")));
       }},
      {"C-142b",
       [](const Asked& a) {
         if (a.w("order", "region") != "US") return Plain::kNothingToSay;
         return plain(a.lists("battery", "safety_mark", "UL 2271"));
       }},
  };
}

std::map<std::string, Predicate> whole_bikes() {
  return {
      {"C-150", [](const Asked& a) { return whole_at_most(a, "frame", "permitted_total_mass"); }},
      {"C-153a", released},
      {"C-158e", [](const Asked& a) { return plain(a.n("passenger_kit", "belts_for") >= 1); }},
      {"C-161a",
       [](const Asked& a) {
         return plain(a.lists("hitch", "hitch_axle",
                              a.w(a.one_of("rear_hub", "rear_wheel"), "axle_type")));
       }},
      {"C-161b",
       [](const Asked& a) {
         return a.need([&] { return a.filled("hitch"); }, "frame", "trailer_released");
       }},
      {"C-161c",
       [](const Asked& a) {
         return plain(a.n("hitch", "trailer_mass_max") <= a.n("frame", "trailer_mass_max"));
       }},
      {"C-163d",
       [](const Asked& a) {
         return a.need([&] { return a.w("tracker", "tracker_power") == "e-bike"; }, "motor",
                       "accessory_port");
       }},
      {"C-171a", released},
      {"C-171b", released},
      {"C-171c", released},
      {"C-173 hitch", [](const Asked& a) { return plain(a.w("hitch", "function") == "hitch"); }},
      {"C-174a",
       [](const Asked& a) {
         return plain(a.w("rack", "boss_thread") == a.w("frame", "boss_thread"));
       }},
      {"C-174b",
       [](const Asked& a) {
         if (a.w("mudguards", "stay_mount") != "boss") return Plain::kNothingToSay;
         return plain(a.w("mudguards", "boss_thread") == a.w("frame", "boss_thread"));
       }},
      {"C-176", lines_through_frame},
      {"C-180", [](const Asked& a) { return home_again(a, false, 28, 0.6); }},
      {"C-180 cargo", [](const Asked& a) { return home_again(a, true, 50, 0.8); }},
      {"C-181a", hill_with_hub_gear},
      {"C-181b", hill_without_motor},
  };
}

struct Tally {
  int holds = 0;
  int fails = 0;
  int nothing = 0;
  int not_known = 0;
};

void compare(const trade::Rule& rule, const Predicate& predicate, const Bike& bike, Tally& tally) {
  const Outcome outcome = evaluate(real_trade().trade, rule, bike);
  const Verdict failing =
      rule.severity == trade::Severity::kClaim ? Verdict::kFitsWithCare : Verdict::kDoesNotFit;
  try {
    const Plain answer = predicate(Asked(bike, rule));
    const bool says = answer != Plain::kNothingToSay;
    ASSERT_EQ(outcome.applies, says) << rule.name() << " " << outcome.sentence;
    ASSERT_EQ(outcome.verdict, answer == Plain::kFails ? failing : Verdict::kFits)
        << rule.name() << " " << outcome.sentence;
    ++(!says ? tally.nothing : answer == Plain::kHolds ? tally.holds : tally.fails);
  } catch (const EmptySlot&) {
    ASSERT_FALSE(outcome.applies) << rule.name() << " looks at an empty slot";
    ++tally.nothing;
  } catch (const NotKnown&) {
    // The rule may know that it has nothing to say, or fail already, before all is known.
    ++tally.not_known;
    if (!outcome.applies || outcome.verdict == failing) return;
    ASSERT_EQ(outcome.verdict, Verdict::kNotKnown) << rule.name() << " " << outcome.sentence;
  }
}

void compare_by_enumeration(const std::map<std::string, Predicate>& predicates) {
  ASSERT_TRUE(real_trade().problems.empty()) << real_trade().problems.front().full();
  ASSERT_TRUE(demo_shop().problems.empty()) << demo_shop().problems.front().full();
  std::map<std::string, Tally> tallies;
  for (const trade::Rule& rule : real_trade().trade.rules) {
    const auto predicate = predicates.find(rule.id);
    if (predicate == predicates.end()) continue;
    for (const Bike& base : bases_for(rule)) {
      for_bikes(rule, base, 300, true, [&](const Bike& bike) {
        compare(rule, predicate->second, bike, tallies[rule.id]);
        return !::testing::Test::HasFatalFailure();
      });
      if (::testing::Test::HasFatalFailure()) return;
    }
  }
  for (const auto& [id, predicate] : predicates) {
    EXPECT_GT(tallies[id].holds, 0) << id << " never holds: the comparison is empty";
    EXPECT_GT(tallies[id].fails, 0) << id << " never fails: the comparison is empty";
  }
}

TEST(PlainPredicates, AgreeWithRulesOfSeatAndSteering) {
  compare_by_enumeration(seat_and_steering());
}

TEST(PlainPredicates, AgreeWithRulesOfWheels) { compare_by_enumeration(wheels()); }

TEST(PlainPredicates, AgreeWithRulesOfDriveAndBrakes) {
  compare_by_enumeration(drive_and_brakes());
}

TEST(PlainPredicates, AgreeWithRulesOfWholeBikes) { compare_by_enumeration(whole_bikes()); }

}  // namespace
}  // namespace rollwright::spec

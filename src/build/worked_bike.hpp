#pragma once

#include <initializer_list>
#include <map>
#include <string>

#include "build/facts.hpp"
#include "build/sheet.hpp"
#include "trade/order_facts.hpp"
#include "trade/load_trade.hpp"

// For tests only: a trekking bike for a rider of 80 kg. All parts and facts are invented, except
// the wheel geometry, which is that of the reference cases named where it is used.

namespace rollwright::build {

inline const trade::Trade& shipped_trade() {
  static const trade::LoadedTrade kLoaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded.trade;
}

struct WorkedBike {
  trade::Order order;
  std::map<trade::SlotId, trade::Part> parts;

  void put(const std::string& slot, const std::string& kind,
           std::initializer_list<std::pair<std::string, trade::Value>> facts) {
    trade::Part& part = parts[trade::SlotId(slot)];
    part.id = trade::PartId("X-" + slot);
    part.kind = trade::KindId(kind);
    part.name = "invented " + slot;
    for (const auto& [attribute, value] : facts) {
      part.facts[attribute] = {.standing = trade::Standing::kKnown, .value = value};
    }
    order.choices[trade::SlotId(slot)] = part.id;
  }
  void take_out(const std::string& slot) {
    parts.erase(trade::SlotId(slot));
    order.choices.erase(trade::SlotId(slot));
  }
  [[nodiscard]] BikeFacts facts(const trade::Trade& trade) const {
    BikeFacts bike{.build = &trade.templates.at(order.build),
                   .order = trade::order_facts(order),
                   .rider = trade::rider_facts(order)};
    for (const auto& [slot, part] : parts) bike.parts[slot] = &part;
    return bike;
  }
  [[nodiscard]] Result<trade::Sheet> sheet(const trade::Trade& trade, bool care = false) const {
    return make_sheet(
        {.trade = &trade, .order = &order, .parts = facts(trade).parts, .ride = {}, .care = care});
  }
};

inline trade::Value word(const char* text) { return std::string(text); }

/// Rear wheel: flange circles 45 mm at 37 mm left and 18 mm right, effective rim diameter 602 mm,
/// 32 spokes, three crosses, holes 2.6 mm: 294.154 mm left, 292.380 mm right (derived from the
/// law of cosines; worked cases of [spoke-geometry]). Front wheel: 38 mm circles at 35 mm on both
/// sides, 295.027 mm.
inline void put_wheels(WorkedBike& bike) {
  for (const std::string end : {"front", "rear"}) {
    const bool rear = end == "rear";
    const double circle = rear ? 45.0 : 38.0;
    bike.put(end + "_hub", rear ? "K-HR" : "K-HF",
             {{"spoke_count", 32.0}, {"spoke_head", word("J-bend")},
              {"flange_diameter_left", circle}, {"flange_diameter_right", circle},
              {"flange_offset_left", rear ? 37.0 : 35.0},
              {"flange_offset_right", rear ? 18.0 : 35.0}, {"spoke_hole_diameter", 2.6},
              {"axle_type", word("thru-axle")}, {"rear_drive", word("freehub body")},
              {"torque_axle", 12.0}, {"mass", 0.35}});
    bike.put(end + "_rim", "K-RI",
             {{"spoke_count", 32.0}, {"erd", 602.0}, {"rim_offset", 0.0},
              {"rim_tension_max", 1250.0}, {"pressure_max", 6.0}, {"rim_hook", word("hooked")},
              {"mass", 0.5}});
    bike.put(end + "_spokes", "K-SK",
             {{"crosses", 3.0}, {"spoke_length_left", rear ? 294.0 : 295.0},
              {"spoke_length_right", rear ? 292.0 : 295.0}, {"mass", 0.2}});
    bike.put(end + "_tyre", "K-TY",
             {{"tyre_width", 40.0}, {"bead_seat_diameter", 622.0}, {"pressure_min", 2.5},
              {"pressure_max", 5.0}, {"mass", 0.7}});
    bike.put(end + "_tube", "K-TU", {{"inner_kind", word("tube")}, {"mass", 0.15}});
    bike.put(end + "_rotor", "K-RO",
             {{"rotor_mount", word("R6")}, {"torque_rotor_bolts", 6.0},
              {"rotor_thickness_min", 1.6}, {"mass", 0.13}});
    bike.put(end + "_brake", "K-BK",
             {{"brake_type", word("hydraulic disc")}, {"brake_fluid", word("mineral oil")},
              {"torque_lever_clamp_max", 5.0}, {"torque_caliper_bolts", 7.0},
              {"torque_hose_nut", 5.5}, {"mass", 0.35}});
    bike.put(end + "_light", "K-LI", {{"lamp_supply", word("dynamo 6 V AC")}, {"mass", 0.1}});
  }
}

inline void put_frame_and_cockpit(WorkedBike& bike) {
  bike.put("frame", "K-FR",
           {{"layout", word("standard")}, {"material", word("steel")}, {"head_tube_length", 150.0},
            {"shell_standard", word("BSA")}, {"shell_faced", false},
            {"cable_routing", word("external")}, {"brake_mount", word("IS")},
            {"chainstay", 440.0}, {"tension_method", word("none")}, {"belt_split", false},
            {"permitted_total_mass", 140.0}, {"frame_insertion_min", 90.0},
            {"straight_depth", 250.0}, {"torque_axle", 12.0}, {"torque_seat_clamp_max", 6.0},
            {"mass", 2.4}});
  bike.put("fork", "K-FK",
           {{"fork_type", word("suspension")}, {"steerer_material", word("aluminium")},
            {"steerer_length", 260.0}, {"sag_percent", 20.0}, {"brake_mount", word("PM")},
            {"torque_axle", 12.0}, {"mass", 2.0}});
  bike.put("headset", "K-HS",
           {{"upper_seat", word("ZS44")}, {"lower_seat", word("ZS44")}, {"lower_stack", 3.0},
            {"upper_stack", 9.0}, {"spacers_supplied", 30.0}, {"routing_family", word("none")},
            {"mass", 0.12}});
  bike.put("stem", "K-ST",
           {{"clamp_height", 40.0}, {"torque_steerer_max", 6.0}, {"torque_faceplate_max", 5.0},
            {"mass", 0.15}});
  bike.put("handlebar", "K-BA",
           {{"bar_type", word("riser")}, {"material", word("aluminium")},
            {"torque_bar_clamp_max", 5.5}, {"torque_lever_clamp_max", 4.0}, {"mass", 0.3}});
  bike.put("grips", "K-GR",
           {{"grip_form", word("clamp-on")}, {"torque_grip_max", 3.0}, {"mass", 0.1}});
  bike.put("seatpost", "K-SP",
           {{"post_type", word("rigid")}, {"material", word("aluminium")},
            {"post_insertion_min", 100.0}, {"torque_rails_max", 10.0}, {"mass", 0.3}});
  bike.put("seat_clamp", "K-SC", {{"torque_seat_clamp_max", 5.0}, {"mass", 0.03}});
  bike.put("saddle", "K-SA", {{"mass", 0.35}});
}

inline void put_drive(WorkedBike& bike) {
  bike.put("bottom_bracket", "K-BB", {{"torque_cups", 40.0}, {"mass", 0.1}});
  bike.put("crankset", "K-CR",
           {{"crank_spindle", word("24")}, {"crank_length", 172.5}, {"torque_pinch", 13.0},
            {"torque_ring_bolts", 9.0}, {"mass", 0.7}});
  bike.put("chainring", "K-RG", {{"teeth", 32.0}, {"torque_ring_bolts", 9.0}, {"mass", 0.1}});
  bike.put("chain", "K-CH", {{"links", 116.0}, {"chain_width", word("11")}, {"mass", 0.25}});
  bike.put("cassette", "K-CA",
           {{"cog_max", 51.0}, {"chain_width", word("11")}, {"torque_cassette", 40.0},
            {"mass", 0.4}});
  bike.put("rear_derailleur", "K-RD",
           {{"shift_actuation", word("cable")}, {"torque_hanger_bolt", 9.0}, {"pulley_gap", 6.0},
            {"mass", 0.3}});
  bike.put("front_derailleur", "K-FD", {{"shift_actuation", word("cable")}, {"mass", 0.1}});
  bike.put("shifter", "K-SH",
           {{"shift_actuation", word("cable")}, {"torque_lever_clamp_max", 4.5}, {"mass", 0.2}});
}

inline WorkedBike worked_bike() {
  WorkedBike bike;
  bike.order.id = trade::OrderId("9001");
  bike.order.build = "B2";
  bike.order.rider = {.name = "Invented Rider",
                      .height = 1780.0 * mm,
                      .inseam = 820.0 * mm,
                      .mass = 80.0 * kg};
  bike.order.need = {.words = "to work and back", .luggage = 20.0 * kg, .region = "EU",
                     .assist_class = "none"};
  put_wheels(bike);
  put_frame_and_cockpit(bike);
  put_drive(bike);
  bike.put("mudguards", "K-MG", {{"mass", 0.6}});
  bike.put("rack", "K-RK", {{"torque_rack", 5.5}, {"mass", 0.7}});
  bike.put("kickstand", "K-KS",
           {{"stand_mount", word("18 mm plate")}, {"torque_stand", 35.0}, {"mass", 0.4}});
  bike.put("pedals", "K-PE", {{"torque_pedal", 38.0}, {"mass", 0.35}});
  bike.put("guard", "K-AC", {{"mass", 0.2}});
  bike.put("bell", "K-AC", {{"mass", 0.05}});
  bike.put("reflectors", "K-AC", {{"mass", 0.05}});
  return bike;
}

}  // namespace rollwright::build

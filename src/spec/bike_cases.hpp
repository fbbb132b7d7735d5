#pragma once

#include <algorithm>
#include <functional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "spec/demo_rules.hpp"
#include "spec/rule_form.hpp"

// For tests of this room only: many small bikes for one rule, made of the demo's parts.

namespace rollwright::spec {

/// Orders that differ in what rules ask: with and without a motor, here and in the US, with a child,
/// with a ride, and one that says hardly anything.
inline std::vector<Bike> case_orders() {
  trade::Order order;
  order.rider = {.name = "", .contact = "", .height = 1700 * mm, .inseam = 790 * mm,
                 .mass = 74 * kg};
  order.need = {.use_class = 1, .luggage = 20 * kg, .region = "EU", .assist_class = "25 km/h",
                .route = "ridge"};
  std::vector<Bike> bikes;
  const auto add = [&bikes](const trade::Order& one, std::optional<trade::RideFacts> ride) {
    bikes.push_back({.parts = {}, .order = trade::order_facts(one, ride),
                     .rider = trade::rider_facts(one)});
  };
  add(order, trade::RideFacts{31 * km, 356 * metre, 0.069});
  trade::Order there = order;
  there.need.region = "US";
  there.need.assist_class = "class 1";
  there.need.front_brake_lever = "right";
  there.rider.inseam = 900 * mm;
  there.rider.height = 1880 * mm;
  add(there, trade::RideFacts{60 * km, 1500 * metre, 0.21});
  trade::Order plain = order;
  plain.need.assist_class = "none";
  plain.need.child_seat = true;
  plain.need.use_class = 2;
  plain.rider.inseam = 850 * mm;
  plain.rider.height = 1790 * mm;
  add(plain, trade::RideFacts{40 * km, 300 * metre, 0.08});
  trade::Order fast = order;
  fast.need.region = "US";
  fast.need.assist_class = "class 3";
  fast.need.luggage = 5 * kg;
  add(fast, trade::RideFacts{20 * km, 100 * metre, 0.04});
  trade::Order enquiry;
  enquiry.need = {.region = "EU", .assist_class = "25 km/h", .route = "ridge"};
  add(enquiry, std::nullopt);
  return bikes;
}

/// Parts of the demo that may fill the slot.
inline std::vector<const trade::Part*> parts_for(const trade::SlotId& slot) {
  std::vector<const trade::Part*> parts;
  const trade::Slot* found = trade::find_slot(real_trade().trade, slot);
  for (const trade::Part& part : demo_shop().files.parts) {
    if (std::ranges::find(found->kinds, part.kind) != found->kinds.end()) parts.push_back(&part);
  }
  return parts;
}

inline bool sums_all_slots(const trade::Rule& rule) {
  return std::ranges::any_of(rule.terms,
                             [](const trade::Operand& term) { return term.slot.text == "*"; });
}

/// Bikes for the rule: at most `most` combinations of the demo's parts in the slots it looks at
/// (left empty too, when `with_empty`), spread evenly over all of them. A sum over all slots is tried
/// on the demo's whole bikes. `visit` returns false to end.
inline void for_bikes(const trade::Rule& rule, const Bike& base, std::size_t most, bool with_empty,
                      const std::function<bool(const Bike&)>& visit) {
  const std::vector<trade::SlotId> scope = trade::scope_of(rule);
  std::vector<std::vector<const trade::Part*>> candidates;
  std::size_t total = 1;
  for (const trade::SlotId& slot : scope) {
    candidates.push_back(parts_for(slot));
    if (with_empty) candidates.back().push_back(nullptr);
    total *= candidates.back().size();
  }
  constexpr std::size_t kStep = 1'000'003;  // prime, so that steps reach every combination
  for (std::size_t n = 0; n < std::min(total, most); ++n) {
    std::size_t number = total <= most ? n : n * kStep % total;
    Bike bike = base;
    for (std::size_t i = 0; i < scope.size(); ++i) {
      const trade::Part* part = candidates[i][number % candidates[i].size()];
      number /= candidates[i].size();
      if (part != nullptr) {
        bike.parts[scope[i]] = part;
      } else {
        bike.parts.erase(scope[i]);
      }
    }
    if (!visit(bike)) return;
  }
}

/// Bare orders; for sums over all slots whole bikes of the demo, one of each build.
inline std::vector<Bike> bases_for(const trade::Rule& rule) {
  if (!sums_all_slots(rule)) return case_orders();
  std::vector<Bike> bikes;
  std::set<std::string> builds;
  const auto parts = demo_parts();
  for (const trade::Order& order : demo_shop().files.orders) {
    if (order.spec_version > 0 && builds.insert(order.build).second) {
      bikes.push_back(demo_bike(order, parts));
    }
  }
  return bikes;
}

}  // namespace rollwright::spec

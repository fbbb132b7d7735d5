#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/id.hpp"
#include "trade/fact.hpp"
#include "units/money.hpp"
#include "units/quantity.hpp"

namespace rollwright::trade {

using PartId = Id<struct PartTag>;          // the shop's own article number: "HB-0412"
using KindId = Id<struct KindTag>;          // "K-FR"
using SlotId = Id<struct SlotTag>;          // "rear_hub"
using SupplierId = Id<struct SupplierTag>;  // "nordal"

/// A kind of part and what has to be stated of it.
struct PartKind {
  KindId id;
  std::string name;  // "frame"
  /// Attributes in the order in which they are asked; `mass` belongs to every kind.
  std::vector<std::string> attributes;
  /// Those of them that fit rules ask most.
  std::vector<std::string> decisive;
  /// Row of the lead-time priors (trade practice by kind), for suppliers without history.
  std::string lead_time_group;
  /// Whether each piece carries its own number that goes into the bike's record.
  bool has_serial = false;
};

/// A part in the catalogue. A fact that is absent is not known.
struct Part {
  PartId id;
  KindId kind;
  std::string name;
  std::string maker;
  std::map<std::string, Fact> facts;  // by attribute id
  Money price;                        // what the customer pays, tax in
  bool gone = false;                  // discontinued: kept for old bikes, not offered any more
  bool may_follow = false;            // the build can start without it (pedals, bell, bag)
};

/// The fact if its standing is known or measured.
[[nodiscard]] const Fact* fact_of(const Part& part, const std::string& attribute);
[[nodiscard]] std::optional<double> number_of(const Part& part, const std::string& attribute);
[[nodiscard]] std::optional<std::string> word_of(const Part& part, const std::string& attribute);
[[nodiscard]] std::optional<Mass> mass_of(const Part& part);

/// A position on the bike that one part (or `quantity` equal ones) fills.
struct Slot {
  SlotId id;         // "rear_hub"
  std::string name;  // "rear hub"
  std::vector<KindId> kinds;
  int quantity = 1;
};

/// Which slots a bike of one sort has. Named after the builds the shop offers.
struct BuildTemplate {
  std::string id;    // "B1"
  std::string name;  // "e-bike, belt and hub gear, mid-motor, built here"
  bool maker_built = false;
  std::vector<SlotId> required;
  std::vector<SlotId> optional;
  /// Per slot, when only some of the slot's kinds belong to this build.
  std::map<SlotId, std::vector<KindId>> kinds;
  std::vector<std::string> traits;  // traits every such bike has, beside those its parts give it
};

}  // namespace rollwright::trade

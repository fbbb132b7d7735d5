#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "spec/trials/generated_catalogue.hpp"

namespace rollwright::spec::testing {

struct BikesSize {
  int slots = 30;   // 4 to 42: the first of slot_rows()
  int parts = 100;  // per slot
  int rules = 120;
  /// 1: parts belong to families, as in the trade. 0: every value is drawn by itself, and rules
  /// hold easily (about seven times in ten), so that nothing can be foreseen from anything.
  double likeness = 1;
  /// Of the facts. Of the demo's 435 parts six lack a fact that a rule asks for.
  double not_known = 0.003;
  double gone = 0.02;
};

/// A large invented catalogue of whole bikes whose graph of rules is that of interface_rows(), rows
/// without such slots left out; more rules than rows go round again, pairs only, with further
/// interfaces between the same parts.
///
/// There are 8 to 15 families of frames and 3 to 7 in each cluster of other parts; a family of
/// frames is made for one family of each cluster, and every interface gives each family a value (3
/// to 12 on offer, so that families share some). A part takes its family's values; at likeness 1 one
/// part in twenty strays from them in three of ten interfaces. Some sizes hang on no family at all.
/// About 15 % of the pairs carry a condition. Masses are whole grams and prices whole cents, drawn part
/// by part; parts can be here within 60 days,
/// one in fifty cannot be had. The first part of each family is typical: it strays nowhere.
[[nodiscard]] Catalogue generated_bikes(std::uint64_t seed, const BikesSize& size = {});

/// What each rule looks at: the graph of a catalogue.
struct Interface {
  std::string rule;
  trade::RuleShape shape = trade::RuleShape::kSame;
  std::vector<trade::SlotId> slots;  // those with a condition too; "*" for the whole bike
};
[[nodiscard]] std::vector<Interface> interfaces(const Catalogue& catalogue);
/// One line for each rule, then how many rules touch each slot.
[[nodiscard]] std::string graph_text(const Catalogue& catalogue);

}  // namespace rollwright::spec::testing

#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "spec/compiled.hpp"
#include "spec/problem.hpp"
#include "spec/slot_tree.hpp"

namespace rollwright::spec {

/// Bikes of which every fact is known, or also those with facts that are not.
enum class Facts { kKnown, kAny };
/// The worst verdict of such bikes: kFitsWithCare, or kNotKnown.
[[nodiscard]] constexpr int worst_level(Facts facts) {
  return static_cast<int>(facts == Facts::kKnown ? trade::Verdict::kFitsWithCare
                                                 : trade::Verdict::kNotKnown);
}

/// Every bike that the rules allow, folded up: a decision diagram over the tree of slots.
///
/// Method:   the slots are decided from the root of the slot tree downwards. What the rules
///           remember of the slots above (see Machine) is all that matters for the slots below, so
///           that each slot keeps one *node* per memory that can occur. Families of parts that lead
///           from a node to the same nodes below share one *bundle*; the same set of families in
///           many bundles is kept once. Dead ends are left out, equal nodes are one. Every way of
///           taking one part out of one bundle per slot is a bike, and every bike is such a way.
/// Accuracy: exact. Sums over the whole bike (its mass) are left out and held beside: see
///           `whole_sums`; who reads the diagram has to keep them too.
/// Source:   AND/OR decision diagrams and elimination trees, as in texts on constraint networks
///           (from memory).
/// Bound:    `DiagramSettings::most_arcs`, kMostSlots, kMostPieces. Beyond them there is no diagram,
///           and the search with its budget answers instead.
struct DiagramSlot {
  /// Parts that no rule tells apart, save by what they add to a sum over the whole bike.
  std::vector<int> family_of;               // by candidate; -1: on no bike at all
  std::vector<std::vector<int>> members;    // by family: its candidates
  std::vector<std::uint32_t> first_in_set;  // by set of families; one more at the end
  std::vector<std::uint16_t> in_set;        // families, set after set
  std::vector<std::uint32_t> first_bundle;  // by node; one more at the end
  std::vector<std::uint32_t> set;           // by bundle
  std::vector<std::uint8_t> level;          // by bundle: the worst verdict that it settles
  std::vector<std::uint32_t> child;         // by bundle and child slot: its node there

  [[nodiscard]] std::size_t nodes() const { return first_bundle.size() - 1; }
  [[nodiscard]] std::size_t sets() const { return first_in_set.size() - 1; }
  [[nodiscard]] int families() const { return static_cast<int>(members.size()); }
  [[nodiscard]] std::span<const std::uint16_t> families_in(std::uint32_t set_number) const {
    return std::span(in_set).subspan(first_in_set[set_number],
                                     first_in_set[set_number + 1] - first_in_set[set_number]);
  }
};

/// Rules of one sum over the whole bike, each with a limit of its own ("the bike with rider and
/// luggage may weigh 140 kg on this frame, 130 kg on these wheels").
struct WholeSum {
  static constexpr double kUnit = 1e-7;  // amounts are whole multiples of this
  struct Share {
    std::int64_t amount = 0;
    bool known = true;
  };
  struct Limit {
    int slot = -1;  // whose part states the limit; -1: it is the same for every bike
    std::vector<SumLimit> by_candidate;  // one only when slot is -1
  };
  std::vector<int> rules;                   // numbers of the constraints
  std::vector<std::vector<Share>> shares;   // by slot and candidate
  Share base;                               // of the order, the rider
  std::vector<Limit> limits;                // parallel to rules
};

struct Diagram {
  SlotTree tree;
  std::vector<DiagramSlot> slots;    // by domain
  std::vector<std::uint32_t> roots;  // by root of the tree: its node
  int base_level = 0;                // worst verdict of the rules that every bike shares
  bool nothing = false;              // no bike at all
  std::vector<WholeSum> whole_sums;
  std::size_t arcs = 0;              // bundles, and families in sets: what a sweep looks at
  std::size_t bytes = 0;             // of memory, about
};

/// So that sums over a bike stay far from the greatest number there is.
inline constexpr std::size_t kMostSlots = 200;
inline constexpr int kMostPieces = 1000;  // on one bike

/// Nothing when a bound is reached. `known`: the tree of a diagram of the same slots, which may be a
/// good one here too; null when there is none.
[[nodiscard]] std::optional<Diagram> diagram_of(const Compiled& compiled,
                                                const DiagramSettings& settings, Facts facts,
                                                const SlotTree* known = nullptr);

}  // namespace rollwright::spec

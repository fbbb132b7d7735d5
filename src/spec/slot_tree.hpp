#pragma once

#include <vector>

namespace rollwright::spec {

/// What the order of deciding is chosen by: the slots, and which of them are looked at together.
struct SlotGraph {
  /// One rule: its slots, and how many sorts of part it tells apart in each.
  struct Together {
    std::vector<int> slots;
    std::vector<double> sorts;
  };
  std::vector<double> choices;  // by slot: how many sorts of part there are, at least 1
  std::vector<Together> rules;
};

/// The slots as a forest, so that the slots of every rule lie on one road from a root downwards:
/// once the slots above are decided, branches have nothing to do with one another. A bike's slots
/// hang on the frame.
struct SlotTree {
  std::vector<int> parent;                 // by slot; -1 for a root
  std::vector<std::vector<int>> children;  // by slot
  std::vector<int> roots;
  std::vector<int> order;                  // every slot after its parent
  double expected_arcs = 0;                // a rough estimate, for choosing between trees
};

/// The tree that comes of taking the slots out in this order; the last becomes a root.
/// Source: elimination orders and their trees, as in texts on constraint networks (from memory).
[[nodiscard]] SlotTree slot_tree(const SlotGraph& graph, const std::vector<int>& sequence);

/// Orders of taking the slots out, the most promising first: fewest new neighbours first, or
/// smallest table first, ties by a fixed random sequence.
[[nodiscard]] std::vector<std::vector<int>> promising_sequences(const SlotGraph& graph, int tries);

}  // namespace rollwright::spec

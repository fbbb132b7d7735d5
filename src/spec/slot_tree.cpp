#include "spec/slot_tree.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/index.hpp"
#include "base/random.hpp"

namespace rollwright::spec {

namespace {

/// Neighbours as flags; slots are few.
using Neighbours = std::vector<std::vector<char>>;

Neighbours neighbours_of(const SlotGraph& graph) {
  const std::size_t slots = graph.choices.size();
  Neighbours near(slots, std::vector<char>(slots, 0));
  for (const SlotGraph::Together& rule : graph.rules) {
    for (const int a : rule.slots) {
      for (const int b : rule.slots) near[at(a)][at(b)] = a != b ? 1 : near[at(a)][at(b)];
    }
  }
  return near;
}

/// One way of taking the slots out.
class Elimination {
 public:
  enum class Taste { kFewestNewNeighbours, kSmallestTable };

  Elimination(const SlotGraph& graph, const Neighbours& near, Taste taste, Random random)
      : graph_(graph), near_(near), taste_(taste), random_(random), out_(graph.choices.size(), 0),
        above_(graph.choices.size()) {}

  std::vector<int> sequence() {
    std::vector<int> sequence;
    for (std::size_t i = 0; i < out_.size(); ++i) {
      sequence.push_back(cheapest());
      take_out(sequence.back());
    }
    return sequence;
  }

  SlotTree along(const std::vector<int>& sequence) {
    for (const int slot : sequence) take_out(slot);
    return tree_of(sequence, above_);
  }

 private:
  void take_out(int slot) {
    above_[at(slot)] = left_near(slot);
    join(above_[at(slot)]);
    out_[at(slot)] = 1;
  }

  [[nodiscard]] std::vector<int> left_near(int slot) const {
    std::vector<int> left;
    for (std::size_t other = 0; other < out_.size(); ++other) {
      if (near_[at(slot)][other] != 0 && out_[other] == 0) left.push_back(static_cast<int>(other));
    }
    return left;
  }

  void join(const std::vector<int>& slots) {
    for (const int a : slots) {
      for (const int b : slots) {
        if (a != b) near_[at(a)][at(b)] = 1;
      }
    }
  }

  [[nodiscard]] double cost(int slot) const {
    const std::vector<int> left = left_near(slot);
    double table = std::log(graph_.choices[at(slot)]);
    for (const int other : left) table += std::log(graph_.choices[at(other)]);
    if (taste_ == Taste::kSmallestTable) return table;
    int fresh = 0;
    for (const int a : left) {
      for (const int b : left) fresh += a < b && near_[at(a)][at(b)] == 0 ? 1 : 0;
    }
    return fresh + 1e-3 * table;
  }

  [[nodiscard]] int cheapest() {
    int best = -1;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t slot = 0; slot < out_.size(); ++slot) {
      if (out_[slot] != 0) continue;
      const double own = cost(static_cast<int>(slot)) * (1 + 0.15 * random_.uniform());
      if (own >= least) continue;
      least = own;
      best = static_cast<int>(slot);
    }
    return best;
  }

  SlotTree tree_of(const std::vector<int>& sequence, const std::vector<std::vector<int>>& above) {
    const std::size_t slots = sequence.size();
    std::vector<int> place(slots, 0);
    for (std::size_t i = 0; i < slots; ++i) place[at(sequence[i])] = static_cast<int>(i);
    SlotTree tree;
    tree.parent.assign(slots, -1);
    tree.children.resize(slots);
    tree.order.assign(sequence.rbegin(), sequence.rend());
    for (const int slot : tree.order) {
      const auto& candidates = above[at(slot)];
      const auto parent = std::ranges::min_element(
          candidates, {}, [&](int other) { return place[at(other)]; });
      if (parent == candidates.end()) {
        tree.roots.push_back(slot);
      } else {
        tree.parent[at(slot)] = *parent;
        tree.children[at(*parent)].push_back(slot);
      }
    }
    tree.expected_arcs = expected_arcs(tree, place, above);
    return tree;
  }

  /// For each slot: ways to stand before it, times its choices. The ways are bounded by the slots
  /// above it and by what the rules that are still open have to remember.
  [[nodiscard]] double expected_arcs(const SlotTree& tree, const std::vector<int>& place,
                                     const std::vector<std::vector<int>>& above) const {
    std::vector<double> by_rules(place.size(), 0);
    for (const SlotGraph::Together& rule : graph_.rules) remember(rule, tree, place, by_rules);
    double total = 0;
    for (std::size_t slot = 0; slot < place.size(); ++slot) {
      double by_slots = 0;
      for (const int other : above[slot]) by_slots += std::log(graph_.choices[at(other)]);
      total += graph_.choices[slot] * std::exp(std::min(by_slots, by_rules[slot]));
    }
    return total;
  }

  /// Adds, for every slot from the rule's lowest up to below its highest, the logarithm of what the
  /// rule remembers of its slots above.
  static void remember(const SlotGraph::Together& rule, const SlotTree& tree,
                       const std::vector<int>& place, std::vector<double>& by_rules) {
    const auto place_of = [&](int slot) { return place[at(slot)]; };
    const int lowest = std::ranges::min(rule.slots, {}, place_of);
    const int highest = std::ranges::max(rule.slots, {}, place_of);
    for (int slot = lowest; slot != highest; slot = tree.parent[at(slot)]) {
      for (std::size_t i = 0; i < rule.slots.size(); ++i) {
        if (place_of(rule.slots[i]) > place_of(slot)) by_rules[at(slot)] += std::log(rule.sorts[i]);
      }
    }
  }

  const SlotGraph& graph_;
  Neighbours near_;
  const Taste taste_;
  Random random_;
  std::vector<char> out_;
  std::vector<std::vector<int>> above_;  // by slot: neighbours left when it was taken out
};

}  // namespace

SlotTree slot_tree(const SlotGraph& graph, const std::vector<int>& sequence) {
  return Elimination(graph, neighbours_of(graph), Elimination::Taste::kSmallestTable, Random(0))
      .along(sequence);
}

std::vector<std::vector<int>> promising_sequences(const SlotGraph& graph, int tries) {
  const Neighbours near = neighbours_of(graph);
  const Random random(17);
  std::vector<std::pair<double, std::vector<int>>> sequences;
  for (int i = 0; i < tries; ++i) {
    const auto taste = i % 2 == 0 ? Elimination::Taste::kFewestNewNeighbours
                                  : Elimination::Taste::kSmallestTable;
    std::vector<int> sequence =
        Elimination(graph, near, taste, random.split(static_cast<std::uint64_t>(i))).sequence();
    const double arcs = slot_tree(graph, sequence).expected_arcs;
    sequences.emplace_back(arcs, std::move(sequence));
  }
  std::ranges::stable_sort(sequences, {}, [](const auto& scored) { return scored.first; });
  std::vector<std::vector<int>> result;
  for (auto& [arcs, sequence] : sequences) result.push_back(std::move(sequence));
  return result;
}

}  // namespace rollwright::spec

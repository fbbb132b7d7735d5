#include "spec/pruned.hpp"

#include <algorithm>
#include <limits>

#include "base/index.hpp"

namespace rollwright::spec {

namespace {

constexpr std::uint32_t kNoNumber = std::numeric_limits<std::uint32_t>::max();

/// What is decided decides what of a set counts.
enum class SetCounts : std::uint8_t {
  kNot,    // none of its families can be used
  kAside,  // only when what is decided in the slot is left aside
  kYes
};

/// How a node can be reached from the roots.
enum class Reach : std::uint8_t {
  kNot,
  kAside,  // only when what is decided in one slot above is left aside
  kYes
};

class Pruning {
 public:
  Pruning(const Situation& situation, const Outlook& outlook, int level)
      : in_(situation), diagram_(situation.diagram), outlook_(outlook), level_(level) {}

  Diagram run() {
    for (int d = 0; d < static_cast<int>(diagram_.slots.size()); ++d) {
      const std::size_t nodes = diagram_.slots[at(d)].nodes();
      sets_.push_back(sets_that_count(d));
      reach_.emplace_back(nodes, Reach::kNot);
      number_.emplace_back(nodes, kNoNumber);
      alive_.emplace_back(nodes, char{0});
    }
    const auto& roots = diagram_.tree.roots;
    for (std::size_t r = 0; r < roots.size(); ++r) {
      reach_[at(roots[r])][diagram_.roots[r]] = Reach::kYes;
    }
    const auto& order = diagram_.tree.order;
    for (const int slot : order) descend(slot);
    Diagram result{.tree = diagram_.tree, .slots = std::vector<DiagramSlot>(order.size()),
                   .roots = {}, .base_level = diagram_.base_level, .nothing = false,
                   .whole_sums = diagram_.whole_sums};
    for (auto slot = order.rbegin(); slot != order.rend(); ++slot) {
      result.slots[at(*slot)] = kept(*slot);
    }
    for (std::size_t r = 0; r < roots.size(); ++r) {
      result.roots.push_back(number_[at(roots[r])][diagram_.roots[r]]);
    }
    return result;
  }

 private:
  [[nodiscard]] std::vector<SetCounts> sets_that_count(int d) const {
    const DiagramSlot& slot = diagram_.slots[at(d)];
    const int decided = in_.decided[at(d)];
    std::vector<SetCounts> families(slot.members.size(), SetCounts::kNot);
    for (std::size_t i = 0; i < slot.family_of.size(); ++i) {
      if (slot.family_of[i] < 0 || outlook_.usable[at(d)][i] == 0) continue;
      SetCounts& counts = families[at(slot.family_of[i])];
      const bool yes = decided < 0 || decided == static_cast<int>(i);
      counts = std::max(counts, yes ? SetCounts::kYes : SetCounts::kAside);
    }
    std::vector<SetCounts> sets(slot.sets(), SetCounts::kNot);
    for (std::uint32_t set = 0; set < sets.size(); ++set) {
      for (const std::uint16_t family : slot.families_in(set)) {
        sets[set] = std::max(sets[set], families[family]);
      }
    }
    return sets;
  }

  /// Calls visit(bundle, first of its children) for those of the node that count by themselves.
  template <class Visit>
  void for_each_bundle(int d, std::size_t node, Visit visit) const {
    const DiagramSlot& slot = diagram_.slots[at(d)];
    const std::size_t children = diagram_.tree.children[at(d)].size();
    const SetCounts least =
        reach_[at(d)][node] == Reach::kYes ? SetCounts::kAside : SetCounts::kYes;
    for (std::size_t b = slot.first_bundle[node]; b < slot.first_bundle[node + 1]; ++b) {
      if (slot.level[b] > level_ || sets_[at(d)][slot.set[b]] < least) continue;
      visit(b, slot.child.data() + b * children);
    }
  }

  /// Numbers the nodes that are reached, and reaches those below them.
  void descend(int d) {
    const auto& children = diagram_.tree.children[at(d)];
    const DiagramSlot& slot = diagram_.slots[at(d)];
    std::uint32_t next = 0;
    for (std::size_t node = 0; node < slot.nodes(); ++node) {
      const Reach own = reach_[at(d)][node];
      if (own == Reach::kNot) continue;
      number_[at(d)][node] = next++;
      for_each_bundle(d, node, [&](std::size_t bundle, const std::uint32_t* child) {
        const bool yes = sets_[at(d)][slot.set[bundle]] == SetCounts::kYes;
        for (std::size_t k = 0; k < children.size(); ++k) {
          Reach& below = reach_[at(children[k])][child[k]];
          below = std::max(below, yes ? own : Reach::kAside);
        }
      });
    }
  }

  [[nodiscard]] int dead_among(int d, const std::uint32_t* child) const {
    const auto& children = diagram_.tree.children[at(d)];
    int dead = 0;
    for (std::size_t k = 0; k < children.size(); ++k) {
      dead += alive_[at(children[k])][child[k]] == 0;
    }
    return dead;
  }

  /// What is kept of the slot, and which of its nodes are alive: below them is a bike that has all
  /// that is decided. The slots below must be done.
  [[nodiscard]] DiagramSlot kept(int d) {
    const DiagramSlot& slot = diagram_.slots[at(d)];
    const auto& children = diagram_.tree.children[at(d)];
    DiagramSlot own = emptied(slot);
    std::vector<std::uint32_t> set_numbers(slot.sets(), kNoNumber);
    for (std::size_t node = 0; node < slot.nodes(); ++node) {
      const Reach reach = reach_[at(d)][node];
      if (reach == Reach::kNot) continue;
      for_each_bundle(d, node, [&](std::size_t bundle, const std::uint32_t* child) {
        const bool yes = sets_[at(d)][slot.set[bundle]] == SetCounts::kYes;
        const int dead = dead_among(d, child);
        alive_[at(d)][node] |= yes && dead == 0;
        // One slot may be left aside: one above, this one, or one below.
        if (dead > (yes && reach == Reach::kYes ? 1 : 0)) return;
        own.set.push_back(kept_set(slot, slot.set[bundle], set_numbers, own));
        own.level.push_back(slot.level[bundle]);
        for (std::size_t k = 0; k < children.size(); ++k) {
          own.child.push_back(number_[at(children[k])][child[k]]);
        }
      });
      own.first_bundle.push_back(static_cast<std::uint32_t>(own.set.size()));
    }
    return own;
  }

  /// With room for all.
  static DiagramSlot emptied(const DiagramSlot& slot) {
    DiagramSlot own{.family_of = slot.family_of, .members = slot.members};
    own.first_in_set.push_back(0);
    own.first_bundle.reserve(slot.first_bundle.size());
    own.first_bundle.push_back(0);
    own.set.reserve(slot.set.size());
    own.level.reserve(slot.level.size());
    own.child.reserve(slot.child.size());
    return own;
  }

  static std::uint32_t kept_set(const DiagramSlot& slot, std::uint32_t set,
                                std::vector<std::uint32_t>& set_numbers, DiagramSlot& own) {
    if (set_numbers[set] == kNoNumber) {
      set_numbers[set] = static_cast<std::uint32_t>(own.sets());
      const auto families = slot.families_in(set);
      own.in_set.insert(own.in_set.end(), families.begin(), families.end());
      own.first_in_set.push_back(static_cast<std::uint32_t>(own.in_set.size()));
    }
    return set_numbers[set];
  }

  const Situation& in_;
  const Diagram& diagram_;
  const Outlook& outlook_;
  const int level_;
  std::vector<std::vector<SetCounts>> sets_;        // by slot and set
  std::vector<std::vector<Reach>> reach_;           // by slot and node
  std::vector<std::vector<std::uint32_t>> number_;  // by slot and node: among those kept
  std::vector<std::vector<char>> alive_;            // by slot and node
};

}  // namespace

Diagram pruned(const Situation& situation, const Outlook& outlook, int level) {
  return Pruning(situation, outlook, level).run();
}

}  // namespace rollwright::spec

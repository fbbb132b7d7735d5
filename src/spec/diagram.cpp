#include "spec/diagram.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include "base/index.hpp"
#include "spec/machine.hpp"
#include "spec/search.hpp"
#include "spec/whole_sum.hpp"

namespace rollwright::spec {

namespace {

constexpr auto kWorstAllowed = static_cast<int>(trade::Verdict::kNotKnown);

using Key = std::vector<std::uint32_t>;
struct HashOfKey {
  std::size_t operator()(const Key& key) const {
    std::uint64_t hash = 1469598103934665603ULL;
    for (const std::uint32_t word : key) hash = (hash ^ word) * 1099511628211ULL + (hash >> 29);
    return static_cast<std::size_t>(hash ^ (hash >> 32));
  }
};

/// Candidates of every slot that are left when each rule has had its say on its own.
std::vector<std::vector<char>> candidates_left(const Compiled& compiled) {
  std::vector<Fixed> gone;  // count too: somebody may have chosen them
  for (int d = 0; d < static_cast<int>(compiled.domains.size()); ++d) {
    const Domain& domain = compiled.domains[at(d)];
    for (int group = 0; group < domain.groups(); ++group) gone.push_back({d, 0, group});
  }
  Budget budget{.left = 0};
  Search search(compiled, trade::Verdict::kNotKnown, budget);
  search.also_offer(gone);
  const std::optional<Bits> bits = search.start({});
  std::vector<std::vector<char>> left;
  for (const Domain& domain : compiled.domains) {
    std::vector<char> own;
    for (const int group : domain.group_of) own.push_back(bits && has(*bits, domain, group));
    left.push_back(std::move(own));
  }
  return left;
}

/// A rule of the diagram: its machine, and what it makes of the families of its slots.
struct Reader {
  int constraint = 0;
  std::vector<int> slots;  // in the order of the tree, only those whose families differ
  std::vector<std::vector<int>> index_of;  // by those: class index by family
  Machine machine;
};

class Building {
 public:
  Building(const Compiled& compiled, const DiagramSettings& settings)
      : compiled_(compiled), settings_(settings) {}

  std::optional<Diagram> run() {
    left_ = candidates_left(compiled_);
    split_off_sums();
    if (!sums_can_be_held(compiled_, summed_)) return std::nullopt;
    diagram_.slots.resize(compiled_.domains.size());
    diagram_.whole_sums = whole_sums_of(compiled_, summed_);
    if (diagram_.whole_sums.size() > kMostWholeSums) return std::nullopt;
    for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) lay_families(d);
    diagram_.nothing |= std::ranges::any_of(
        diagram_.slots, [](const DiagramSlot& slot) { return slot.members.empty(); });
    if (diagram_.nothing) return std::move(diagram_);
    lay_tree();
    if (!lay_readers()) return std::nullopt;
    return fold() ? std::optional(std::move(diagram_)) : std::nullopt;
  }

 private:
  /// Sums over many slots with too many combinations for a machine.
  void split_off_sums() {
    is_summed_.assign(compiled_.constraints.size(), 0);
    for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
      const Constraint& constraint = compiled_.constraints[c];
      if (constraint.kind != Constraint::Kind::kSum) continue;
      double combinations = 1;
      for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
        combinations *= static_cast<double>(classes_left(constraint, place).size());
      }
      if (combinations <= static_cast<double>(settings_.most_combinations_of_sum)) continue;
      is_summed_[c] = 1;
      summed_.push_back(static_cast<int>(c));
    }
  }

  [[nodiscard]] int class_of(const Constraint& constraint, std::size_t place, int candidate) const {
    const Domain& domain = compiled_.domains[at(constraint.slots[place])];
    return constraint.class_of[place][at(domain.group_of[at(candidate)])];
  }

  [[nodiscard]] std::vector<int> classes_left(const Constraint& constraint,
                                              std::size_t place) const {
    std::vector<char> seen(at(constraint.classes[place]), 0);
    const auto& left = left_[at(constraint.slots[place])];
    for (std::size_t i = 0; i < left.size(); ++i) {
      if (left[i] != 0) seen[at(class_of(constraint, place, static_cast<int>(i)))] = 1;
    }
    std::vector<int> classes;
    for (std::size_t c = 0; c < seen.size(); ++c) {
      if (seen[c] != 0) classes.push_back(static_cast<int>(c));
    }
    return classes;
  }

  /// Candidates are of one family when every rule of the diagram puts them into one class, and
  /// when they state the same limits of the sums beside it.
  void lay_families(int d) {
    const Domain& domain = compiled_.domains[at(d)];
    DiagramSlot& slot = diagram_.slots[at(d)];
    std::map<std::vector<int>, int> known;
    slot.family_of.assign(domain.parts.size(), -1);
    for (std::size_t i = 0; i < domain.parts.size(); ++i) {
      if (left_[at(d)][i] == 0) continue;
      std::vector<int> signature;
      for (const int c : domain.constraints) {
        if (is_summed_[at(c)] != 0) continue;
        const Constraint& constraint = compiled_.constraints[at(c)];
        const auto place = std::ranges::find(constraint.slots, d) - constraint.slots.begin();
        signature.push_back(class_of(constraint, static_cast<std::size_t>(place),
                                     static_cast<int>(i)));
      }
      add_limit_signature(diagram_.whole_sums, d, static_cast<int>(i), signature);
      const auto [found, is_new] = known.emplace(std::move(signature), slot.families());
      if (is_new) slot.members.emplace_back();
      slot.family_of[i] = found->second;
      slot.members[at(found->second)].push_back(static_cast<int>(i));
    }
  }

  [[nodiscard]] SlotGraph graph() const {
    SlotGraph graph;
    for (const DiagramSlot& slot : diagram_.slots) graph.choices.push_back(slot.families());
    for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
      const Constraint& constraint = compiled_.constraints[c];
      if (is_summed_[c] != 0) continue;
      SlotGraph::Together together;
      for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
        const std::size_t sorts = classes_left(constraint, place).size();
        if (sorts < 2) continue;
        together.slots.push_back(constraint.slots[place]);
        together.sorts.push_back(static_cast<double>(sorts));
      }
      if (together.slots.size() > 1) graph.rules.push_back(std::move(together));
    }
    return graph;
  }

  void lay_tree() {
    diagram_.tree = slot_tree(graph(), settings_.tries);
    place_.assign(diagram_.slots.size(), 0);
    for (std::size_t i = 0; i < diagram_.tree.order.size(); ++i) {
      place_[at(diagram_.tree.order[i])] = static_cast<int>(i);
    }
  }

  bool lay_readers() {
    for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
      if (is_summed_[c] == 0 && !lay_reader(static_cast<int>(c))) return false;
    }
    const std::size_t slots = diagram_.slots.size();
    reads_.resize(slots);
    open_.resize(slots);
    for (std::size_t r = 0; r < readers_.size(); ++r) {
      const Reader& reader = readers_[r];
      for (std::size_t i = 0; i < reader.slots.size(); ++i) {
        reads_[at(reader.slots[i])].push_back({static_cast<int>(r), static_cast<int>(i)});
      }
      // Open from below the highest slot down to the lowest.
      for (int slot = reader.slots.back(); slot != reader.slots.front();
           slot = diagram_.tree.parent[at(slot)]) {
        open_[at(slot)].push_back(static_cast<int>(r));
      }
    }
    return true;
  }

  bool lay_reader(int c) {
    const Constraint& constraint = compiled_.constraints[at(c)];
    std::vector<Machine::Reading> readings;
    for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
      readings.push_back({static_cast<int>(place), classes_left(constraint, place)});
    }
    std::ranges::sort(readings, {}, [&](const Machine::Reading& reading) {
      return place_[at(constraint.slots[at(reading.place)])];
    });
    std::optional<Machine> machine =
        Machine::of(constraint, readings, settings_.most_combinations);
    if (!machine) return false;
    if (Machine::is_final(machine->start())) {
      diagram_.base_level = std::max(diagram_.base_level, machine->start());
      diagram_.nothing |= diagram_.base_level > kWorstAllowed;
      return true;
    }
    Reader reader{.constraint = c, .slots = {}, .index_of = {}, .machine = std::move(*machine)};
    for (const Machine::Reading& reading : readings) {
      if (reading.classes.size() < 2) continue;
      const int d = constraint.slots[at(reading.place)];
      std::vector<int> index_of;
      for (const std::vector<int>& members : diagram_.slots[at(d)].members) {
        const int own = class_of(constraint, at(reading.place), members.front());
        index_of.push_back(static_cast<int>(
            std::ranges::lower_bound(reading.classes, own) - reading.classes.begin()));
      }
      reader.slots.push_back(d);
      reader.index_of.push_back(std::move(index_of));
    }
    readers_.push_back(std::move(reader));
    return true;
  }

  bool fold() {
    if (diagram_.nothing) return true;
    memory_.resize(diagram_.slots.size());
    unique_.resize(diagram_.slots.size());
    for (DiagramSlot& slot : diagram_.slots) slot.first_arc.push_back(0);
    state_.clear();
    for (const Reader& reader : readers_) state_.push_back(reader.machine.start());
    for (const int root : diagram_.tree.roots) {
      const std::uint32_t node = node_of(root);
      diagram_.nothing |= node == kDead;
      diagram_.roots.push_back(node);
      if (too_many_) return false;
    }
    weigh();
    return true;
  }

  static constexpr std::uint32_t kDead = 0xffffffffU;

  /// The node of this slot for what the open rules remember now.
  std::uint32_t node_of(int d) {
    Key key;
    key.reserve(open_[at(d)].size());
    for (const int r : open_[at(d)]) key.push_back(static_cast<std::uint32_t>(state_[at(r)]));
    const auto found = memory_[at(d)].find(key);
    if (found != memory_[at(d)].end()) return found->second;
    const std::uint32_t node = new_node(d);
    memory_[at(d)].emplace(std::move(key), node);
    return node;
  }

  std::uint32_t new_node(int d) {
    const DiagramSlot& slot = diagram_.slots[at(d)];
    const auto& reads = reads_[at(d)];
    const auto& children = diagram_.tree.children[at(d)];
    std::vector<int> before;
    for (const auto& [r, place] : reads) before.push_back(state_[at(r)]);
    Key arcs;  // family and level, then the children
    for (int family = 0; family < slot.families() && !too_many_; ++family) {
      const int level = step(d, family);
      const std::size_t start = arcs.size();
      if (level <= kWorstAllowed) {
        arcs.push_back((static_cast<std::uint32_t>(family) << 3U) |
                       static_cast<std::uint32_t>(level));
        for (const int below : children) {
          const std::uint32_t node = node_of(below);
          arcs.push_back(node);
          if (node != kDead) continue;
          arcs.resize(start);
          break;
        }
      }
      for (std::size_t i = 0; i < reads.size(); ++i) state_[at(reads[i].first)] = before[i];
      too_many_ |= ++steps_ > 8 * settings_.most_arcs;
    }
    return arcs.empty() || too_many_ ? kDead : kept(d, std::move(arcs));
  }

  /// Lets every rule that reads this slot read the family; the worst verdict that it settles.
  int step(int d, int family) {
    int level = 0;
    for (const auto& [r, place] : reads_[at(d)]) {
      int& state = state_[at(r)];
      if (Machine::is_final(state)) continue;  // settled above, and counted there
      const Reader& reader = readers_[at(r)];
      state = reader.machine.next(state, reader.index_of[at(place)][at(family)]);
      if (Machine::is_final(state)) level = std::max(level, state);
      if (level > kWorstAllowed) break;
    }
    return level;
  }

  std::uint32_t kept(int d, Key arcs) {
    DiagramSlot& slot = diagram_.slots[at(d)];
    const std::size_t children = diagram_.tree.children[at(d)].size();
    const auto [found, is_new] =
        unique_[at(d)].emplace(std::move(arcs), static_cast<std::uint32_t>(slot.nodes()));
    if (!is_new) return found->second;
    const Key& kept = found->first;
    for (std::size_t i = 0; i < kept.size(); i += 1 + children) {
      slot.family.push_back(static_cast<std::uint16_t>(kept[i] >> 3U));
      slot.level.push_back(static_cast<std::uint8_t>(kept[i] & 7U));
      for (std::size_t k = 1; k <= children; ++k) slot.child.push_back(kept[i + k]);
    }
    diagram_.arcs += kept.size() / (1 + children);
    slot.first_arc.push_back(static_cast<std::uint32_t>(slot.family.size()));
    too_many_ |= diagram_.arcs > settings_.most_arcs;
    return found->second;
  }

  void weigh() {
    for (const DiagramSlot& slot : diagram_.slots) {
      diagram_.bytes += slot.first_arc.size() * 4 + slot.family.size() * 3 + slot.child.size() * 4 +
                        slot.family_of.size() * 8;
    }
  }

  const Compiled& compiled_;
  const DiagramSettings& settings_;
  Diagram diagram_;
  std::vector<std::vector<char>> left_;
  std::vector<char> is_summed_;
  std::vector<int> summed_;
  std::vector<int> place_;  // of a slot in the order
  std::vector<Reader> readers_;
  std::vector<std::vector<std::pair<int, int>>> reads_;  // by slot: reader, and which of its slots
  std::vector<std::vector<int>> open_;                   // by slot: readers that remember something
  std::vector<int> state_;                               // by reader
  std::vector<std::unordered_map<Key, std::uint32_t, HashOfKey>> memory_;  // by slot
  std::vector<std::unordered_map<Key, std::uint32_t, HashOfKey>> unique_;  // by slot
  std::size_t steps_ = 0;
  bool too_many_ = false;
};

}  // namespace

std::optional<Diagram> diagram_of(const Compiled& compiled, const DiagramSettings& settings) {
  return Building(compiled, settings).run();
}

}  // namespace rollwright::spec

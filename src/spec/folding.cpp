#include "spec/folding.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "spec/whole_sum.hpp"

namespace rollwright::spec {

std::size_t Folding::HashOfKey::operator()(const Key& key) const {
  std::uint64_t hash = 1469598103934665603ULL;
  for (const std::uint32_t word : key) hash = (hash ^ word) * 1099511628211ULL + (hash >> 29);
  return static_cast<std::size_t>(hash ^ (hash >> 32));
}

Folding::Folding(const Compiled& compiled, const DiagramSettings& settings, Facts facts,
                 CandidatesLeft left)
    : compiled_(compiled), settings_(settings), worst_(worst_level(facts)),
      left_(std::move(left)) {
  most_arcs_ = facts == Facts::kKnown ? settings.most_arcs : settings.most_possible_arcs;
  for (const Constraint& constraint : compiled_.constraints) {
    auto& places = classes_.emplace_back();
    for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
      places.push_back(classes_left(constraint, place));
    }
  }
  split_off_sums();
  possible_ = possible_ && merge_classes();
  if (!possible_) return;
  empty_.slots.resize(compiled_.domains.size());
  for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) lay_families(d);
  empty_.nothing = std::ranges::any_of(
      empty_.slots, [](const DiagramSlot& slot) { return slot.members.empty(); });
}

std::optional<Diagram> Folding::along(const SlotTree& tree, std::size_t most_steps) {
  steps_ = 0;
  most_steps_ = most_steps;
  too_many_ = false;
  diagram_ = empty_;
  if (diagram_.nothing) return diagram_;
  diagram_.tree = tree;
  place_.assign(diagram_.slots.size(), 0);
  for (std::size_t i = 0; i < tree.order.size(); ++i) {
    place_[at(tree.order[i])] = static_cast<int>(i);
  }
  if (!lay_readers()) return std::nullopt;
  return fold() ? std::optional(std::move(diagram_)) : std::nullopt;
}

/// Sums over many slots with too many combinations for a machine are held beside the diagram.
void Folding::split_off_sums() {
  is_summed_.assign(compiled_.constraints.size(), 0);
  std::vector<int> summed;
  for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
    if (compiled_.constraints[c].kind != Constraint::Kind::kSum) continue;
    double combinations = 1;
    for (const auto& classes : classes_[c]) combinations *= static_cast<double>(classes.size());
    if (combinations <= static_cast<double>(settings_.most_combinations_of_sum)) continue;
    is_summed_[c] = 1;
    summed.push_back(static_cast<int>(c));
  }
  possible_ = sums_can_be_held(compiled_, summed);
  if (!possible_) return;
  empty_.whole_sums = whole_sums_of(compiled_, summed);
  possible_ = empty_.whole_sums.size() <= kMostWholeSums;
}

/// Values that a rule cannot tell apart, because whatever stands in its other slots it comes to the
/// same, are one class: a tyre of 40 mm or 42 mm where every frame takes 45 mm.
bool Folding::merge_classes() {
  for (std::size_t c = 0; c < classes_.size(); ++c) {
    auto& stands_for = stands_for_.emplace_back();
    for (const int classes : compiled_.constraints[c].classes) {
      stands_for.emplace_back(at(classes), -1);
    }
    std::vector<Machine::Reading> readings;
    for (std::size_t place = 0; place < classes_[c].size(); ++place) {
      readings.push_back({static_cast<int>(place), classes_[c][place]});
    }
    const bool is_nothing = std::ranges::any_of(
        readings, [](const Machine::Reading& reading) { return reading.classes.empty(); });
    if (is_summed_[c] != 0 || is_nothing) continue;
    const auto machine =
        Machine::of(compiled_.constraints[c], readings, worst_, settings_.most_combinations);
    if (!machine) return false;
    for (std::size_t place = 0; place < readings.size(); ++place) {
      const std::vector<int>& left = readings[place].classes;
      const std::vector<int> alike =
          left.size() > 1 ? machine->first_alike(place, left.size()) : std::vector<int>{0};
      classes_[c][place].clear();
      for (std::size_t i = 0; i < left.size(); ++i) {
        stands_for[place][at(left[i])] = left[at(alike[i])];
        if (at(alike[i]) == i) classes_[c][place].push_back(left[i]);
      }
    }
  }
  return true;
}

int Folding::class_of(int c, std::size_t place, int candidate) const {
  const Constraint& constraint = compiled_.constraints[at(c)];
  const Domain& domain = compiled_.domains[at(constraint.slots[place])];
  return stands_for_[at(c)][place][at(constraint.class_of[place][at(domain.group_of[at(candidate)])])];
}

std::vector<int> Folding::classes_left(const Constraint& constraint, std::size_t place) const {
  std::vector<char> seen(at(constraint.classes[place]), 0);
  const auto& left = left_[at(constraint.slots[place])];
  for (std::size_t i = 0; i < left.size(); ++i) {
    if (left[i] == 0) continue;
    const Domain& domain = compiled_.domains[at(constraint.slots[place])];
    seen[at(constraint.class_of[place][at(domain.group_of[i])])] = 1;
  }
  std::vector<int> classes;
  for (std::size_t c = 0; c < seen.size(); ++c) {
    if (seen[c] != 0) classes.push_back(static_cast<int>(c));
  }
  return classes;
}

/// Candidates are of one family when every rule of the diagram puts them into one class, and when
/// they state the same limits of the sums beside it.
void Folding::lay_families(int d) {
  const Domain& domain = compiled_.domains[at(d)];
  DiagramSlot& slot = empty_.slots[at(d)];
  std::map<std::vector<int>, int> known;
  slot.family_of.assign(domain.parts.size(), -1);
  for (std::size_t i = 0; i < domain.parts.size(); ++i) {
    if (left_[at(d)][i] == 0) continue;
    std::vector<int> signature;
    for (const int c : domain.constraints) {
      if (is_summed_[at(c)] != 0) continue;
      const Constraint& constraint = compiled_.constraints[at(c)];
      const auto place = std::ranges::find(constraint.slots, d) - constraint.slots.begin();
      signature.push_back(class_of(c, static_cast<std::size_t>(place), static_cast<int>(i)));
    }
    add_limit_signature(empty_.whole_sums, d, static_cast<int>(i), signature);
    const auto [found, is_new] = known.emplace(std::move(signature), slot.families());
    if (is_new) slot.members.emplace_back();
    slot.family_of[i] = found->second;
    slot.members[at(found->second)].push_back(static_cast<int>(i));
  }
}

SlotGraph Folding::graph() const {
  SlotGraph graph;
  for (const DiagramSlot& slot : empty_.slots) graph.choices.push_back(slot.families());
  for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
    if (is_summed_[c] != 0) continue;
    SlotGraph::Together together;
    for (std::size_t place = 0; place < classes_[c].size(); ++place) {
      if (classes_[c][place].size() < 2) continue;
      together.slots.push_back(compiled_.constraints[c].slots[place]);
      together.sorts.push_back(static_cast<double>(classes_[c][place].size()));
    }
    if (together.slots.size() > 1) graph.rules.push_back(std::move(together));
  }
  return graph;
}

bool Folding::lay_readers() {
  readers_.clear();
  for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
    if (is_summed_[c] == 0 && !lay_reader(static_cast<int>(c))) return false;
  }
  reads_.assign(diagram_.slots.size(), {});
  open_.assign(diagram_.slots.size(), {});
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

bool Folding::lay_reader(int c) {
  const Constraint& constraint = compiled_.constraints[at(c)];
  std::vector<Machine::Reading> readings;
  for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
    readings.push_back({static_cast<int>(place), classes_[at(c)][place]});
  }
  std::ranges::sort(readings, {}, [&](const Machine::Reading& reading) {
    return place_[at(constraint.slots[at(reading.place)])];
  });
  Reader reader{.slots = {}, .index_of = {}, .machine = machine_for(c, readings)};
  if (reader.machine == nullptr) return false;
  if (Machine::is_final(reader.machine->start())) {
    diagram_.base_level = std::max(diagram_.base_level, reader.machine->start());
    diagram_.nothing |= diagram_.base_level > worst_;
    return true;
  }
  for (const Machine::Reading& reading : readings) {
    if (reading.classes.size() < 2) continue;
    const int d = constraint.slots[at(reading.place)];
    std::vector<int> index_of;
    for (const std::vector<int>& members : diagram_.slots[at(d)].members) {
      const int own = class_of(c, at(reading.place), members.front());
      index_of.push_back(static_cast<int>(std::ranges::lower_bound(reading.classes, own) -
                                          reading.classes.begin()));
    }
    reader.slots.push_back(d);
    reader.index_of.push_back(std::move(index_of));
  }
  readers_.push_back(std::move(reader));
  return true;
}

std::shared_ptr<const Machine> Folding::machine_for(
    int c, const std::vector<Machine::Reading>& readings) {
  std::vector<int> order;
  for (const Machine::Reading& reading : readings) {
    if (reading.classes.size() > 1) order.push_back(reading.place);
  }
  auto& known = machines_[{c, order}];
  if (known == nullptr) {
    std::optional<Machine> machine =
        Machine::of(compiled_.constraints[at(c)], readings, worst_, settings_.most_combinations);
    if (machine) known = std::make_shared<const Machine>(std::move(*machine));
  }
  return known;
}

bool Folding::fold() {
  if (diagram_.nothing) return true;
  const std::size_t slots = diagram_.slots.size();
  memory_.assign(slots, {});
  unique_.assign(slots, {});
  sets_.assign(slots, {});
  for (DiagramSlot& slot : diagram_.slots) {
    slot.first_bundle.push_back(0);
    slot.first_in_set.push_back(0);
  }
  state_.clear();
  for (const Reader& reader : readers_) state_.push_back(reader.machine->start());
  for (const int root : diagram_.tree.roots) {
    const std::uint32_t node = node_of(root);
    if (too_many_) return false;
    diagram_.nothing |= node == kDead;
    diagram_.roots.push_back(node);
  }
  weigh();
  return true;
}

/// The node of this slot for what the open rules remember now.
std::uint32_t Folding::node_of(int d) {
  Key key;
  key.reserve(open_[at(d)].size());
  for (const int r : open_[at(d)]) key.push_back(static_cast<std::uint32_t>(state_[at(r)]));
  const auto found = memory_[at(d)].find(key);
  if (found != memory_[at(d)].end()) return found->second;
  const std::uint32_t node = new_node(d);
  memory_[at(d)].emplace(std::move(key), node);
  return node;
}

std::uint32_t Folding::new_node(int d) {
  const auto& reads = reads_[at(d)];
  const auto& children = diagram_.tree.children[at(d)];
  std::vector<int> before;
  for (const auto& [r, place] : reads) before.push_back(state_[at(r)]);
  std::map<Key, Key> bundles;  // level and children: families
  const int families = diagram_.slots[at(d)].families();
  for (int family = 0; family < families && !too_many_; ++family) {
    const int level = step(d, family);
    Key below = {static_cast<std::uint32_t>(level)};
    bool is_dead = level > worst_;
    for (std::size_t k = 0; k < children.size() && !is_dead; ++k) {
      below.push_back(node_of(children[k]));
      is_dead = below.back() == kDead;
    }
    if (!is_dead) bundles[std::move(below)].push_back(static_cast<std::uint32_t>(family));
    for (std::size_t i = 0; i < reads.size(); ++i) state_[at(reads[i].first)] = before[i];
    too_many_ |= ++steps_ > most_steps_;
  }
  return bundles.empty() || too_many_ ? kDead : kept(d, std::move(bundles));
}

/// Lets every rule that reads this slot read the family; the worst verdict that it settles.
int Folding::step(int d, int family) {
  int level = 0;
  for (const auto& [r, place] : reads_[at(d)]) {
    int& state = state_[at(r)];
    if (Machine::is_final(state)) continue;  // settled above, and counted there
    const Reader& reader = readers_[at(r)];
    state = reader.machine->next(state, reader.index_of[at(place)][at(family)]);
    if (Machine::is_final(state)) level = std::max(level, state);
    if (level > worst_) break;
  }
  return level;
}

std::uint32_t Folding::kept(int d, std::map<Key, Key> bundles) {
  DiagramSlot& slot = diagram_.slots[at(d)];
  Key node;
  for (const auto& [below, families] : bundles) {
    node.push_back(set_number(d, families));
    node.insert(node.end(), below.begin(), below.end());
  }
  const auto [found, is_new] =
      unique_[at(d)].emplace(std::move(node), static_cast<std::uint32_t>(slot.nodes()));
  if (!is_new) return found->second;
  const Key& kept = found->first;
  const std::size_t children = diagram_.tree.children[at(d)].size();
  for (std::size_t i = 0; i < kept.size(); i += 2 + children) {
    slot.set.push_back(kept[i]);
    slot.level.push_back(static_cast<std::uint8_t>(kept[i + 1]));
    for (std::size_t k = 0; k < children; ++k) slot.child.push_back(kept[i + 2 + k]);
  }
  diagram_.arcs += bundles.size();
  slot.first_bundle.push_back(static_cast<std::uint32_t>(slot.set.size()));
  too_many_ |= diagram_.arcs > most_arcs_;
  return found->second;
}

std::uint32_t Folding::set_number(int d, const Key& families) {
  DiagramSlot& slot = diagram_.slots[at(d)];
  const auto [found, is_new] =
      sets_[at(d)].emplace(families, static_cast<std::uint32_t>(slot.sets()));
  if (is_new) {
    for (const std::uint32_t family : families) {
      slot.in_set.push_back(static_cast<std::uint16_t>(family));
    }
    slot.first_in_set.push_back(static_cast<std::uint32_t>(slot.in_set.size()));
    diagram_.arcs += families.size();
  }
  return found->second;
}

void Folding::weigh() {
  for (const DiagramSlot& slot : diagram_.slots) {
    diagram_.bytes += 4 * (slot.first_bundle.size() + slot.set.size() + slot.child.size() +
                           slot.first_in_set.size()) +
                      2 * slot.in_set.size() + slot.level.size() + 8 * slot.family_of.size();
  }
}

}  // namespace rollwright::spec

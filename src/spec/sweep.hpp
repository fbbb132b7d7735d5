#pragma once

#include <algorithm>
#include <array>
#include <concepts>
#include <cstdint>
#include <limits>
#include <type_traits>
#include <vector>

#include "base/index.hpp"
#include "spec/diagram.hpp"

namespace rollwright::spec {

/// What a sweep reckons with: values that go along the way down one after the other, of which the
/// better is kept where ways meet.
struct Adding {  // prices, masses
  using Value = std::int64_t;
  static constexpr Value kNothing = 0;
  /// No bike: more than any bike adds up to, and so little that a sum of as many as a diagram may
  /// have slots (kMostSlots) still is a number.
  static constexpr Value kNone = std::int64_t{1} << 55;
  static Value along(Value a, Value b) { return a + b; }
  static Value better(Value a, Value b) { return std::min(a, b); }
  static bool is_none(Value a) { return a >= kNone; }
};

struct Latest {  // days, verdicts
  using Value = std::int32_t;
  static constexpr Value kNothing = std::numeric_limits<std::int32_t>::min();
  static constexpr Value kNone = std::numeric_limits<std::int32_t>::max();
  static Value along(Value a, Value b) { return std::max(a, b); }
  static Value better(Value a, Value b) { return std::min(a, b); }
  static bool is_none(Value a) { return a == kNone; }
};

struct Weighing {  // prices with a worth of masses
  using Value = double;
  static constexpr Value kNothing = 0;
  static constexpr Value kNone = std::numeric_limits<double>::infinity();
  static Value along(Value a, Value b) { return a + b; }
  static Value better(Value a, Value b) { return std::min(a, b); }
  static bool is_none(Value a) { return a == kNone; }
};

/// A cost that counts first, and one that breaks ties.
struct Cost {
  std::int64_t first = 0;
  std::int64_t second = 0;
  friend auto operator<=>(const Cost&, const Cost&) = default;
};
struct AddingCosts {
  using Value = Cost;
  static constexpr Value kNothing = {};
  static constexpr Value kNone = {Adding::kNone, 0};
  static Value along(Value a, Value b) { return {a.first + b.first, a.second + b.second}; }
  static Value better(Value a, Value b) { return std::min(a, b); }
  static bool is_none(Value a) { return Adding::is_none(a.first); }
};

/// Carries beside the cost what the best bike comes to in the sums over the whole bike, and what
/// its parts allow there. Of bikes that cost the same, the one that adds least to the first sum.
template <class Base, std::size_t sums>
struct Watching {
  static constexpr std::size_t kSums = sums;
  struct Value {
    typename Base::Value cost = Base::kNothing;
    std::array<std::int64_t, kSums> amount = {};
    std::array<std::int64_t, kSums> limit = no_limits();
  };
  static constexpr std::array<std::int64_t, kSums> no_limits() {
    std::array<std::int64_t, kSums> limits = {};
    limits.fill(std::int64_t{1} << 60);
    return limits;
  }
  static constexpr Value kNothing = {};
  static constexpr Value kNone = {.cost = Base::kNone};
  static Value along(const Value& a, const Value& b) {
    Value both{.cost = Base::along(a.cost, b.cost)};
    for (std::size_t i = 0; i < kSums; ++i) {
      both.amount[i] = a.amount[i] + b.amount[i];
      both.limit[i] = std::min(a.limit[i], b.limit[i]);
    }
    return both;
  }
  static Value better(const Value& a, const Value& b) {
    if (a.cost < b.cost) return a;
    if (b.cost < a.cost) return b;
    return a.amount[0] <= b.amount[0] ? a : b;
  }
  static bool is_none(const Value& a) { return Base::is_none(a.cost); }
};

/// What each family adds by itself, and which bundles count.
template <class Reckoning>
struct SweepInput {
  const Diagram& diagram;
  int level = 3;  // bundles whose verdict is worse do not count
  /// By slot and family; Reckoning::kNone where the family does not count. In a decided slot only
  /// the chosen family counts.
  std::vector<std::vector<typename Reckoning::Value>> own;
  /// The bundle's verdict itself goes along (for the best verdict of a bike). With `Latest`, watched or not.
  bool with_levels = false;
};

/// The best of all complete bikes, and the best around each family of each slot.
///
/// Method: one sweep from the leaves to the roots (what is best below a node), one back (what is
/// best around it): exact, each bundle is looked at twice.
template <class Reckoning>
class Sweep {
 public:
  using Value = typename Reckoning::Value;

  explicit Sweep(const SweepInput<Reckoning>& input) : in_(input) {
    if (in_.diagram.nothing) return;
    below_.resize(in_.diagram.slots.size());
    of_set_.resize(in_.diagram.slots.size());
    const auto& order = in_.diagram.tree.order;
    for (auto slot = order.rbegin(); slot != order.rend(); ++slot) climb(*slot);
    whole_ = Reckoning::kNothing;
    for (std::size_t r = 0; r < in_.diagram.roots.size(); ++r) {
      whole_ = Reckoning::along(whole_, root_value(r));
    }
  }

  /// Of the best complete bike; kNone when there is none.
  [[nodiscard]] Value whole() const { return whole_; }
  /// Of what is best from this node downwards.
  [[nodiscard]] Value below(int slot, std::uint32_t node) const { return below_[at(slot)][node]; }

  /// By slot and family: the best complete bike with the family there, less what it adds itself. In
  /// decided slots, what is decided there is left aside.
  [[nodiscard]] std::vector<std::vector<Value>> around() {
    std::vector<std::vector<Value>> result;
    for (const DiagramSlot& slot : in_.diagram.slots) {
      result.emplace_back(slot.members.size(), Reckoning::kNone);
    }
    if (in_.diagram.nothing) return result;
    above_.resize(in_.diagram.slots.size());
    for (std::size_t s = 0; s < above_.size(); ++s) {
      above_[s].assign(in_.diagram.slots[s].nodes(), Reckoning::kNone);
    }
    enter_roots();
    for (const int slot : in_.diagram.tree.order) descend(slot, result[at(slot)]);
    return result;
  }

 private:
  [[nodiscard]] Value root_value(std::size_t r) const {
    return below_[at(in_.diagram.tree.roots[r])][in_.diagram.roots[r]];
  }

  [[nodiscard]] Value with_level(const DiagramSlot& slot, std::size_t bundle, Value value) const {
    if (!in_.with_levels) return value;
    const auto level = static_cast<std::int32_t>(slot.level[bundle]);
    if constexpr (std::is_same_v<Value, std::int32_t>) {
      value = std::max(value, level);
    } else if constexpr (requires { { value.cost } -> std::same_as<std::int32_t&>; }) {
      value.cost = std::max(value.cost, level);
    }
    return value;
  }

  void climb(int number) {
    const DiagramSlot& slot = in_.diagram.slots[at(number)];
    const auto& children = in_.diagram.tree.children[at(number)];
    std::vector<Value>& of_set = of_set_[at(number)];
    of_set.assign(slot.sets(), Reckoning::kNone);
    for (std::uint32_t set = 0; set < of_set.size(); ++set) {
      for (const std::uint16_t family : slot.families_in(set)) {
        of_set[set] = Reckoning::better(of_set[set], in_.own[at(number)][family]);
      }
    }
    std::vector<Value>& values = below_[at(number)];
    values.assign(slot.nodes(), Reckoning::kNone);
    for (std::size_t node = 0; node < values.size(); ++node) {
      Value best = Reckoning::kNone;
      for (std::size_t b = slot.first_bundle[node]; b < slot.first_bundle[node + 1]; ++b) {
        if (slot.level[b] > in_.level) continue;
        Value value = of_set[slot.set[b]];
        if (Reckoning::is_none(value)) continue;
        value = with_level(slot, b, value);
        const std::uint32_t* child = slot.child.data() + b * children.size();
        for (std::size_t k = 0; k < children.size(); ++k) {
          value = Reckoning::along(value, below_[at(children[k])][child[k]]);
        }
        best = Reckoning::better(best, value);
      }
      values[node] = best;
    }
  }

  void enter_roots() {
    const auto& roots = in_.diagram.tree.roots;
    for (std::size_t r = 0; r < roots.size(); ++r) {
      Value others = Reckoning::kNothing;
      for (std::size_t o = 0; o < roots.size(); ++o) {
        if (o != r) others = Reckoning::along(others, root_value(o));
      }
      above_[at(roots[r])][in_.diagram.roots[r]] = others;
    }
  }

  void descend(int number, std::vector<Value>& around) {
    const DiagramSlot& slot = in_.diagram.slots[at(number)];
    around_set_.assign(slot.sets(), Reckoning::kNone);
    for (std::size_t node = 0; node < slot.nodes(); ++node) {
      const Value above = above_[at(number)][node];
      if (Reckoning::is_none(above)) continue;
      for (std::size_t b = slot.first_bundle[node]; b < slot.first_bundle[node + 1]; ++b) {
        if (slot.level[b] <= in_.level) pass(number, b, with_level(slot, b, above));
      }
    }
    for (std::uint32_t set = 0; set < slot.sets(); ++set) {
      if (Reckoning::is_none(around_set_[set])) continue;
      for (const std::uint16_t family : slot.families_in(set)) {
        around[family] = Reckoning::better(around[family], around_set_[set]);
      }
    }
  }

  /// One bundle: what is around its families, and what it means for the nodes below.
  void pass(int number, std::size_t bundle, Value above) {
    const DiagramSlot& slot = in_.diagram.slots[at(number)];
    const auto& children = in_.diagram.tree.children[at(number)];
    const std::uint32_t* child = slot.child.data() + bundle * children.size();
    before_.resize(children.size() + 1);
    before_[0] = above;
    for (std::size_t k = 0; k < children.size(); ++k) {
      before_[k + 1] = Reckoning::along(before_[k], below_[at(children[k])][child[k]]);
    }
    Value& rest = around_set_[slot.set[bundle]];
    rest = Reckoning::better(rest, before_[children.size()]);
    Value after = of_set_[at(number)][slot.set[bundle]];
    if (Reckoning::is_none(after)) return;
    for (std::size_t k = children.size(); k-- > 0;) {
      Value& child_above = above_[at(children[k])][child[k]];
      child_above = Reckoning::better(child_above, Reckoning::along(before_[k], after));
      after = Reckoning::along(after, below_[at(children[k])][child[k]]);
    }
  }

  const SweepInput<Reckoning>& in_;
  std::vector<std::vector<Value>> below_;  // by slot and node
  std::vector<std::vector<Value>> above_;
  std::vector<std::vector<Value>> of_set_;  // by slot and set: the best of its families
  std::vector<Value> around_set_;
  std::vector<Value> before_;
  Value whole_ = Reckoning::kNone;
};

}  // namespace rollwright::spec

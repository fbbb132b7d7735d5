#pragma once

#include <map>
#include <memory>
#include <unordered_map>
#include <utility>
#include <vector>

#include "spec/diagram.hpp"
#include "spec/machine.hpp"

namespace rollwright::spec {

/// Candidates that count, by slot.
using CandidatesLeft = std::vector<std::vector<char>>;

/// Folds the bikes of some candidates along trees of slots.
class Folding {
 public:
  Folding(const Compiled& compiled, const DiagramSettings& settings, Facts facts,
          CandidatesLeft left);

  /// Whether rules and sums can be laid out at all.
  [[nodiscard]] bool is_possible() const { return possible_; }
  [[nodiscard]] SlotGraph graph() const;

  /// Nothing when more than this many steps would be needed, or a rule is too large.
  [[nodiscard]] std::optional<Diagram> along(const SlotTree& tree, std::size_t most_steps);
  /// Families looked at by the last call.
  [[nodiscard]] std::size_t steps() const { return steps_; }

 private:
  using Key = std::vector<std::uint32_t>;
  struct HashOfKey {
    std::size_t operator()(const Key& key) const;
  };
  using Numbers = std::unordered_map<Key, std::uint32_t, HashOfKey>;

  /// A rule of the diagram: its machine, and what it makes of the families of its slots.
  struct Reader {
    std::vector<int> slots;  // in the order of the tree, only those whose families differ
    std::vector<std::vector<int>> index_of;  // by those: class index by family
    std::shared_ptr<const Machine> machine;
  };
  static constexpr std::uint32_t kDead = 0xffffffffU;

  void split_off_sums();
  bool merge_classes();
  [[nodiscard]] int class_of(int c, std::size_t place, int candidate) const;
  [[nodiscard]] std::vector<int> classes_left(const Constraint& constraint,
                                              std::size_t place) const;
  void lay_families(int d);
  bool lay_readers();
  bool lay_reader(int c);
  [[nodiscard]] std::shared_ptr<const Machine> machine_for(
      int c, const std::vector<Machine::Reading>& readings);
  bool fold();
  std::uint32_t node_of(int d);
  std::uint32_t new_node(int d);
  int step(int d, int family);
  std::uint32_t kept(int d, std::map<Key, Key> bundles);
  std::uint32_t set_number(int d, const Key& families);
  void weigh();

  const Compiled& compiled_;
  const DiagramSettings& settings_;
  const int worst_;  // verdict that a bike may have
  const CandidatesLeft left_;
  bool possible_ = true;
  std::vector<char> is_summed_;               // by constraint
  /// By constraint and place: the classes left, one for those that do the same.
  std::vector<std::vector<std::vector<int>>> classes_;
  std::vector<std::vector<std::vector<int>>> stands_for_;  // by constraint, place and class
  Diagram empty_;                             // families and sums, no nodes
  std::map<std::pair<int, std::vector<int>>, std::shared_ptr<const Machine>> machines_;

  Diagram diagram_;
  std::vector<int> place_;  // of a slot in the order
  std::vector<Reader> readers_;
  std::vector<std::vector<std::pair<int, int>>> reads_;  // by slot: reader, and which of its slots
  std::vector<std::vector<int>> open_;                   // by slot: readers that remember something
  std::vector<int> state_;                               // by reader
  std::vector<Numbers> memory_;                          // by slot: nodes by what is remembered
  std::vector<Numbers> unique_;                          // by slot: nodes by their bundles
  std::vector<Numbers> sets_;                            // by slot
  std::size_t most_arcs_ = 0;
  std::size_t most_steps_ = 0;
  std::size_t steps_ = 0;
  bool too_many_ = false;
};

}  // namespace rollwright::spec

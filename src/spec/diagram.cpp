#include "spec/diagram.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "base/random.hpp"
#include "spec/folding.hpp"
#include "spec/search.hpp"

namespace rollwright::spec {

namespace {

/// Candidates of every slot that are left when each rule has had its say on its own.
CandidatesLeft candidates_left(const Compiled& compiled, Facts facts) {
  std::vector<Fixed> gone;  // count too: somebody may have chosen them
  for (int d = 0; d < static_cast<int>(compiled.domains.size()); ++d) {
    const Domain& domain = compiled.domains[at(d)];
    for (int group = 0; group < domain.groups(); ++group) gone.push_back({d, 0, group});
  }
  Budget budget{.left = 0};
  Search search(compiled, static_cast<trade::Verdict>(worst_level(facts)), budget);
  search.also_offer(gone);
  const std::optional<Bits> bits = search.start({});
  CandidatesLeft left;
  for (const Domain& domain : compiled.domains) {
    std::vector<char> own;
    for (const int group : domain.group_of) own.push_back(bits && has(*bits, domain, group));
    left.push_back(std::move(own));
  }
  return left;
}

/// Some candidates of each slot, evenly spread, and the empty one.
CandidatesLeft sample_of(const CandidatesLeft& left, std::size_t most) {
  CandidatesLeft sample;
  for (const std::vector<char>& own : left) {
    std::vector<std::size_t> all;
    for (std::size_t i = 0; i < own.size(); ++i) {
      if (own[i] != 0) all.push_back(i);
    }
    std::vector<char> some(own.size(), 0);
    const std::size_t taken = std::min(most, all.size());
    for (std::size_t k = 1; k <= taken; ++k) some[all[k * all.size() / taken - 1]] = 1;
    sample.push_back(std::move(some));
  }
  return sample;
}

/// Looks for an order of the slots along which folding takes few steps, by folding a sample.
class OrderChoice {
  /// Looking on costs about as much as this many of the folds it could make shorter.
  static constexpr std::size_t kWorthwhile = 100;

 public:
  OrderChoice(const SlotGraph& graph, Folding& sample, const DiagramSettings& settings)
      : graph_(graph), sample_(sample), settings_(settings) {}

  /// `known`: a tree that was good for a like diagram; null when there is none.
  SlotTree best(const SlotTree* known) {
    if (known != nullptr) consider({known->order.rbegin(), known->order.rend()});
    for (std::vector<int>& sequence : promising_sequences(graph_, settings_.tries)) {
      consider(std::move(sequence));
    }
    Random random(23);
    const auto enough = [&] { return std::min(settings_.sample_steps, kWorthwhile * least_); };
    for (int i = 0; i < settings_.improvements && spent_ < enough(); ++i) {
      consider(moved(random));
    }
    return slot_tree(graph_, best_);
  }

 private:
  void consider(std::vector<int> sequence) {
    const std::size_t room = best_.empty() ? settings_.sample_steps : least_;
    const auto diagram = sample_.along(slot_tree(graph_, sequence), room);
    spent_ += sample_.steps();
    if (!best_.empty() && (!diagram || sample_.steps() > least_)) return;
    least_ = std::max<std::size_t>(sample_.steps(), 1);
    best_ = std::move(sequence);
  }

  /// The best order so far with one slot, sometimes two, put elsewhere.
  std::vector<int> moved(Random& random) {
    std::vector<int> sequence = best_;
    for (std::uint64_t moves = 1 + random.below(2); moves > 0; --moves) {
      const auto from = sequence.begin() + static_cast<long>(random.below(sequence.size()));
      const int slot = *from;
      sequence.erase(from);
      sequence.insert(sequence.begin() + static_cast<long>(random.below(sequence.size() + 1)),
                      slot);
    }
    return sequence;
  }

  const SlotGraph& graph_;
  Folding& sample_;
  const DiagramSettings& settings_;
  std::vector<int> best_;
  std::size_t least_ = 0;
  std::size_t spent_ = 0;
};

bool is_within_bounds(const Compiled& compiled) {
  int pieces = 0;
  for (const Domain& domain : compiled.domains) pieces += domain.slot->quantity;
  return compiled.domains.size() <= kMostSlots && pieces <= kMostPieces;
}

}  // namespace

std::optional<Diagram> diagram_of(const Compiled& compiled, const DiagramSettings& settings,
                                  Facts facts, const SlotTree* known) {
  if (!is_within_bounds(compiled)) return std::nullopt;
  const CandidatesLeft left = candidates_left(compiled, facts);
  Folding whole(compiled, settings, facts, left);
  if (!whole.is_possible()) return std::nullopt;
  Folding sample(compiled, settings, facts, sample_of(left, settings.sample));
  const SlotGraph graph = whole.graph();
  const SlotTree tree = sample.is_possible()
                            ? OrderChoice(graph, sample, settings).best(known)
                            : slot_tree(graph, promising_sequences(graph, 1).front());
  const std::size_t arcs =
      facts == Facts::kKnown ? settings.most_arcs : settings.most_possible_arcs;
  return whole.along(tree, 4 * arcs);
}

}  // namespace rollwright::spec

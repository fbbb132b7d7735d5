#pragma once

#include <memory>
#include <span>

#include "base/result.hpp"
#include "trade/trade.hpp"

namespace rollwright::spec {

struct Compiled;  // spec/compiled.hpp: domains and constraints, for the searches of this room

/// A build, its catalogue and its rules, made ready for searching. Cheap to copy, immutable, may be
/// shared by threads. Independent of what is chosen; made anew when a part, a rule or the order's
/// need changes. The trade and the parts must outlive it.
class Problem {
 public:
  explicit Problem(std::shared_ptr<const Compiled> compiled) : compiled_(std::move(compiled)) {}
  [[nodiscard]] const Compiled& compiled() const { return *compiled_; }

 private:
  std::shared_ptr<const Compiled> compiled_;
};

/// When to give up folding a catalogue into a diagram (see diagram.hpp), and search instead.
struct DiagramSettings {
  std::size_t most_arcs = 1'000'000;         // of one diagram; about 12 bytes each
  /// Of the diagram of bikes with facts that are not known: such facts go with everything, so that
  /// it grows sooner, and every choice has to sweep it.
  std::size_t most_possible_arcs = 400'000;
  std::size_t most_combinations = 4'000'000; // that one rule may have
  /// A sum over more than three slots is held beside the diagram once it has more combinations.
  std::size_t most_combinations_of_sum = 20'000;
  // The order of the slots is chosen by folding a sample of the parts along many orders.
  std::size_t sample = 10;                   // parts per slot
  int tries = 40;                            // promising orders to begin with
  int improvements = 300;                    // orders that differ a little from the best
  std::size_t sample_steps = 600'000;      // in all
};

struct ProblemInput {
  const trade::Trade& trade;
  const trade::BuildTemplate& build;
  std::span<const trade::Part> parts;  // the catalogue; discontinued parts only count when chosen
  trade::Part order;                   // trade::order_facts(order)
  trade::Part rider;                   // trade::rider_facts(order)
};

/// Errors: kNotFound when the build names a slot that the trade does not have; kContradiction when
/// two parts have one id.
[[nodiscard]] Result<Problem> compile(ProblemInput input, const DiagramSettings& settings = {});

}  // namespace rollwright::spec

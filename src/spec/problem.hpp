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

struct ProblemInput {
  const trade::Trade& trade;
  const trade::BuildTemplate& build;
  std::span<const trade::Part> parts;  // the catalogue; discontinued parts only count when chosen
  trade::Part order;                   // trade::order_facts(order)
  trade::Part rider;                   // trade::rider_facts(order)
};

/// Errors: kNotFound when the build names a slot that the trade does not have; kContradiction when
/// two parts have one id.
[[nodiscard]] Result<Problem> compile(ProblemInput input);

}  // namespace rollwright::spec

#pragma once

#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "spec/bike.hpp"
#include "spec/constraint.hpp"
#include "spec/figure.hpp"
#include "spec/problem.hpp"

namespace rollwright::spec {

struct Diagram;

/// A slot of the build and what could fill it.
struct Domain {
  const trade::Slot* slot = nullptr;
  bool required = false;
  std::vector<const trade::Part*> parts;  // in the catalogue's order; null last: left empty
  std::vector<Figure> figures;            // by candidate, of the pieces in the slot, without days
  std::vector<int> group_of;              // by candidate
  std::vector<int> representative;        // by group: its first candidate
  std::vector<bool> offered;              // by group: some part of it is not discontinued
  std::size_t first_word = 0;             // of the slot's run in Bits
  std::size_t words = 0;
  std::vector<int> constraints;           // that look at this slot

  [[nodiscard]] int groups() const { return static_cast<int>(representative.size()); }
};

/// Invariants: constraints are in the order of the trade's rules, one for each; every group has a
/// candidate; the pointers reach into the trade, the catalogue, and `order` and `rider` here.
struct Compiled {
  const trade::Trade& trade;
  const trade::BuildTemplate& build;
  trade::Part order;
  trade::Part rider;
  std::vector<Domain> domains;  // in the trade's slot order
  std::map<trade::SlotId, int> domain_of;
  std::vector<Constraint> constraints;
  std::size_t words = 0;  // of Bits
  /// Every bike of which all facts are known, and every bike with facts that are not as well; null
  /// where the catalogue is too loose for a diagram. Without the first there is not the second.
  std::shared_ptr<const Diagram> known;
  std::shared_ptr<const Diagram> possible;
};

/// A decided slot, as the search sees it.
struct Fixed {
  int domain = 0;
  int candidate = 0;
  int group = 0;
};

/// The selection in terms of the domains, in slot order. Errors: those of `choices`.
[[nodiscard]] Result<std::vector<Fixed>> fixed_by(const Compiled& compiled,
                                                  const Selection& selection);

[[nodiscard]] inline bool has(const Bits& bits, const Domain& domain, int group) {
  const auto g = static_cast<std::size_t>(group);
  return (bits[domain.first_word + g / 64] >> (g % 64)) & 1;
}
inline void insert(Bits& bits, const Domain& domain, int group) {
  const auto g = static_cast<std::size_t>(group);
  bits[domain.first_word + g / 64] |= std::uint64_t{1} << (g % 64);
}
inline void erase(Bits& bits, const Domain& domain, int group) {
  const auto g = static_cast<std::size_t>(group);
  bits[domain.first_word + g / 64] &= ~(std::uint64_t{1} << (g % 64));
}

}  // namespace rollwright::spec

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/state.hpp"
#include "trade/signed_spec.hpp"
#include "trade/trade.hpp"

/// Versions of a specification: what was signed, and how it differs from what is chosen.
namespace rollwright::shop {

/// What is chosen, with the prices of today.
[[nodiscard]] std::vector<trade::SignedLine> spec_lines(const trade::Trade& trade,
                                                        const State& state,
                                                        const trade::Order& order);
[[nodiscard]] Money price_of(const std::vector<trade::SignedLine>& lines);

/// The versions of an order, oldest first.
[[nodiscard]] std::vector<const trade::SignedSpec*> versions_of(const State& state,
                                                                const trade::OrderId& order);

/// Lines by which the two differ: "rear hub: Brack 8 instead of Fjell 7", "bell: none instead of
/// Ding", "mirror: Dove, which was not there".
[[nodiscard]] std::vector<std::string> differences(const trade::Trade& trade, const State& state,
                                                   const std::vector<trade::SignedLine>& before,
                                                   const std::vector<trade::SignedLine>& now);

/// The version that counts as signed, and what was changed since. A specification of an agreed order
/// that was signed before versions were kept (it came with an import) is the one that is chosen: it
/// could not be changed since.
struct SignedState {
  int version = 0;  // 0: none
  std::vector<std::string> changed;
};
[[nodiscard]] SignedState signed_state(const trade::Trade& trade, const State& state,
                                       const trade::Order& order);

/// What was signed before versions were kept is what is chosen until it is changed: it is written
/// down then, so that the next version can be held against it. Empty when there are versions.
[[nodiscard]] std::optional<trade::SignedSpec> version_before_versions(
    const trade::Trade& trade, const State& state, const trade::Order& order);

/// The next version, as chosen and priced today, lines that stay at their signed price; `changes`: what agreed changes cost beside the
/// parts, with those of the versions before.
struct Signature {
  std::string by;   // the customer
  std::string who;  // of the shop
  Day day = {};
};
[[nodiscard]] trade::SignedSpec next_version(const trade::Trade& trade, const State& state,
                                             const trade::Order& order,
                                             const Signature& signature);

}  // namespace rollwright::shop

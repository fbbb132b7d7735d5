#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "build/facts.hpp"

namespace rollwright::build {

/// What is true of a bike, in the trade's words ("belt", "hand_built_rear").
struct BikeTraits {
  std::set<std::string> holding;
  /// Traits that rest on a fact that is not known, each with the facts to find out. They are taken
  /// as not holding; the sheet asks, and names what is left out until the answer is there.
  std::map<std::string, std::vector<std::string>> not_known;
};

/// Traits of the build, and those that the chosen parts and the order give the bike.
///
/// A condition on an empty slot does not hold (its negation does) when the build can do without
/// that slot, and is not known when the slot is still to be filled. "Or" and "and" are Kleene's:
/// one clause that holds decides, whatever else is not known.
[[nodiscard]] BikeTraits traits_of(const trade::Trade& trade, const BikeFacts& bike);

/// All of `all`, one of `any` if there are any, none of `none`.
[[nodiscard]] bool applies(const trade::AppliesWhen& when, const std::set<std::string>& traits);

}  // namespace rollwright::build

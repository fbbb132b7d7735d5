#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/maker_at.hpp"

namespace rollwright::shop {

/// What accepting differences would make of an order.
struct Accepting {
  trade::Order order;                // with the parts that are built in
  std::vector<std::string> stops;    // why they cannot be accepted; empty: they can
  std::vector<std::string> warns;    // what else the rules say because of them
  std::optional<Mass> mass_change;   // where the masses of all parts are known
  Money price_change;                // of the parts, by today's catalogue
  bool is_new_version = false;
  bool wants_name = false;           // nothing will be signed: somebody of the customer's agrees
};

/// Runs the fit rules on the bike with all of these differences in it.
///
/// Stops:    a part that the catalogue does not have, since nobody can say whether it fits; an option
///           that the part of the catalogue does not have; a setting, which the maker has to set as
///           ordered; a slot that the build needs and that would be empty; whatever does not fit;
///           and what is not known and asked by a STOP rule. Questions that a person decides are
///           asked again before the release, and warn here.
[[nodiscard]] Accepting accepting(const LifeAt& at, const std::vector<const MakerRow*>& rows);

}  // namespace rollwright::shop

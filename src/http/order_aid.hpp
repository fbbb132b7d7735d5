#pragma once

#include "aids/filled.hpp"
#include "shop/shop.hpp"

namespace rollwright::http {

/// Which aid for which order.
struct OrderAid {
  std::string order;
  std::string aid;
  std::string end;    // as build::aid_fields
  aids::Typed typed;  // what a person typed over the order's values
};

/// A bench aid with its fields filled from an order. An aid that has nothing to say of the bike, or
/// cannot be reckoned, answers with a refusal in it, which is an answer too.
/// Errors: kNotFound for the order or the aid; those of Shop::aid_fields.
[[nodiscard]] Result<aids::FilledAid> order_aid(shop::Shop& shop, const OrderAid& asked);

}  // namespace rollwright::http

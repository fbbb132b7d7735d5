#pragma once

#include <string>
#include <vector>

#include "shop/life_facts.hpp"

namespace rollwright::shop {

/// What a move does to shelf and purchases beside changing the state.
struct MoveDoes {
  std::vector<trade::Stock> stock;
  std::vector<trade::PurchaseLine> purchases;
  std::vector<std::string> told;  // sentences
};

/// To Gathering and Kitted: what lies free on the shelf for the order is put by. To Handed over: what
/// is put by leaves the shelf, and its purchase lines are Fitted. To Cancelled: what is put by is
/// free again, and lines that are still open are the shelf's.
[[nodiscard]] MoveDoes move_does(const LifeAt& at, trade::OrderState to);

/// Lets go of what is put by and bought under the order's name beyond what `order` needs now.
[[nodiscard]] MoveDoes let_go_of_changed(const LifeAt& at, const trade::Order& order);

}  // namespace rollwright::shop

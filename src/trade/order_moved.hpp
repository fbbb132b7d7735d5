#pragma once

#include <map>
#include <string>

#include "base/clock.hpp"
#include "trade/order.hpp"

namespace rollwright::trade {

/// A move of an order from one state to another, and what was said with it.
struct OrderMoved {
  OrderId order;
  int number = 1;   // from 1 for each order
  OrderState from = OrderState::kEnquiry;
  OrderState to = OrderState::kDraft;
  std::string by;   // who moved it
  Day day = {};
  std::map<std::string, std::string> said;  // by the keys of build/order_life
  std::string note;
};

}  // namespace rollwright::trade

#pragma once

#include <string>
#include <vector>

#include "base/clock.hpp"
#include "trade/order.hpp"

namespace rollwright::trade {

/// One line of a specification as it was signed.
struct SignedLine {
  SlotId slot;
  PartId part;
  int quantity = 1;
  Money each;  // price of one piece, on the day it was signed
};

/// A version of an order's specification that the customer signed. Never changed afterwards: what is
/// changed later is signed as the next version.
struct SignedSpec {
  OrderId order;
  int version = 1;        // from 1, without gaps
  std::string signed_by;  // the customer
  std::string who;        // of the shop, in whose presence
  Day day = {};
  Money price;            // of the bike, as signed: the lines, and what agreed changes cost beside
  Money changes;          // of that price: what agreed changes cost beside the parts
  std::vector<SignedLine> lines;  // in the order of the slots' ids
};

}  // namespace rollwright::trade

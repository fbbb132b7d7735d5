#pragma once

#include <string>

#include "base/clock.hpp"
#include "trade/part.hpp"

namespace rollwright::trade {

/// A supplier's list that was taken into the catalogue, as the book remembers it.
struct TakenList {
  int number = 0;  // from 1
  SupplierId supplier;
  std::string file;
  Day day = {};     // of the list
  Day taken = {};   // when it was taken in
  std::string who;
  int added = 0;    // parts
  int changed = 0;  // parts of which a fact, a price or the offer changed
  int same = 0;
  int refused = 0;  // rows that were left out because the person said so
  bool undone = false;
};

}  // namespace rollwright::trade

#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// An order to a supplier, as a person writes it down and as it is answered.
namespace rollwright::shop {

struct PiecesGiven {
  std::string part;
  int quantity = 0;
};

/// What was ordered from a supplier just now.
struct PurchaseGiven {
  std::string supplier;
  std::vector<PiecesGiven> lines;  // each part once
  std::string mode;                // of freight; left out: the supplier's usual
  std::optional<Day> confirmed;    // the day that the supplier named, if any
  std::string note;
};

struct PlacedLineView {
  std::string id;                    // "P-3166"
  std::string part;
  std::string name;
  int quantity = 0;
  std::optional<std::string> order;  // it is bought for; none: for the shelf
  std::string article;               // the supplier's own number
  std::int64_t unit_cost_cents = 0;
};

struct PlacedView {
  std::string sentence;
  std::string supplier;
  std::string supplier_name;
  Day placed = {};
  std::vector<PlacedLineView> lines;
  std::int64_t goods_cents = 0;
};

}  // namespace rollwright::shop

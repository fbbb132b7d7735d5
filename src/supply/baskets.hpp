#pragma once

#include <vector>

#include "trade/supplier.hpp"
#include "units/money.hpp"

namespace rollwright::supply {

/// What a supplier asks beside the goods.
struct BasketTerms {
  Money minimum;    // goods of an order below it cost `charge` extra; 0 is none
  Money charge;
  Money free_over;  // goods from which freight is free; 0 is never
  Money freight;    // of an order below that

  friend bool operator==(const BasketTerms&, const BasketTerms&) = default;
};

[[nodiscard]] BasketTerms terms_of(const trade::Supplier& supplier);

/// One way to buy a line.
struct BasketOption {
  int supplier = 0;  // index into the terms
  int latest = 0;    // last day on which it comes in time; whole working days from today, >= 0
  Money goods;       // for all its pieces

  friend bool operator==(const BasketOption&, const BasketOption&) = default;
};

struct BasketQuestion {
  std::vector<BasketTerms> suppliers;
  std::vector<std::vector<BasketOption>> lines;  // at least one option each
  double holding = 0;  // share of the goods' cost, per working day that they are bought too early

  friend bool operator==(const BasketQuestion&, const BasketQuestion&) = default;
};

struct BoughtLine {
  int option = 0;
  int day = 0;  // <= latest of the option
};
struct BasketAnswer {
  std::vector<BoughtLine> lines;
  Money cost;             // goods, freight and charges
  double holding_cents = 0;
  /// Goods, freight and charges when each line is bought by itself where its goods are cheapest, on
  /// its last day (lines that then fall on one supplier and day share an order). Holding: none.
  Money when_needed;
  bool proven = false;    // nothing cheaper exists, within a cent
};

/// From whom and on which day to buy each line, so that goods, freight, small-order charges and the
/// cost of money tied up too early are least together.
///
/// Method:   mixed integer programme by branch and cut. Orders go out only on days that are the
///           last day of some option of that supplier: an order on any other day can wait for the next
///           of its lines' last days and costs no more. x: line, option, day; z: an order goes out;
///           y and w: it reaches free freight, the minimum. Deterministic; 2,000 nodes at most.
/// Source:   [basket] in docs/sources.md.
/// Accuracy: agrees with enumeration of all ways on small questions (tested).
/// Ignores:  price breaks across lines; rebates by the year.
/// Threads:  one question at a time runs through the solver; others wait. Nothing is kept.
[[nodiscard]] BasketAnswer cheapest_baskets(const BasketQuestion& question);

/// Freight and small-order charge of one order of goods.
[[nodiscard]] Money extra_for(const BasketTerms& terms, Money goods);

}  // namespace rollwright::supply

#pragma once

#include <string>

#include "base/result.hpp"

namespace rollwright::bench {

/// How large an invented book is made. Everything in it is invented: riders, lots, numbers, readings.
struct YearsWish {
  int bikes = 25'000;
  int parts_each = 40;
  int operations_each = 20;
  int readings_each = 10;  // of each operation
  int visits_each = 4;     // services since it was handed over, one in half a year
  int first_order = 100'000;
  std::uint64_t seed = 6;
};

/// What was made.
struct YearsMade {
  long long bikes = 0;
  long long fitted = 0;
  long long readings = 0;
};

/// Writes finished bikes with their records into the book of this file: by the book's own writing, one
/// journal entry for each thing that a tablet would have sent. Lots run from L000000 on, a thousand
/// pieces to a lot or so; every fourth part has a number of its own.
[[nodiscard]] Result<YearsMade> make_years(const std::string& book, const YearsWish& wish);

/// The lot of the n-th of them.
[[nodiscard]] std::string lot_called(int number);

}  // namespace rollwright::bench

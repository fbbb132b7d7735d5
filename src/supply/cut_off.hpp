#pragma once

#include <string>
#include <vector>

#include "trade/supplier.hpp"

namespace rollwright::supply {

/// How long an order may still wait to leave a supplier on its next dispatch.
struct CutOff {
  bool today = false;    // an order placed now leaves today
  int minutes_left = 0;  // to the cut-off of that dispatch, when it is today's
  Day dispatch = {};     // the day on which an order placed now leaves
  std::string words;     // "order within 1 h 25 min to make today's dispatch"
};

/// Method:   a supplier dispatches on its ship days that are no holidays; the minute of the cut-off
///           itself is too late. Times are the shop's.
/// Ignores:  the supplier's own holidays.
/// Errors:   none; a supplier with no ship day at all counts as shipping on every working day.
[[nodiscard]] CutOff cut_off_of(const trade::Supplier& supplier, Day today, int minute,
                                const std::vector<Day>& closed);

/// "1 h 25 min", "40 min", "2 h".
[[nodiscard]] std::string minutes_in_words(int minutes);

}  // namespace rollwright::supply

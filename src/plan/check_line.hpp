#pragma once

#include <string>
#include <vector>

#include "plan/line.hpp"

namespace rollwright::plan {

/// What a balance of a line violates, one plain sentence each; empty means it can be run. Shares
/// nothing with what balances but the line itself.
///
/// Refuses: a wrong number of stations given, a station outside 0 to `stations` - 1, a task at an
///          earlier station than one that comes before it, a station with more work than the takt.
[[nodiscard]] std::vector<std::string> check_line(const Line& line, const Stations& station_of,
                                                  int stations, long long takt);

}  // namespace rollwright::plan

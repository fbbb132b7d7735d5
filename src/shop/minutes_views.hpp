#pragma once

#include <string>
#include <vector>

/// What the use case Shop::minutes answers; the JSON of --json and the HTTP API has the same names.
namespace rollwright::shop {

/// How long an operation takes here: as the trade states it, and as learned from times taken.
struct MinutesLine {
  std::string operation;   // "W-31"
  std::string name;
  std::string area;
  double stated_low = 0;   // hands-on minutes; eight in ten are between the two
  double stated_high = 0;
  double low = 0;          // learned
  double median = 0;
  double high = 0;
  int times = 0;           // taken, that this rests on
  int astray = 0;          // of these so far off that they count less
};

struct MinutesView {
  std::string sentence;
  std::vector<MinutesLine> lines;  // in the order of the work
};

}  // namespace rollwright::shop

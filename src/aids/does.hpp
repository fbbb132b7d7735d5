#pragma once

#include <string>
#include <vector>

namespace rollwright::aids {

/// One thing that an order's bike does, with the aid that says so.
struct Doing {
  std::string name;   // "Steepest start"
  std::string value;  // empty where something has to be known first
  std::string us;
  std::string note;
  std::string aid;
  std::string end;    // of the bike; may be empty
  std::vector<std::string> presets;    // "Speed: 25 km/h": what it rests on that is not of this bike
  std::vector<std::string> questions;  // what is not known
};

struct Does {
  std::string order;
  std::vector<Doing> doings;
  bool has_charge = false;  // the odds of coming home can be asked for
};

}  // namespace rollwright::aids

#pragma once

#include <string>
#include <vector>

#include "build/facts.hpp"

/// What goes into the fields of a bench aid for one bike. Aids are known here by their ids and the
/// keys of their fields only; a test of the rooms above holds both to the aids there are.
namespace rollwright::build {

/// One field that the bike's facts fill.
struct AidField {
  std::string key;     // of the aid's field
  std::string typed;   // as a person would type it, with its unit: "170 mm"
  std::string origin;  // from which part and fact: "crankset (Arms 170 mm): crank arm length"
};

/// What has to be known before a field can be filled; until then the aid's preset stands in it,
/// which says nothing of this bike.
struct AidQuestion {
  std::string key;
  std::string sentence;
};

struct AidFields {
  std::string not_here;  // why the aid has nothing to say of this bike; then nothing is filled
  std::vector<AidField> filled;
  std::vector<AidQuestion> questions;
  bool wants_route = false;       // the aid takes the order's route and how often it is ridden
  std::vector<std::string> ends;  // that may be asked for, the usual one first; none: no such choice
};

/// The ids of aids that anything of a bike goes into.
[[nodiscard]] std::vector<std::string> aids_with_fields();

/// The fields of the aid for the bike that the reader reads. `end` is "front" or "rear" where the
/// aid looks at one wheel ("" takes the rear one), the joint for a torque; other aids do not read it. An aid that no fact of
/// a bike goes into gets no fields.
///
/// Errors: kBadInput for an end that is not among `ends`, or that no bike has.
[[nodiscard]] Result<AidFields> aid_fields(const FactReader& facts, const std::string& aid,
                                           const std::string& end);

}  // namespace rollwright::build

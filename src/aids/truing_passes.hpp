#pragma once

#include <string>
#include <vector>

#include "aids/given.hpp"
#include "mech/truing.hpp"

// Passes on the truing stand as typed. Earlier ones are kept in one field as text, so that a wheel's
// history goes with its fields:
//
//   lateral 0.4 0.2 …; radial 0.1 0.1 …; turns 3:-1 15:+1 | lateral …
//
// Tensions and dish may stand there too; spokes are counted from 1, turns are quarters.
namespace rollwright::aids {

/// Earlier passes first, today's readings last. A wheel of which no spoke was read before its first
/// turns is taken to have the tensions it is built to, 15 % either way.
///
/// Errors: kBadInput naming the field whose readings do not go together, or "earlier".
[[nodiscard]] Result<std::vector<mech::TruingPass>> truing_passes(
    const Given& given, const std::vector<mech::WheelSpoke>& spokes);

/// What the field of earlier passes holds once these turns are made after today's readings.
[[nodiscard]] std::string with_turns_made(const Given& given,
                                          const std::vector<mech::SpokeTurn>& turns);

}  // namespace rollwright::aids

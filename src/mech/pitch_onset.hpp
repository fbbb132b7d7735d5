#pragma once

#include <cstddef>

#include "base/result.hpp"
#include "mech/wav.hpp"

namespace rollwright::mech {

/// The piece of a recording that a pluck fills, as sample numbers.
struct PluckPiece {
  std::size_t from = 0;
  std::size_t to = 0;  // one past the last
};

/// Finds the pluck: the largest rise of energy between neighbouring 20 ms, then what follows until
/// the level has sunk by 30 dB or to the noise before it, at most `most_s`. The first 15 ms, which
/// are the finger or the pick, are left out.
/// Errors: kRefused for silence, a sound that neither rises nor fades, and one too short for
/// `least_s`.
[[nodiscard]] Result<PluckPiece> pluck_piece(const Sound& thin, double least_s, double most_s);

}  // namespace rollwright::mech

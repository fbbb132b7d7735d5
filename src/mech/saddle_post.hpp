#pragma once

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// A seat post with its saddle at the height the rider needs.
struct SaddlePostFit {
  Length inseam;        // of the rider, 300 to 1200 mm
  Length seat_tube;     // bottom bracket to the seat tube's top, 200 to 800 mm
  Length post;          // middle of the rails to the post's lower end, extended, 100 to 700 mm
  Length saddle_stack;  // middle of the rails to the saddle's top, 20 to 120 mm
};

/// How deep the post stands in the seat tube at riding height; negative when it does not reach.
/// Method:    saddle height 0.883 times the inseam (see rider_fit.hpp), all along the seat tube.
/// Source:    [saddle-height]; depth wanted: the post's mark and the frame's least, [post-depth].
/// Accuracy:  the rule of thumb is 15 mm good for a person. Ignores: setback. Errors: kOutOfRange.
[[nodiscard]] Result<Length> post_insertion(const SaddlePostFit& fit);

/// What is left between a dropper's collar and the seat tube's top when the extended post stands at
/// riding height; negative when the rider would sit too high with the post pushed right in.
/// `insertion`: all that can go into the tube, collar to lower end, 50 to 500 mm.
/// Method, source, accuracy, errors: as post_insertion.
[[nodiscard]] Result<Length> dropper_room(const SaddlePostFit& fit, Length insertion);

}  // namespace rollwright::mech

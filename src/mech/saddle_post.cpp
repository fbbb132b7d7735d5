#include "mech/saddle_post.hpp"

#include "mech/field_range.hpp"
#include "mech/rider_fit.hpp"

namespace rollwright::mech {

Result<Length> post_insertion(const SaddlePostFit& fit) {
  if (auto error = first_outside({{"seat tube", fit.seat_tube.in(mm), 200, 800, "mm"},
                                  {"seat post", fit.post.in(mm), 100, 700, "mm"},
                                  {"saddle's stack", fit.saddle_stack.in(mm), 20, 120, "mm"}})) {
    return std::unexpected(*std::move(error));
  }
  // The height over the bracket does not hang on the crank; any length within range will do.
  const Result<SaddleHeight> height = saddle_height(fit.inseam, 170 * mm);
  if (!height) return std::unexpected(height.error());
  return fit.post + fit.saddle_stack + fit.seat_tube - height->by_bracket;
}

Result<Length> dropper_room(const SaddlePostFit& fit, Length insertion) {
  if (auto error = first_outside({{"dropper's insertion", insertion.in(mm), 50, 500, "mm"}})) {
    return std::unexpected(*std::move(error));
  }
  const Result<Length> depth = post_insertion(fit);
  if (!depth) return std::unexpected(depth.error());
  return insertion - *depth;
}

}  // namespace rollwright::mech

#pragma once

#include "base/random.hpp"
#include "spec/choices.hpp"

namespace rollwright::spec::testing {

/// How a person fills a bike: an open part in some undecided slot, step after step; now and then a
/// decided part is changed for another open one, or taken back. Starts again when all is decided.
class Walk {
 public:
  explicit Walk(std::uint64_t seed) : random_(seed) {}

  [[nodiscard]] const Selection& selection() const { return selection_; }
  /// `answer`: the choices for selection(). False: there was nothing open to choose.
  bool step(const Choices& answer);

 private:
  bool choose(const Choices& answer, bool decided);

  Random random_;
  Selection selection_;
};

/// Whether a complete bike with the part exists.
[[nodiscard]] inline bool is_open(Status status) { return status < Status::kClosed; }

}  // namespace rollwright::spec::testing

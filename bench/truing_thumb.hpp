#pragma once

#include <vector>

#include "mech/truing.hpp"

namespace rollwright::bench {

/// A mechanic's rule of thumb: draw the rim to the middle first; then go to the worst spot and turn
/// the spokes next to it by a quarter (a half where it is more than twice out), and look again.
/// Once the rim runs true, a spoke that the meter shows out of line trades a quarter with its
/// neighbour.
class ThumbTruer {
 public:
  ThumbTruer(const mech::TruingLimits& limits, const std::vector<mech::WheelSpoke>& spokes);

  /// Turns after these readings, at most at `spots` places; none when the readings are inside.
  [[nodiscard]] std::vector<mech::SpokeTurn> act(const mech::TruingPass& pass, int spots) const;

 private:
  /// Turns so far in this round, and the spokes that are not gone back to.
  struct Round {
    std::vector<int> quarters;
    std::vector<bool> done;
    void mark(int spoke);
  };
  struct Spot {
    const mech::RunOutReading* place = nullptr;
    bool sideways = true;
    double off_mm = 0;
    double over = 1;  // the limit
  };
  [[nodiscard]] Spot worst_spot(const mech::TruingPass& pass, const Round& round) const;
  [[nodiscard]] bool true_up(const mech::TruingPass& pass, Round& round) const;
  [[nodiscard]] bool even_out(const mech::TruingPass& pass, Round& round) const;
  [[nodiscard]] int nearest(Angle where, mech::WheelEnd end) const;
  [[nodiscard]] double tightness(const mech::TruingPass& pass, int spoke) const;
  [[nodiscard]] std::vector<mech::SpokeTurn> turns_of(Round round,
                                                      const mech::TruingPass& pass) const;

  const mech::TruingLimits& limits_;
  const std::vector<mech::WheelSpoke>& spokes_;
};

}  // namespace rollwright::bench

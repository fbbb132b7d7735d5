#pragma once

#include <vector>

#include "mech/truing_belief.hpp"
#include "mech/truing_turns.hpp"

namespace rollwright::mech {

/// How far inside its limits a wheel is aimed.
struct Caution {
  double margin = 0;      // standard uncertainties kept from each limit
  double least_aim = 1;   // share of each limit that is left in any case
};

/// The wheel that a belief foretells, at places fine enough for run-out: two to a spoke.
class TruingOutlook {
 public:
  TruingOutlook(const TruingBelief& belief, const std::vector<WheelSpoke>& spokes);

  /// Lateral and radial run-out, tensions and dish under the causes given.
  struct View {
    std::vector<double> lateral_mm, radial_mm, tension_n;
    double dish_mm = 0;
  };
  [[nodiscard]] View view(const std::vector<double>& causes) const;
  /// What one turn of a nipple adds to the view.
  [[nodiscard]] View of_turn(int spoke) const;

  /// The bands to bring inside.
  [[nodiscard]] TurnProblem problem(const TruingLimits& limits, bool dish_known,
                                    const Caution& caution) const;

  [[nodiscard]] const TruingBelief& belief() const { return *belief_; }
  [[nodiscard]] const std::vector<WheelSpoke>& spokes() const { return *spokes_; }
  [[nodiscard]] Angle place(std::size_t row) const { return places_[row]; }
  [[nodiscard]] double tension_uncertainty_n(int spoke) const { return tension_sigma_[at(spoke)]; }
  /// Standard uncertainty of run-out at a place, mean over the rim, mm.
  [[nodiscard]] double run_out_uncertainty_mm(RimDirection direction) const {
    return direction == RimDirection::kLateral ? lateral_sigma_ : radial_sigma_;
  }

 private:
  static std::size_t at(int index) { return static_cast<std::size_t>(index); }
  const TruingBelief* belief_;
  const std::vector<WheelSpoke>* spokes_;
  std::vector<Angle> places_;
  std::vector<std::vector<double>> lateral_, radial_;  // [place][cause]
  double lateral_sigma_ = 0;
  double radial_sigma_ = 0;
  std::vector<double> tension_sigma_;
};

/// The state under given causes, without probabilities.
[[nodiscard]] TruingState state_of(const TruingOutlook& outlook, const std::vector<double>& causes);

}  // namespace rollwright::mech

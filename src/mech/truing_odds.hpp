#pragma once

#include <functional>
#include <vector>

#include "mech/truing_outlook.hpp"

namespace rollwright::mech {

struct Odds {
  double true_enough = 0;  // run-out and dish are inside their limits
  double inside = 0;       // all limits are met
};
/// One possible elbow factor with its probability.
struct WeighedOutlook {
  TruingOutlook outlook;
  double probability = 0;
};

struct Sampling {
  int draws = 200;  // 10 to 10 000
  unsigned seed = 1;
};

/// Probability of being inside after turns.
///
/// Method:    draws shared out over the outlooks by probability, the same numbers on every call and
///            for all turns asked about, so that differences are real.
/// Accuracy:  0.03 with 200 draws; of turns that `likelier` chose by the same draws too high: ask
///            odds of another seed about those.
/// Invariants: the outlooks outlive it. Threads: const use from many.
class TruingOdds {
 public:
  TruingOdds(const std::vector<WeighedOutlook>& outlooks, const TruingLimits& limits,
             bool dish_known, const Sampling& sampling);

  /// `quarters` by spoke.
  [[nodiscard]] Odds after(const std::vector<int>& quarters) const;

  /// What a search may do.
  struct Search {
    int most_quarters = 4;  // for one spoke
    double price = 0;       // probability that one quarter more must be worth
    int rounds = 4;         // once over all spokes each
    std::function<bool(const std::vector<int>&)> permitted;
  };
  /// Quarters changed one by one, each time the one that gains most, while that is worth it: not of
  /// the share of draws inside but of one that falls smoothly over 5 % about the limits, so that a
  /// wheel which is seldom inside is drawn nearer too.
  [[nodiscard]] std::vector<int> likelier(std::vector<int> quarters, const Search& search) const;

 private:
  /// A wheel as one row of numbers: lateral and radial by place, tensions, dish.
  using Rows = std::vector<double>;
  struct Draw {
    std::size_t member;
    Rows rows;
    std::vector<double> hand;  // unit normals, by spoke
  };
  /// One nipple turned from so many quarters to so many.
  struct Change {
    int spoke, from, to;
  };
  [[nodiscard]] double turns_in(const Draw& draw, const Change& change) const;
  void make(Draw& draw, const Change& change) const;
  /// The most that any limit is used, 1 being at it.
  [[nodiscard]] double use_of_run_out(const Rows& rows) const;
  [[nodiscard]] double use_of_tension(const Rows& rows) const;
  [[nodiscard]] double softly_inside(const std::vector<Draw>& draws, const Change& change,
                                     double enough) const;
  [[nodiscard]] std::vector<Draw> turned(const std::vector<int>& quarters) const;

  std::vector<std::vector<Rows>> columns_;  // [member][spoke], of one turn
  std::vector<Draw> draws_;
  std::vector<WheelEnd> ends_;
  std::size_t places_ = 0;
  TruingLimits limits_;
  bool dish_known_;
};

}  // namespace rollwright::mech

#pragma once

#include <vector>

#include "plan/project.hpp"
#include "plan/start_claims.hpp"

namespace rollwright::plan {

/// What follows for earliest and latest starts from the times at which activities surely run.
///
/// Method:   an activity surely runs from its latest start to its earliest end. Where the sum of
///           those needs leaves too little of a resource, the others must start after or end
///           before. Each conclusion is explained by one moment: the activities that surely run
///           then, with the weakest claims that make them do so.
/// Source:   A. Schutt, T. Feydy, P. Stuckey, M. Wallace, Explaining the cumulative propagator,
///           Constraints 16 (2011), from memory: pointwise explanations.
/// Threads:  holds scratch space; one per thread.
class TimeTable {
 public:
  /// The project must outlive this.
  TimeTable(const Project& project, int horizon);

  struct Found {
    enum class Kind { kNothing, kConclusion, kConflict } kind = Kind::kNothing;
    Claim claim;  // of a conclusion, with the claims below as its reason
  };
  /// The next conclusion that one resource gives, or the claims that cannot hold together. The
  /// claims are in `reason()` until the next call.
  Found next(int resource, const StartClaims& starts);
  /// Asks `next` again from the beginning for this resource.
  void begin(int resource, const StartClaims& starts);
  [[nodiscard]] const std::vector<Claim>& reason() const { return reason_; }
  /// Resources that an activity holds while it runs.
  [[nodiscard]] const std::vector<int>& resources_of(int activity) const {
    return resources_[static_cast<std::size_t>(activity)];
  }

 private:
  struct Part {
    int activity = 0;
    int duration = 0;
    int units = 0;
  };
  void explain(int moment, int more_than, int except, const StartClaims& starts);
  bool push_late(const Part& part, const StartClaims& starts, Found& found);
  bool push_early(const Part& part, const StartClaims& starts, Found& found);
  [[nodiscard]] int free_beside(const Part& part, int moment, const StartClaims& starts) const;

  std::vector<int> capacities_;
  std::vector<std::vector<Part>> parts_;     // per resource, the neediest first
  std::vector<std::vector<int>> resources_;  // per activity
  int horizon_ = 0;

  // Of the resource under way.
  int resource_ = 0;
  std::vector<int> held_;  // surely, in each time unit
  int most_held_ = 0;
  int overloaded_ = -1;
  std::size_t at_ = 0;
  std::vector<Claim> reason_;
};

}  // namespace rollwright::plan

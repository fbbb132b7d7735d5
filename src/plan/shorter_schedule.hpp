#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "plan/learned_clauses.hpp"
#include "plan/project.hpp"
#include "plan/project_bound.hpp"
#include "plan/start_claims.hpp"
#include "plan/time_table.hpp"

namespace rollwright::plan {

/// The search behind `prove_project`: is there a schedule of at most so many time units?
///
/// Invariants: every clause follows from the project and the limit alone, so it stays true when
///             the limit falls.
/// Threads:    one per thread.
class ShorterSchedule {
 public:
  /// The project must outlive this. `limit` is at least the critical path.
  ShorterSchedule(const Project& project, int limit, const Starts& known);

  enum class Outcome { kFound, kNone, kGaveUp };
  /// Searches until a schedule within the limit is found, none exists, or the conflicts are spent.
  Outcome search(long long most_conflicts);
  /// Lowers the limit; the last schedule found guides what is tried first.
  void lower_limit(int limit);

  [[nodiscard]] const Starts& found() const { return guide_; }
  [[nodiscard]] long long conflicts() const { return conflicts_; }

 private:
  bool rises(Claim claim, Because because);
  bool propagate();
  bool follow_waiting(const StartClaims::Step& step);
  bool propagate_resource(int resource);
  void mark_resources(const StartClaims::Step& step);
  void go_back(int level);

  void reason_of(int step, int value, std::vector<Claim>& claims) const;
  void need(Claim claim);
  bool is_spare(int step);
  int learn(std::vector<Claim>& clause, int& levels);
  bool recover();

  [[nodiscard]] bool is_open(int number) const;
  bool decide();
  void raise_interest(int number);
  void push_open(int number);
  void sift_up(std::size_t at);
  void sift_down(std::size_t at);
  int pop_most_interesting();

  const Project* project_;
  Surroundings around_;
  int limit_ = 0;
  StartClaims starts_;
  LearnedClauses clauses_;
  TimeTable table_;
  Starts guide_;
  std::size_t most_clauses_ = 4'000;

  int followed_ = 0;  // steps whose consequences are drawn
  std::vector<bool> marked_;  // resources to look at again
  std::vector<Claim> conflict_;  // claims that hold and cannot all hold
  bool hopeless_ = false;  // shown without any decision
  long long conflicts_ = 0;
  long long restarts_ = 0;
  long long next_restart_ = 0;

  std::vector<int> needs_;  // per step: value needed of it for the conflict under way
  std::vector<int> needed_;  // steps below the current level that are needed
  std::vector<int> strongest_;  // per side, scratch
  int open_needs_ = 0;  // needed steps of the current level
  std::vector<Claim> scratch_;

  std::vector<double> interest_;  // per claim number
  double step_of_interest_ = 1;
  std::vector<int> heap_;
  std::vector<int> place_in_heap_;  // -1: not there
};

}  // namespace rollwright::plan

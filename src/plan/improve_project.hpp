#pragma once

#include <cstdint>
#include <optional>
#include <unordered_set>
#include <vector>

#include "base/random.hpp"
#include "plan/justify.hpp"
#include "plan/project.hpp"
#include "plan/serial_schedule.hpp"

namespace rollwright::plan {

/// How wide and how wild the search is. The defaults did best over benchmark sets of 30 and 60
/// activities at budgets of 1,000 to 50,000 schedules.
struct ImproveSettings {
  int population = 60;        // schedules kept and bred from, 2 or more
  double mutation = 0.05;     // chance that an activity changes places with the next, 0 to 1
  double reshuffle = 0.5;     // chance that a list is a parent with a block shuffled, 0 to 1
  long long patience = 1500;  // schedules without a better newcomer, then it starts anew
};

/// Searches for a short schedule, better the longer it runs: lists drawn by a lottery that favours
/// activities with much work behind them, then bred from each other or shuffled in part. Lists are
/// in the order of the ends in a schedule that is pushed early. A drawn list is generated serially
/// and justified twice, which costs three schedules; a bred one is generated from its end, as late
/// as it goes, and pushed early, which costs two, or one when the first pass gives a schedule that
/// was met before. A population in which nothing moves any more is let go but for its best, and
/// every fourth begins with the best of the three before it.
///
/// Counting: each serial pass and each pass that pushes late or early is one schedule (Kolisch and
///           Hartmann, EJOR 174, 2006).
/// Method:   after Hartmann, A competitive genetic algorithm for resource-constrained project
///           scheduling, Naval Research Logistics 45 (1998), with double justification after Valls,
///           Ballestin and Quintanilla, EJOR 165 (2005), a crossover that hands down a busy block
///           whole (the idea is theirs: EJOR 185, 2008, from memory), and restarts.
/// Repeats:  the same project, seed, settings and sum of budgets give the same schedule on any
///           machine, in one run or in several.
/// Accuracy: no promise but lower_bound() <= best().makespan; equal means proved shortest.
/// Threads:  one per thread.
class ProjectImprover {
 public:
  /// The project must outlive the improver.
  ProjectImprover(const Project& project, std::uint64_t seed, ImproveSettings settings = {});

  /// Searches until `schedules()` would exceed `budget`, or the best is proved shortest. The first
  /// list is always tried, so that there is a feasible best even with a budget of 0.
  void run_to(long long budget);

  [[nodiscard]] const Schedule& best() const { return best_; }
  [[nodiscard]] int lower_bound() const { return lower_bound_; }
  [[nodiscard]] bool proved() const { return started_ && best_.makespan <= lower_bound_; }
  /// Generated so far: passes of the schedule generation scheme, whichever way.
  [[nodiscard]] long long schedules() const { return scheduler_.schedules(); }

 private:
  struct Member {
    ActivityList list;  // by end
    Starts starts;      // justified
    int makespan = 0;
    std::uint64_t mark = 0;  // of the starts: equal schedules have equal marks
  };

  /// Places `first` up to `end` of a list.
  struct Block {
    std::size_t first = 0;
    std::size_t end = 0;
  };

  void make_list();
  void start_anew();
  // These write to `list_`, each activity after its predecessors.
  void draw_list();
  void breed_list();
  void swap_neighbours();
  void reshuffle_list();
  [[nodiscard]] std::size_t draw_eligible();
  [[nodiscard]] Block draw_block(std::size_t size, std::size_t length);
  [[nodiscard]] Block draw_busy_block(const Member& member);
  [[nodiscard]] double busyness(const Member& member, Block block) const;
  [[nodiscard]] const Member& pick_parent();
  [[nodiscard]] bool is_full() const;
  /// Nothing when the list leads where an earlier one led.
  std::optional<Member> evaluate_list();
  void admit(Member member);

  const Project* project_;
  ImproveSettings settings_;
  Random random_;
  SerialScheduler scheduler_;
  Justifier justifier_;
  std::vector<int> tails_;
  std::vector<double> loads_;  // of each activity: work over capacity, summed over the resources
  int lower_bound_ = 0;

  bool started_ = false;
  Schedule best_;
  std::vector<Member> members_;
  std::vector<Member> champions_;  // the best of populations that were let go
  std::unordered_set<std::uint64_t> met_;  // marks of schedules after their first pass
  long long moved_at_ = 0;  // count of schedules when the population last became better

  ActivityList list_;
  ActivityList from_end_;
  Schedule schedule_;
  std::vector<int> eligible_;
  std::vector<int> waits_;
  std::vector<bool> listed_;
};

struct ImprovedProject {
  Schedule best;
  int lower_bound = 0;
  long long schedules = 0;  // generated, at most the budget unless that was below 3
};

/// One search from beginning to end.
[[nodiscard]] ImprovedProject improve_project(const Project& project, std::uint64_t seed,
                                              long long budget);

}  // namespace rollwright::plan

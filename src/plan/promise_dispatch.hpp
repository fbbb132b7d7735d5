#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "plan/critical_chain.hpp"
#include "plan/promise_draw.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// People who end a task this much later than the soonest may still be preferred for having fewer
/// skills, so that seniors stay free.
inline constexpr int kDispatchPatience = 120;

/// Runs the shop through one draw: whenever somebody is free, work is handed out in take_up_order.
///
/// Rules, at each minute, over the tasks that could start, in take-up order: a task starts when its
/// bike is free, its area has a stand, and somebody with the skill is free and at work who
///  - is not barred as second person, and leaves one for a later task that needs another person,
///  - can end it without a pause it forbids, within the horizon,
///  - can end it before their own next frozen start (frozen tasks excepted).
/// Of these, those who end it within kDispatchPatience of the soonest; of these the one with the
/// fewest skills, then the soonest, then the first in the input.
///
/// Method: events (work ends, something becomes ready) in a heap; people, ready tasks and skills as
///         bits, so that handing out a task costs about a hundred nanoseconds.
/// Invariants: every minute at which something could start is an event, an opening of somebody's
///         hours or a frozen start; between those nothing changes in anybody's favour.
/// Threads: one per thread; the input must outlive it.
class Dispatcher {
 public:
  explicit Dispatcher(const PlanInput& input);

  /// Runs until the tasks of the wanted orders have ended (all orders when none is named) or
  /// nothing more can happen. `ran` is by task of the input. Returns the number of tasks started.
  int run(const DrawSource& source, const Draw& draw, std::span<const int> wanted_orders,
          std::vector<Ran>& ran);

 private:
  struct Job {
    int task = 0;
    int group = 0;
    int place = 0;  // within the group
    int order = 0;
    int area = 0;
    int unattended = 0;
    int before = 0;  // open tasks it comes after
    bool on_bike = false;
    bool frozen = false;
    bool second = false;  // needs a second person
    Pause pause = Pause::kAnywhere;
    int could_start = 0;  // without parts
    std::uint64_t able = 0;
    std::uint64_t done_by = 0;  // already done by these, as second person
    int nested = 0;             // second-person tasks it must differ from
  };
  /// Tasks that the same people do in the same area: what one cannot start, none can.
  struct Group {
    std::uint64_t able = 0;
    int area = 0;
    std::vector<int> jobs;
  };
  struct Hours {
    int from, to, day;
  };
  struct Worker {
    int person = 0;  // of the input
    int skills = 0;  // how many
    std::vector<Hours> hours;
    std::vector<int> frozen_starts;
    // state of the draw
    std::size_t at = 0;
    int rate = -1;  // of hours[at]; -1 not asked yet
    int free_since = 0;
    std::size_t next_frozen = 0;
  };
  enum Kind { kReady, kEnds, kLook };

  void add_workers();
  void add_job(int task);
  void add_links();
  void add_groups();
  void reset(const Draw& draw, std::span<const int> wanted, std::vector<Ran>& ran);
  void push(int minute, int job, Kind kind);
  bool next_minute(int& minute);
  void happen(int job, Kind kind, std::vector<Ran>& ran);
  void set_ready(int job);
  void clear_ready(int job);
  void hand_out(std::vector<Ran>& ran);
  void see_who_is_free();
  int first_startable() const;
  bool try_start(int job, std::vector<Ran>& ran);
  std::uint64_t allowed(int job) const;
  int ends(Worker& worker, int work, Pause pause);
  void start(int job, int worker, int end, std::vector<Ran>& ran);
  void find_wait(const Job& job, const Worker& worker, Ran& ran) const;
  void set_wake();
  int rate_of(const Worker& worker, int day) const;

  const PlanInput& input_;
  std::vector<Job> jobs_;  // in take-up order
  std::vector<Group> groups_;
  std::vector<std::uint64_t> group_able_;  // of the groups, close together
  std::vector<int> group_area_;
  std::vector<Worker> workers_;  // fewest skills first; bit i of every mask
  std::vector<int> bit_of_;      // per person of the input
  std::vector<int> job_of_;      // per task of the input, -1 when it is not open
  std::vector<int> next_from_, next_;        // per job: jobs that come after it
  std::vector<int> witness_from_, witness_;  // per job: jobs that need another person
  std::vector<std::vector<int>> parts_;      // per job: arrivals

  // state of the draw
  const DrawSource* source_ = nullptr;
  const Draw* draw_ = nullptr;
  int now_ = 0;
  int wake_ = 0;
  int ready_count_ = 0;
  int wanted_left_ = 0;
  int started_ = 0;
  std::uint64_t idle_ = 0;
  std::uint64_t free_ = 0;
  std::vector<std::uint64_t> heap_;
  std::vector<int> first_ready_;  // per group: its first ready job, kNever none
  std::vector<std::vector<std::uint64_t>> ready_;  // per group: by place
  std::vector<int> before_left_;
  std::vector<std::uint64_t> doers_;
  std::vector<int> nested_left_;
  std::vector<int> worker_of_;
  std::vector<int> stands_free_, stand_freed_;
  std::vector<int> bike_task_, bike_ended_;  // per order: task on it or last on it; end or kNever
  std::vector<std::vector<int>> parked_;     // per order: ready jobs whose bike is taken
  std::vector<int> refused_;
  std::vector<char> wanted_;
};

}  // namespace rollwright::plan

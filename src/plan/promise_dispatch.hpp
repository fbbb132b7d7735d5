#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "plan/critical_chain.hpp"
#include "plan/promise_draw.hpp"
#include "plan/ready_jobs.hpp"
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
///  - can end it before their own next frozen start (frozen tasks excepted),
///  - has as many others to lend a hand as it takes, of whom the same is true.
/// Of these, those who end it within kDispatchPatience of the soonest; of these the one with the
/// fewest skills, then the soonest, then the first in the input. Hands are lent by those who were
/// to by the frozen start, then by fewest skills.
///
/// A task that only lacks hands makes an appointment: at the first minute at which one who can do
/// it and so many others (without an appointment) have ended what they do, are at work for as long
/// as it takes and have no frozen start in it. Of what comes later in take-up order they take nothing
/// that would run past that minute. Appointments are made anew whenever work is handed out.
///
/// Method: work that runs is looked through for the next to end; what becomes ready by the clock is
///         in a heap; people and ready jobs as bits. What is the same in every draw is laid out once
///         and copied, and what a task touches lies close together.
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
  struct alignas(32) Job {
    int task = 0;
    int order = 0;
    int group = 0;  // of the same people and area: what one of them cannot start, none can
    int area = 0;
    int unattended = 0;
    Pause pause = Pause::kAnywhere;
    std::uint8_t hands = 1;
    bool on_bike = false;
    bool frozen = false;
    bool second = false;     // needs a second person
    bool witnessed = false;  // a second person must differ from who does it
  };
  /// Of a job, within a draw.
  struct State {
    std::uint64_t doers = 0;  // who, as second person, must not do it
    int before = 0;           // open tasks it still waits for
    int nested = 0;           // second-person tasks to come that it must differ from
  };
  struct Group {
    std::uint64_t able = 0;
    std::uint64_t takers = 0;  // who being free can make one of them start: for several pairs of
                               // hands, whoever may lend one
    int area = 0;
  };
  struct Link {
    int job = 0;
    int task = 0;
  };
  struct Hours {
    static constexpr int kNoDay = -1;  // of those that never come
    int from, to, day;
  };
  struct Worker {
    int person = 0;  // of the input
    int skills = 0;  // how many
    int hours = 0;   // first of theirs in hours_
    int frozen = 0;  // first of theirs in frozen_starts_
    // state of the draw
    int at = 0;      // in hours_
    int rate = -1;   // of that day; -1 not asked yet
    int free_since = 0;
    int next_frozen = 0;  // in frozen_starts_
    int busy_until = 0;
  };
  struct Choice {
    int bit = -1;  // who does it; -1: nobody
    int end = 0;
    std::uint64_t lending = 0;
  };
  /// An appointment.
  struct Meeting {
    int minute = kNever;
    std::uint64_t people = 0;
  };
  struct Stay {
    int from = kNever;
    int minutes = 0;
  };
  struct NeededPart {
    int task = 0;
    int part = 0;
  };

  // What is the same in every draw: promise_floor.cpp.
  void add_workers(const std::vector<int>& sequence);
  [[nodiscard]] std::uint64_t bits_of(std::uint64_t people) const;
  void add_job(int task);
  void add_links();
  void add_groups();

  void reset(std::span<const int> wanted, std::vector<Ran>& ran);
  bool to_next_minute();
  void end_one(std::vector<Ran>& ran);
  void see_one_ready();
  void hand_out(std::vector<Ran>& ran);
  void see_who_is_free();
  [[nodiscard]] int first_startable() const;
  void see_stands(int area);
  bool try_start(int job, std::vector<Ran>& ran);
  void take(int worker, int end);
  [[nodiscard]] std::uint64_t allowed(int job, std::uint64_t among) const;
  [[nodiscard]] int ends(const Worker& worker, int work, Pause pause) const;
  void start(int job, const Choice& choice, std::vector<Ran>& ran);
  void find_wait(const Job& job, const Worker& worker, Ran& ran) const;
  void set_wake();
  [[nodiscard]] int rate_of(const Worker& worker, int day) const;

  // Several pairs of hands: promise_hands.cpp.
  bool try_start_together(int job, std::vector<Ran>& ran);
  [[nodiscard]] std::uint64_t may_lend(int job, int doer) const;
  [[nodiscard]] bool stays_until(int bit, int end, bool frozen);
  [[nodiscard]] std::uint64_t lend(int job, int doer, int end);
  void keep_appointment(int job);
  [[nodiscard]] Meeting meet(int job, int doer) const;
  [[nodiscard]] Stay alone_from(int bit, int from, int work) const;
  [[nodiscard]] int there_from(int bit, int from, int minutes) const;
  [[nodiscard]] int fits_from(const Worker& worker, const Hours& hours, int from,
                              int minutes) const;
  [[nodiscard]] int free_from(int bit) const;
  void free_lent(int bit);

  const PlanInput& input_;
  std::vector<Job> jobs_;  // in take-up order
  std::vector<Group> groups_;
  std::vector<std::vector<int>> groups_in_;  // per area
  std::vector<Worker> workers_;     // fewest skills first; bit i of every mask
  std::vector<Hours> hours_;        // of each worker, then one that never comes
  std::vector<int> frozen_starts_;  // of each worker, then one that never comes
  std::vector<int> bit_of_;         // per person of the input
  std::vector<int> job_of_;         // per task of the input, -1 when it is not open
  std::vector<int> next_from_;      // per job: those that come after it
  std::vector<Link> next_;
  std::vector<int> witness_from_, witness_;  // per job: jobs that need another person
  std::vector<int> jobs_of_order_;           // how many
  // as every draw begins
  std::vector<State> states_at_first_;
  std::vector<Ran> ran_at_first_;
  std::vector<NeededPart> needed_parts_;
  std::vector<int> first_jobs_;  // that wait for no other
  std::vector<int> frozen_jobs_;
  std::vector<std::uint64_t> named_;  // per job: who is to lend a hand by its frozen start
  std::uint64_t lending_ = 0;  // who may lend a hand
  bool any_together_ = false;  // some job takes several pairs of hands

  // state of the draw
  const DrawSource* source_ = nullptr;
  const Draw* draw_ = nullptr;
  int now_ = 0;
  int wake_ = 0;
  int wanted_left_ = 0;
  int started_ = 0;
  std::uint64_t idle_ = 0;
  std::uint64_t just_idle_ = 0;  // and not looked at since
  std::uint64_t free_ = 0;       // at work and idle
  int hours_change_ = 0;         // the next minute at which hours of anybody idle begin or end
  std::vector<std::uint64_t> running_;  // per worker: minute of the end, job, worker
  std::uint64_t next_end_ = 0;          // the least of those
  std::vector<std::uint64_t> later_;    // heap: minute, job that becomes ready, or none
  std::vector<int> ready_now_;
  ReadyJobs ready_;
  std::vector<State> states_;
  std::vector<int> stands_free_, stand_freed_;
  std::vector<std::uint64_t> takers_;  // per group: who is able, nobody while all stands are taken
  std::vector<int> bike_task_, bike_ended_;  // per order: task on it or last on it; end or kNever
  std::vector<int> refused_;
  std::vector<std::uint64_t> lent_;  // per worker: who lends a hand at what they do
  std::uint64_t kept_ = 0;           // who has an appointment
  std::vector<int> kept_from_;       // per worker: its minute
  std::vector<char> lacked_hands_;   // per job
  std::vector<char> wanted_;
};

}  // namespace rollwright::plan

#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/clock.hpp"
#include "plan/workshop.hpp"
#include "simulated_catalogue.hpp"

namespace rollwright::bench {

/// One operation of one bike on the simulated bench.
struct Job {
  const trade::Operation* operation = nullptr;
  double left = 0;       // hands-on minutes, as it will turn out
  double expected = 0;   // of these, as the shop would say beforehand
  double chain = 0;      // expected minutes from here to the bike's end on the longest way
  int doer = -1;         // who did it, has it in hand, or had it last
  bool in_hand = false;
  int ended = -1;        // minute from the first day, unattended time included; -1 open
};

struct Bike {
  std::string id;
  Day agreed = {};
  std::optional<Day> due;
  const Design* design = nullptr;
  std::vector<Job> jobs;  // as the design's steps
  bool kit_here = false;
  bool all_here = false;  // what may follow, too
  bool on_stand = false;  // an operation on the bike itself is in hand
  int open = 0;           // jobs
  int begun = -1;         // minutes from the first day
  int ready = -1;
};

/// How free hands choose what to do next.
struct Turns {
  bool by_due = true;          // bikes by the day promised, else in the order in which they came
  bool longest_chain = false;  // within a bike, else in the working order of its sheet
  bool spare_seniors = false;  // who has fewer skills is asked first
};

/// When one person is at bikes on the day, and their hands-on minutes per minute then.
struct Shift {
  std::vector<plan::Window> windows;
  double pace = 1;
};

/// People at work on bikes, in steps of five minutes. A copy is a bench of its own, so that a shop
/// can be run ahead. It shares no code with src/plan, which it is there to judge.
///
/// Somebody who is free takes the first job that can be done: what comes before has ended, parts
/// are there, the bike and a stand are free, the skill is theirs, they are not barred as second
/// person, somebody else who is in today could check it, and what may not lie overnight should end
/// today. It runs until it is done; who is out for the whole day gives it back.
class Bench {
 public:
  Bench(const Catalogue& catalogue, Turns turns);

  /// Bikes are known by their place, in the order in which they came.
  int add(Bike bike);
  void tell(int bike, Day due);
  /// What each person is to do first, in this order, as soon as it can be done; then as by turns.
  void follow(std::vector<std::vector<std::pair<int, int>>> bike_and_job_by_person) {
    planned_ = std::move(bike_and_job_by_person);
  }
  /// The hours of the day: who has no shift gives back what was in hand.
  void begin_day(int day, std::vector<Shift> shifts);
  /// From one minute of the day to another.
  void work(int from, int to);
  /// As it would go if everything took as long as the shop says beforehand.
  void expect();

  [[nodiscard]] std::vector<Bike>& bikes() { return bikes_; }
  [[nodiscard]] const std::vector<Bike>& bikes() const { return bikes_; }
  /// Who began what on which day, since it was last asked.
  struct Started {
    int bike, job, person, day;
    friend auto operator<=>(const Started&, const Started&) = default;
  };
  [[nodiscard]] std::vector<Started> take_started() { return std::exchange(started_, {}); }

  static constexpr int kStep = 5;

 private:
  struct Hands {
    plan::SkillSet skills = 0;
    int bike = -1;
    int job = -1;
    int in_vain = -1;  // minute of the day at which there was nothing to do
  };
  void put_down(std::size_t person);
  void step(int minute);
  bool at_bikes(std::size_t person, int minute) const;
  void do_some(std::size_t person, int minute);
  void end(std::size_t person, int minute);
  void look_for_work(std::size_t person, int minute);
  bool find_job(std::size_t person, int minute);
  void take(std::size_t person, int place, std::size_t index, int minute);
  bool can_do(std::size_t person, const Bike& bike, std::size_t job, int minute) const;
  bool leaves_a_checker(std::size_t person, const Bike& bike, const DesignStep& step) const;
  void sort_bikes();

  const Catalogue& catalogue_;
  Turns turns_;
  std::vector<Hands> hands_;
  std::vector<std::size_t> asked_;  // people, first asked first
  std::map<std::string, int> stands_free_;
  std::vector<Bike> bikes_;
  std::vector<int> turn_;  // bikes with open jobs
  std::vector<std::vector<std::size_t>> job_turn_;  // per bike
  std::vector<Shift> shifts_;
  int day_ = 0;
  std::vector<std::vector<std::pair<int, int>>> planned_;
  int changed_ = 0;  // minute of the day from which something may be different
  std::vector<Started> started_;
};

}  // namespace rollwright::bench

#pragma once

#include <cstdint>
#include <vector>

#include "plan/uncertain_work.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {

/// Work is counted in 1024ths of a hands-on minute, so that a draw is whole numbers throughout and
/// comes out the same on every machine and in any order of adding up.
inline constexpr int kWorkUnit = 1024;

/// One draw of luck.
struct Draw {
  std::uint64_t key = 0;     // seeds what is asked for by person and day
  std::vector<int> work;     // per task of the input: hands-on, in 1/kWorkUnit minutes, at least 1
  std::vector<int> drawn;    // of those, what is not the same in every draw
  std::vector<int> in_hand;  // per arrival: minute; kNever past the horizon
  std::vector<char> comes;   // per order: it is agreed at all
  std::vector<char> out;     // per person and day of the horizon: ill, or on leave not told yet
};

/// The luck of every draw. Each item's number depends on the seed, the draw and the item's name
/// only: an alternative that changes, adds or drops other items does not change it.
///
/// Work that must not lie over a pause is drawn no longer than the longest go of anybody who can do
/// it on a day of many walk-ins (or its most likely minutes, if they are more): a mechanic would
/// find a way to end it, while in the draw it would never be begun.
///
/// Who is well is ill on the next day with a chance, and who is ill stays so with another: spells of
/// the mean length given, in the long run the share given. The same for leave that is not told yet.
/// Threads: const use from many threads is fine.
class DrawSource {
 public:
  DrawSource(const PlanInput& input, std::uint64_t seed);

  void sample(int draw, Draw& out) const;

  /// Work units a person does per minute at work on that day of the horizon; 0 when sick.
  [[nodiscard]] int rate(const Draw& draw, int person, int day) const;

 private:
  /// Being out as a chain of days: chances in 2^-52, as the random numbers are compared.
  struct Spells {
    std::uint64_t begins = 0;
    std::uint64_t stays = 0;
    int from = 0;  // first day on which one may begin
  };
  static Spells spells(double share, double days, int from);
  void sample_people(Draw& out) const;
  void sample_work(Draw& out) const;
  [[nodiscard]] double days_until(std::size_t arrival, std::uint64_t key) const;

  const PlanInput& input_;
  std::uint64_t seed_;
  void add_work();

  std::vector<int> sure_work_;  // per task, in work units; 1 where it is not open
  UncertainWork uncertain_work_;
  std::vector<int> uncertain_;  // their tasks
  std::vector<std::uint64_t> order_names_;
  std::vector<std::uint64_t> arrival_names_;
  std::vector<std::uint64_t> together_names_;  // of what arrivals are late together with
  std::vector<Spells> ill_;                    // per person
  std::vector<Spells> leave_;
  std::vector<std::uint64_t> person_names_;
};

}  // namespace rollwright::plan

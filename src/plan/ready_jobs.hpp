#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "base/index.hpp"

namespace rollwright::plan {

/// Jobs that could start, group by group, each group in take-up order. Jobs on a bike that is on a
/// stand keep aside by themselves until it is free.
///
/// Method: one bit per job, by group and, for jobs on the bike, by bike. The first of each group is
///         kept, not searched for; so are the groups that have one, which of many are few.
/// Threads: one per thread.
class ReadyJobs {
 public:
  struct Place {
    int group = 0;
    int bike = -1;  // -1: not on the bike
  };
  /// `jobs` in take-up order.
  ReadyJobs(std::span<const Place> jobs, std::size_t groups, std::size_t bikes);

  void clear();
  void add(int job);
  /// It is refused for now.
  void remove(int job);
  /// It starts; when it is on a bike, that is taken.
  void start(int job);
  void free_bike(int bike);

  /// Per group: the first job that could start, kNever when none could.
  [[nodiscard]] std::span<const int> first() const { return first_; }
  /// Bit by bit, which groups have one.
  [[nodiscard]] std::span<const std::uint64_t> groups_with_any() const { return with_any_; }
  [[nodiscard]] bool any() const;

 private:
  struct Slot {
    int group = 0;
    int bit = 0;       // in open_
    int bike = -1;
    int bike_bit = 0;  // in on_bike_
  };
  void open(int job);
  void close(int job);
  template <class Do>
  void each_on(int bike, Do what);

  std::vector<Slot> slots_;             // per job
  std::vector<int> jobs_;               // per bit of open_
  std::vector<int> bike_jobs_;          // per bit of on_bike_
  std::vector<std::size_t> end_;        // per group: one past its last word
  std::vector<std::size_t> bike_from_;  // per bike: its first word; one more at the end
  std::vector<std::uint64_t> open_;     // ready, and their bike is free
  std::vector<std::uint64_t> on_bike_;  // ready, whatever their bike does
  std::vector<char> taken_;             // per bike
  std::vector<int> first_;
  std::vector<std::uint64_t> with_any_;
};

}  // namespace rollwright::plan

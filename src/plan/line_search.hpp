#pragma once

#include <cstdint>
#include <functional>
#include <unordered_map>
#include <vector>

#include "plan/line.hpp"
#include "plan/line_bound.hpp"

namespace rollwright::plan {

/// What a search for a balance may cost.
struct LineEffort {
  std::size_t most_states = 0;      // half-filled lines kept
  std::size_t most_loads = 0;       // ways tried to fill one station
  long long most_steps = 0;         // tasks put onto stations, put back again or not
  /// Asked now and then unless null or empty; true ends the search.
  const std::function<bool()>* stop = nullptr;
};

/// Is there a balance of at most so many stations for a takt?
///
/// Method:   fills station after station with sets of tasks to which none can be added. Half-filled
///           lines of equal length wait in a heap, those with the least idle time and the fewest
///           open tasks first, and the lengths take turns, so that whole lines are met early. A
///           half-filled line is dropped when the rest cannot fit by any of several measures of the
///           work, when a task must be behind it by the work that follows, when the same tasks were
///           met on as few stations, and when a task of the newest station can be exchanged for a
///           larger one that everything behind it waits for, too.
/// Source:   E. Sewell and S. Jacobson, INFORMS Journal on Computing 24 (2012); exchange: J.
///           Jackson 1956 (both from memory).
/// Threads:  one per thread.
class LineSearch {
 public:
  LineSearch(const Line& line, int takt, int stations);

  enum class Outcome { kFound, kNone, kGaveUp };
  Outcome run(const LineEffort& effort);
  /// After kFound.
  [[nodiscard]] const Stations& found() const { return found_; }
  [[nodiscard]] long long steps() const { return steps_; }

 private:
  using Word = std::uint64_t;
  struct Kept {
    int before = -1;   // the half-filled line that this one continues
    int stations = 0;  // filled
  };
  struct Waiting {
    double rank = 0;  // lower is more promising
    int state = 0;
    static bool comes_later(const Waiting& a, const Waiting& b) {
      return a.rank != b.rank ? a.rank > b.rank : a.state > b.state;
    }
  };

  [[nodiscard]] const Word* tasks_of(int state) const {
    return &words_[static_cast<std::size_t>(state) * width_];
  }
  [[nodiscard]] bool has(const Word* set, int task) const {
    return (set[static_cast<std::size_t>(task) / 64] >> (task % 64) & 1) != 0;
  }
  static std::uint64_t hash_of(const Word* set, std::size_t width);
  void expand(int state, const LineEffort& effort);
  void fill(std::size_t from, const LineEffort& effort);
  [[nodiscard]] bool is_spent(const LineEffort& effort) const;
  void put(int task);
  void take_back(int task, std::size_t open_before);
  void close_station();
  [[nodiscard]] bool can_be_exchanged() const;
  [[nodiscard]] bool rest_fits() const;
  void keep();
  void write_found(int state);

  const Line* line_;
  int takt_ = 0;
  int stations_ = 0;
  std::size_t width_ = 1;  // words per set
  std::vector<WorkMeasure> measures_;
  std::vector<std::vector<Word>> followers_;  // of each task, near and far
  std::vector<std::vector<Word>> due_;  // by stations filled: tasks that must be on them
  bool hopeless_ = false;

  std::vector<Kept> kept_;
  std::vector<Word> words_;
  std::vector<std::vector<Waiting>> waiting_;  // by stations filled
  std::unordered_multimap<std::uint64_t, int> known_;
  bool complete_ = true;  // nothing was left out for lack of effort
  bool over_ = false;
  long long steps_ = 0;
  Stations found_;

  // Of the station under way.
  int from_state_ = 0;
  std::vector<Word> set_;  // tasks on the line so far
  std::vector<int> waits_;
  std::vector<int> open_;  // tasks that may come next, in the order in which they became so
  std::vector<int> load_;
  int load_time_ = 0;
  std::size_t loads_ = 0;
  long long placed_time_ = 0;
  std::vector<long long> left_;  // by measure: work not yet on the line
};

}  // namespace rollwright::plan

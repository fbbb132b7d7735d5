#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace rollwright::plan {

/// "Activity i starts at v or later" is side 2i with value v; "at v or earlier" is side 2i + 1 with
/// value -v. Either way a claim holds when the side's bound is at least the value, and a bound only
/// ever rises while a search goes deeper.
struct Claim {
  int side = 0;
  int value = 0;
  friend bool operator==(const Claim&, const Claim&) = default;
};
[[nodiscard]] inline Claim starts_from(int activity, int v) { return {2 * activity, v}; }
[[nodiscard]] inline Claim starts_by(int activity, int v) { return {2 * activity + 1, -v}; }
/// Starts are whole numbers, so what is not at v or later is at v - 1 or earlier.
[[nodiscard]] inline Claim denial_of(Claim claim) { return {claim.side ^ 1, 1 - claim.value}; }

/// Why a bound rose.
struct Because {
  enum class Kind { kDecision, kClause, kWaiting, kClaims } kind = Kind::kDecision;
  int a = 0;  // kClause: its index; kWaiting: side of the neighbour; kClaims: first of the claims
  int b = 0;  // kWaiting: time units between; kClaims: how many
};

/// Earliest and latest starts under a search, with the history of how each bound came to be.
///
/// Invariants: steps are in the order in which they were taken; those of one side rise.
/// Threads:    one per thread.
class StartClaims {
 public:
  struct Step {
    int side = 0;
    int before = 0;  // bound of the side
    int after = 0;
    int level = 0;  // decisions taken so far
    int earlier = -1;  // the step before it on the same side
    std::size_t pool = 0;  // claims kept when it was taken
    Because because;
  };

  /// Starts within [earliest[i], latest[i]].
  StartClaims(const std::vector<int>& earliest, const std::vector<int>& latest);

  [[nodiscard]] int activities() const { return static_cast<int>(bounds_.size() / 2); }
  [[nodiscard]] int bound(int side) const { return bounds_[static_cast<std::size_t>(side)]; }
  [[nodiscard]] int earliest(int activity) const { return bound(2 * activity); }
  [[nodiscard]] int latest(int activity) const { return -bound(2 * activity + 1); }
  [[nodiscard]] bool holds(Claim claim) const { return bound(claim.side) >= claim.value; }
  [[nodiscard]] bool fails(Claim claim) const { return holds(denial_of(claim)); }

  /// Takes a claim that neither holds nor fails.
  void take(Claim claim, Because because);
  void open_level() { level_begins_.push_back(steps_.size()); }
  /// Forgets every level above; calls `undone` with each step, the last first.
  template <class Undone>
  void return_to(int level, Undone undone) {
    if (level >= this->level()) return;
    const std::size_t keep = level_begins_[static_cast<std::size_t>(level)];
    while (steps_.size() > keep) {
      const Step& step = steps_.back();
      undone(step);
      bounds_[static_cast<std::size_t>(step.side)] = step.before;
      last_[static_cast<std::size_t>(step.side)] = step.earlier;
      pool_.resize(step.pool);
      steps_.pop_back();
    }
    level_begins_.resize(static_cast<std::size_t>(level));
  }
  [[nodiscard]] int level() const { return static_cast<int>(level_begins_.size()); }

  [[nodiscard]] int step_count() const { return static_cast<int>(steps_.size()); }
  [[nodiscard]] const Step& step(int index) const {
    return steps_[static_cast<std::size_t>(index)];
  }
  /// The step that first made the claim hold, or -1 when it held from the beginning.
  [[nodiscard]] int step_of(Claim claim) const;

  /// Keeps claims as a reason until the step that uses them is undone.
  Because keep(std::span<const Claim> claims);
  [[nodiscard]] std::span<const Claim> kept(Because because) const {
    return std::span(pool_).subspan(static_cast<std::size_t>(because.a),
                                    static_cast<std::size_t>(because.b));
  }

 private:
  std::vector<int> bounds_;
  std::vector<int> last_;  // newest step of each side, or -1
  std::vector<Step> steps_;
  std::vector<std::size_t> level_begins_;
  std::vector<Claim> pool_;
};

}  // namespace rollwright::plan

#include "mech/truing_turns.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <tuple>

#include "base/index.hpp"
#include "mech/rows.hpp"
#include "mech/truing_lattice.hpp"

namespace rollwright::mech {
namespace {

constexpr double kInside = 1e-9;  // excess that counts as none
constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kNoGain = 1e-9;
constexpr int kMostTrials = 16'000;  // some 3 ms for 36 spokes

constexpr std::size_t kLanes = 4;  // chains that keep the adders busy

double squares_outside(const double* rows, std::size_t count, Range bounds) {
  double sums[kLanes] = {0, 0, 0, 0};
  const auto square = [&](double value) {
    const double over = std::max(std::max(value - bounds.high, bounds.low - value), 0.0);
    return over * over;
  };
  std::size_t i = 0;
  for (; i + kLanes <= count; i += kLanes) {
    for (std::size_t lane = 0; lane < kLanes; ++lane) sums[lane] += square(rows[i + lane]);
  }
  for (; i < count; ++i) sums[0] += square(rows[i]);
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

/// All bands' rows one after another, so that a trial is one run through memory.
class StackedRows {
 public:
  explicit StackedRows(const TurnProblem& problem) : problem_(&problem) {
    columns_.resize(at(problem.spokes));
    for (const TurnBand& band : problem.bands) {
      now_.insert(now_.end(), band.now.begin(), band.now.end());
      for (std::size_t j = 0; j < columns_.size(); ++j) {
        columns_[j].insert(columns_[j].end(), band.change[j].begin(), band.change[j].end());
      }
    }
    trial_.resize(now_.size());
  }

  [[nodiscard]] const TurnProblem& problem() const { return *problem_; }
  [[nodiscard]] const std::vector<double>& now() const { return now_; }

  void add(std::vector<double>& rows, int spoke, double quarters) const {
    const std::vector<double>& column = columns_[at(spoke)];
    for (std::size_t i = 0; i < rows.size(); ++i) rows[i] += quarters * column[i];
  }

  /// Excess of `rows` with `quarters` more on `spoke`; not followed up once it passes `enough`.
  [[nodiscard]] double excess(const std::vector<double>& rows, int spoke, double quarters,
                              double enough = kNever) const {
    trials_ += 1;
    const double* column = columns_[at(spoke)].data();
    double sum = 0;
    std::size_t first = 0;
    for (const TurnBand& band : problem_->bands) {
      const std::size_t count = band.now.size();
      for (std::size_t i = 0; i < count; ++i) {
        trial_[i] = rows[first + i] + quarters * column[first + i];
      }
      sum += band_excess(band, trial_.data());
      if (sum > enough) return kNever;
      first += count;
    }
    return sum;
  }

  [[nodiscard]] double excess(const std::vector<double>& rows) const {
    return excess(rows, 0, 0);
  }

  /// Trials so far: the search's clock, the same on every machine.
  [[nodiscard]] int trials() const { return trials_; }

  /// Whether no row of a hard band passes its bound, or rises where it is past it already.
  [[nodiscard]] bool permitted(const std::vector<double>& rows) const {
    std::size_t first = 0;
    for (const TurnBand& band : problem_->bands) {
      for (std::size_t i = 0; band.hard && i < band.now.size(); ++i) {
        if (rows[first + i] > std::max(band.most, band.now[i]) + kNoGain) return false;
      }
      first += band.now.size();
    }
    return true;
  }

 private:
  static double band_excess(const TurnBand& band, const double* rows) {
    const std::size_t count = band.now.size();
    double middle = 0;
    if (band.floating) {
      const Range range = range_of(rows, count);
      if (range.high - range.low <= band.most - band.least) return 0;
      middle = (range.low + range.high) / 2;
    }
    return squares_outside(rows, count, {band.least + middle, band.most + middle}) /
           (band.scale * band.scale);
  }

  const TurnProblem* problem_;
  std::vector<double> now_;
  std::vector<std::vector<double>> columns_;
  mutable std::vector<double> trial_;
  mutable int trials_ = 0;
};

struct Quarter {
  int spoke = 0;
  int way = 0;  // 1, -1, or 0 for none
};

/// Quarters chosen so far with the rows they lead to.
class Search {
 public:
  explicit Search(const StackedRows& rows)
      : rows_(&rows), quarters_(at(rows.problem().spokes)), reached_(rows.now()) {
    excess_ = rows.excess(reached_);
  }

  void take(Quarter quarter, int times = 1) {
    if (quarter.way == 0) return;
    rows_->add(reached_, quarter.spoke, quarter.way * times);
    quarters_[at(quarter.spoke)] += quarter.way * times;
    excess_ = rows_->excess(reached_);
  }

  [[nodiscard]] int spokes() const { return static_cast<int>(quarters_.size()); }
  [[nodiscard]] double excess() const { return excess_; }
  [[nodiscard]] double after(Quarter quarter, double enough = kNever) const {
    return rows_->excess(reached_, quarter.spoke, quarter.way, enough);
  }
  [[nodiscard]] bool allowed(Quarter quarter) const {
    return std::abs(quarters_[at(quarter.spoke)] + quarter.way) <= rows_->problem().most_quarters;
  }
  /// Quarters more that a step costs; negative when it undoes one.
  [[nodiscard]] int cost(Quarter quarter) const {
    const int before = quarters_[at(quarter.spoke)];
    return std::abs(before + quarter.way) - std::abs(before);
  }
  [[nodiscard]] bool time_is_up() const { return rows_->trials() > kMostTrials; }
  [[nodiscard]] bool permitted() const { return rows_->permitted(reached_); }
  [[nodiscard]] TurnChoice choice() const {
    TurnChoice chosen{.quarters = quarters_, .count = 0, .excess = excess_ < kInside ? 0 : excess_};
    for (const int q : quarters_) chosen.count += std::abs(q);
    return chosen;
  }
  [[nodiscard]] std::vector<Quarter> allowed_quarters() const {
    std::vector<Quarter> all;
    for (int spoke = 0; spoke < spokes(); ++spoke) {
      for (const int way : {1, -1}) {
        if (allowed({spoke, way})) all.push_back({spoke, way});
      }
    }
    return all;
  }
  /// One quarter back for each spoke that is turned.
  [[nodiscard]] std::vector<Quarter> drops() const {
    std::vector<Quarter> all;
    for (int spoke = 0; spoke < spokes(); ++spoke) {
      const int q = quarters_[at(spoke)];
      if (q != 0) all.push_back({spoke, q > 0 ? -1 : 1});
    }
    return all;
  }

 private:
  const StackedRows* rows_;
  std::vector<int> quarters_;
  std::vector<double> reached_;
  double excess_ = 0;
};

struct Step {
  Quarter one;
  Quarter two;
  double gain = 0;  // of excess for each quarter more
};

double gain_of(const Search& search, double excess, int cost) {
  // Undoing quarters is worth having for itself.
  return (search.excess() - excess) / std::max(0.5, static_cast<double>(cost));
}

/// The best single quarter, or the best pair of which one is among the `likely` singles.
Step best_step(const Search& search, std::size_t likely) {
  struct Single {
    double excess;
    Quarter quarter;
  };
  std::vector<Single> singles;
  Step best;
  for (const Quarter quarter : search.allowed_quarters()) {
    singles.push_back({search.after(quarter), quarter});
    const double gain = gain_of(search, singles.back().excess, search.cost(quarter));
    if (gain > best.gain + kNoGain) best = {quarter, {}, gain};
  }
  std::stable_sort(singles.begin(), singles.end(),
                   [](const Single& a, const Single& b) { return a.excess < b.excess; });
  for (std::size_t i = 0; i < std::min(likely, singles.size()); ++i) {
    const Quarter one = singles[i].quarter;
    Search with_one = search;
    with_one.take(one);
    for (const Single& single : singles) {
      const Quarter two = single.quarter;
      if (two.spoke == one.spoke) continue;
      const int cost = search.cost(one) + search.cost(two);
      const double enough =
          search.excess() - best.gain * std::max(0.5, static_cast<double>(cost));
      const double gain = gain_of(search, with_one.after(two, enough), cost);
      if (gain > best.gain + kNoGain) best = {one, two, gain};
    }
  }
  return best;
}

/// The single drop that leaves least excess, when that is no more than `most`.
bool drop(Search& search, double most) {
  Quarter best;
  double least = most;
  for (const Quarter quarter : search.drops()) {
    const double excess = search.after(quarter, least);
    if (excess <= least) {
      least = excess;
      best = quarter;
    }
  }
  search.take(best);
  return best.way != 0;
}

/// Two quarters back and one elsewhere.
bool swap_two(Search& search, double most) {
  for (const Quarter one : search.drops()) {
    Search without_one = search;
    without_one.take(one);
    for (const Quarter two : without_one.drops()) {
      if (two.spoke < one.spoke || search.time_is_up()) continue;
      Search without = without_one;
      without.take(two);
      for (const Quarter more : without.allowed_quarters()) {
        if (without.cost(more) <= 1 && without.after(more, most) <= most) {
          search = without;
          search.take(more);
          return true;
        }
      }
    }
  }
  return false;
}

void bring_inside(Search& search) {
  constexpr int kMostSteps = 200;
  constexpr std::size_t kFew = 4;
  constexpr std::size_t kMany = 24;
  for (int i = 0; i < kMostSteps && search.excess() > kInside && !search.time_is_up(); ++i) {
    Step step = best_step(search, kFew);
    if (step.gain == 0) step = best_step(search, kMany);
    if (step.gain == 0) break;
    search.take(step.one);
    search.take(step.two);
  }
}

bool better(const TurnChoice& a, const TurnChoice& b) {
  if ((a.excess == 0) != (b.excess == 0)) return a.excess == 0;
  if (a.excess == 0) return a.count < b.count;
  return a.excess < b.excess;
}

void follow(Search& search) {
  bring_inside(search);
  const double most = std::max(search.excess(), kInside);
  while (drop(search, most)) {
  }
}

Search started(const StackedRows& rows, const std::vector<int>& quarters) {
  Search search(rows);
  for (std::size_t i = 0; i < quarters.size(); ++i) {
    if (quarters[i] == 0) continue;
    search.take({static_cast<int>(i), quarters[i] > 0 ? 1 : -1}, std::abs(quarters[i]));
  }
  return search;
}

/// Starts worth following: least excess first.
std::vector<Search> starts(const StackedRows& rows, Random& random) {
  std::vector<Search> all;
  for (const auto& quarters : lattice_turns(rows.problem(), random)) {
    all.push_back(started(rows, quarters));
  }
  std::stable_sort(all.begin(), all.end(), [](const Search& a, const Search& b) {
    return std::make_tuple(a.excess(), a.choice().count) <
           std::make_tuple(b.excess(), b.choice().count);
  });
  return all;
}

TurnChoice with_fewer(const StackedRows& rows, const TurnChoice& choice) {
  Search search = started(rows, choice.quarters);
  TurnChoice best = choice;
  const double most = std::max(search.excess(), kInside);
  while (swap_two(search, most) || drop(search, most)) {
    if (search.permitted()) best = search.choice();
  }
  return best;
}

}  // namespace

std::vector<TurnChoice> turn_choices(const TurnProblem& problem, std::size_t count) {
  constexpr std::size_t kFollowed = 7;
  const StackedRows rows(problem);
  const Search still(rows);
  if (still.excess() <= kInside) return {still.choice()};
  Random random(7);
  std::vector<Search> all = starts(rows, random);
  if (all.size() > kFollowed) all.erase(all.begin() + kFollowed, all.end());
  all.push_back(still);
  for (Search& search : all) follow(search);
  all.push_back(still);
  std::erase_if(all, [](const Search& search) { return !search.permitted(); });
  std::vector<TurnChoice> choices;
  for (const Search& search : all) choices.push_back(search.choice());
  std::stable_sort(choices.begin(), choices.end(), better);
  choices.erase(std::unique(choices.begin(), choices.end(),
                            [](const TurnChoice& a, const TurnChoice& b) {
                              return a.quarters == b.quarters;
                            }),
                choices.end());
  if (choices.size() > count) choices.resize(count);
  for (TurnChoice& choice : choices) choice = with_fewer(rows, choice);
  std::stable_sort(choices.begin(), choices.end(), better);
  return choices;
}

TurnChoice fewest_turns(const TurnProblem& problem) { return turn_choices(problem, 2).front(); }

namespace {

template <class Number>
std::vector<double> reached(const StackedRows& rows, const std::vector<Number>& quarters) {
  std::vector<double> all = rows.now();
  for (std::size_t j = 0; j < quarters.size(); ++j) {
    rows.add(all, static_cast<int>(j), static_cast<double>(quarters[j]));
  }
  return all;
}

}  // namespace

double excess_of(const TurnProblem& problem, const std::vector<double>& quarters) {
  const StackedRows rows(problem);
  return rows.excess(reached(rows, quarters));
}

bool permitted(const TurnProblem& problem, const std::vector<int>& quarters) {
  const StackedRows rows(problem);
  return rows.permitted(reached(rows, quarters));
}

}  // namespace rollwright::mech

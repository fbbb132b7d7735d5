#include "mech/truing_turns.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <tuple>

#include "base/index.hpp"
#include "mech/wheel_solver.hpp"

namespace rollwright::mech {
namespace {

constexpr double kInside = 1e-9;  // excess that counts as none
constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kHair = 1e-9;

double outside(double value, double least, double most) {
  return value > most ? value - most : value < least ? least - value : 0;
}

/// Excess of one band with rows `at_row(i)`.
template <class AtRow>
double band_excess(const TurnBand& band, AtRow at_row) {
  double middle = 0;
  if (band.floating) {
    double low = kNever;
    double high = -kNever;
    for (std::size_t i = 0; i < band.now.size(); ++i) {
      const double value = at_row(i);
      low = std::min(low, value);
      high = std::max(high, value);
    }
    if (high - low <= band.most - band.least) return 0;
    middle = (low + high) / 2;
  }
  double sum = 0;
  for (std::size_t i = 0; i < band.now.size(); ++i) {
    const double value = at_row(i) - middle;
    if (band.hard && value > std::max(band.most, band.now[i]) + kHair) return kNever;
    const double over = outside(value, band.least, band.most);
    sum += over * over;
  }
  return sum / (band.scale * band.scale);
}

/// Up to three quarters changed at once.
struct Step {
  int spoke[3] = {0, 0, 0};
  int way[3] = {0, 0, 0};
};

/// Quarters chosen so far with the rows they lead to.
class Search {
 public:
  explicit Search(const TurnProblem& problem)
      : problem_(problem), quarters_(at(problem.spokes)) {
    for (const TurnBand& band : problem.bands) rows_.push_back(band.now);
    excess_ = after({});
  }

  [[nodiscard]] bool allowed(int spoke, int way) const {
    return std::abs(quarters_[at(spoke)] + way) <= problem_.most_quarters;
  }

  [[nodiscard]] double after(const Step& step) const {
    double sum = 0;
    for (std::size_t b = 0; b < rows_.size(); ++b) {
      const TurnBand& band = problem_.bands[b];
      const double* row = rows_[b].data();
      const double* one = band.change[at(step.spoke[0])].data();
      const double* two = band.change[at(step.spoke[1])].data();
      const double* three = band.change[at(step.spoke[2])].data();
      const double w1 = step.way[0], w2 = step.way[1], w3 = step.way[2];
      sum += band_excess(band, [&](std::size_t i) {
        return row[i] + w1 * one[i] + w2 * two[i] + w3 * three[i];
      });
      if (sum == kNever) break;
    }
    return sum;
  }

  void take(const Step& step) {
    for (std::size_t b = 0; b < rows_.size(); ++b) {
      for (std::size_t k = 0; k < 3; ++k) {
        if (step.way[k] == 0) continue;
        const auto& change = problem_.bands[b].change[at(step.spoke[k])];
        for (std::size_t i = 0; i < change.size(); ++i) rows_[b][i] += step.way[k] * change[i];
      }
    }
    for (std::size_t k = 0; k < 3; ++k) quarters_[at(step.spoke[k])] += step.way[k];
    excess_ = after({});
  }

  [[nodiscard]] int spokes() const { return problem_.spokes; }
  [[nodiscard]] int quarters(int spoke) const { return quarters_[at(spoke)]; }
  [[nodiscard]] double excess() const { return excess_; }
  [[nodiscard]] TurnChoice choice() const {
    TurnChoice chosen{.quarters = quarters_, .count = 0, .excess = excess_ < kInside ? 0 : excess_};
    for (const int q : quarters_) chosen.count += std::abs(q);
    return chosen;
  }

 private:
  const TurnProblem& problem_;
  std::vector<int> quarters_;
  std::vector<std::vector<double>> rows_;
  double excess_ = 0;
};

struct Found {
  Step step;
  double excess = kNever;
  double gain = 0;  // of excess for each quarter more
};

void weigh(const Search& search, const Step& step, Found& best) {
  int more = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    if (step.way[k] == 0) continue;
    const int before = search.quarters(step.spoke[k]);
    more += std::abs(before + step.way[k]) - std::abs(before);
  }
  const double excess = search.after(step);
  if (!(excess < search.excess() - kHair)) return;
  // Undoing quarters is worth having for itself.
  const double gain = (search.excess() - excess) / std::max(0.5, static_cast<double>(more));
  if (gain > best.gain) best = {step, excess, gain};
}

/// The best single quarter, or the best pair of which one is among the `likely` singles.
Found best_step(const Search& search, std::size_t likely) {
  struct Single {
    double excess;
    int spoke;
    int way;
  };
  std::vector<Single> singles;
  Found best;
  for (int spoke = 0; spoke < search.spokes(); ++spoke) {
    for (const int way : {1, -1}) {
      if (!search.allowed(spoke, way)) continue;
      const Step step{{spoke, 0, 0}, {way, 0, 0}};
      weigh(search, step, best);
      singles.push_back({search.after(step), spoke, way});
    }
  }
  std::sort(singles.begin(), singles.end(), [](const Single& a, const Single& b) {
    return std::tie(a.excess, a.spoke, a.way) < std::tie(b.excess, b.spoke, b.way);
  });
  for (std::size_t i = 0; i < std::min(likely, singles.size()); ++i) {
    for (std::size_t j = 0; j < singles.size(); ++j) {
      const Single& a = singles[i];
      const Single& b = singles[j];
      if (a.spoke == b.spoke) continue;
      weigh(search, {{a.spoke, b.spoke, 0}, {a.way, b.way, 0}}, best);
    }
  }
  return best;
}

/// One quarter less somewhere, or two less and one more elsewhere, with no more excess.
bool drop_one(Search& search) {
  const double most = std::max(search.excess(), kInside);
  std::vector<Step> drops;
  for (int spoke = 0; spoke < search.spokes(); ++spoke) {
    const int q = search.quarters(spoke);
    if (q == 0) continue;
    const Step step{{spoke, 0, 0}, {q > 0 ? -1 : 1, 0, 0}};
    if (search.after(step) <= most) {
      search.take(step);
      return true;
    }
    drops.push_back(step);
  }
  for (std::size_t a = 0; a < drops.size(); ++a) {
    for (std::size_t b = a; b < drops.size(); ++b) {
      if (a == b && std::abs(search.quarters(drops[a].spoke[0])) < 2) continue;
      for (int spoke = 0; spoke < search.spokes(); ++spoke) {
        for (const int way : {1, -1}) {
          if (!search.allowed(spoke, way)) continue;
          const Step step{{drops[a].spoke[0], drops[b].spoke[0], spoke},
                          {drops[a].way[0], drops[b].way[0], way}};
          if (search.after(step) > most) continue;
          search.take(step);
          return true;
        }
      }
    }
  }
  return false;
}

TurnChoice improved(Search search) {
  constexpr int kMostSteps = 300;
  constexpr std::size_t kLikely = 6;
  for (int i = 0; i < kMostSteps && search.excess() > kInside; ++i) {
    Found found = best_step(search, kLikely);
    if (found.gain == 0) found = best_step(search, 4 * kLikely);
    if (found.gain == 0) break;
    search.take(found.step);
  }
  while (drop_one(search)) {
  }
  return search.choice();
}

Search rounded_start(const TurnProblem& problem) {
  Search search(problem);
  const auto smooth = smooth_turns(problem);
  for (int spoke = 0; spoke < problem.spokes; ++spoke) {
    const int most = problem.most_quarters;
    const int wanted = std::clamp(static_cast<int>(std::lround(smooth[at(spoke)])), -most, most);
    if (wanted != 0) search.take({{spoke, 0, 0}, {wanted, 0, 0}});
  }
  return search;
}

bool better(const TurnChoice& a, const TurnChoice& b) {
  if ((a.excess == 0) != (b.excess == 0)) return a.excess == 0;
  if (a.excess == 0) return a.count < b.count;
  return a.excess < b.excess;
}

}  // namespace

TurnChoice fewest_turns(const TurnProblem& problem) {
  const Search still(problem);
  if (still.excess() <= kInside) return still.choice();
  TurnChoice best = improved(still);
  const Search rounded = rounded_start(problem);
  if (rounded.excess() == kNever) return best;
  const TurnChoice other = improved(rounded);
  return better(other, best) ? other : best;
}

double excess_of(const TurnProblem& problem, const std::vector<double>& quarters) {
  double sum = 0;
  for (const TurnBand& band : problem.bands) {
    std::vector<double> rows = band.now;
    for (std::size_t j = 0; j < quarters.size(); ++j) {
      for (std::size_t i = 0; i < rows.size(); ++i) rows[i] += quarters[j] * band.change[j][i];
    }
    sum += band_excess(band, [&](std::size_t i) { return rows[i]; });
  }
  return sum;
}

}  // namespace rollwright::mech

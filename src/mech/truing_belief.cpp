#include "mech/truing_belief.hpp"

#include <cmath>
#include <cstdlib>

#include "base/index.hpp"
#include "base/result.hpp"

namespace rollwright::mech {
namespace {

constexpr double kSpokeOff = 0.4;  // turns
constexpr double kSideOff = 1.0;   // turns
constexpr double kLateralBend = 0.4;  // mm at two waves
constexpr double kRadialBend = 0.25;
constexpr double kNarrowDents = 0.02;  // mm, run-out that no bend of the table explains

double bend_off(const RimBend& bend) {
  const double size = bend.direction == RimDirection::kLateral ? kLateralBend : kRadialBend;
  return size * std::pow(2.0 / bend.waves, 1.5);
}

/// Readings as rows of causes with their weights.
struct ReadingRows {
  std::vector<std::vector<double>> causes;
  std::vector<double> left_over;  // reading less what the mean foretells
  std::vector<double> weight;     // 1 / variance
};

/// Rows from `first` on share a free zero: what is left of a row counts less their mean.
void free_zero(ReadingRows& rows, std::size_t first) {
  const double count = static_cast<double>(rows.causes.size() - first);
  if (count == 0) return;
  std::vector<double> mean(rows.causes[first].size());
  double left = 0;
  for (std::size_t i = first; i < rows.causes.size(); ++i) {
    for (std::size_t c = 0; c < mean.size(); ++c) mean[c] += rows.causes[i][c] / count;
    left += rows.left_over[i] / count;
  }
  for (std::size_t i = first; i < rows.causes.size(); ++i) {
    for (std::size_t c = 0; c < mean.size(); ++c) rows.causes[i][c] -= mean[c];
    rows.left_over[i] -= left;
  }
}

/// Before any reading. A side's spokes are off by an error of their own and by a common one.
std::vector<double> first_information(const TruingInfluence& influence,
                                      const std::vector<WheelSpoke>& spokes) {
  const std::size_t n = at(influence.causes());
  std::vector<double> information(n * n);
  const double own = 1 / (kSpokeOff * kSpokeOff);
  for (std::size_t i = 0; i < spokes.size(); ++i) {
    double count = 0;
    for (const WheelSpoke& spoke : spokes) count += spoke.end == spokes[i].end ? 1 : 0;
    const double common = own / (kSpokeOff * kSpokeOff / (kSideOff * kSideOff) + count);
    for (std::size_t j = 0; j < spokes.size(); ++j) {
      if (spokes[i].end == spokes[j].end) information[i * n + j] = -common;
    }
    information[i * n + i] += own;
  }
  for (std::size_t b = 0; b < influence.bends().size(); ++b) {
    const std::size_t i = spokes.size() + b;
    information[i * n + i] = 1 / std::pow(bend_off(influence.bends()[b]), 2);
  }
  return information;
}

PositiveSolver factor_of(std::size_t size, const std::vector<double>& information) {
  auto factor = PositiveSolver::of(static_cast<int>(size), information);
  ROLLWRIGHT_PROMISE(factor);
  return std::move(*factor);
}

}  // namespace

double turn_error(int quarters) { return 0.02 + 0.05 * std::abs(quarters) / 4.0; }

TruingBelief::TruingBelief(const TruingInfluence& influence, const std::vector<WheelSpoke>& spokes)
    : influence_(&influence),
      mean_(at(influence.causes())),
      information_(first_information(influence, spokes)),
      factor_(factor_of(mean_.size(), information_)) {
  for (const WheelSpoke& spoke : spokes) nominal_n_.push_back(spoke.tension.in(newton));
}

void TruingBelief::read(const TruingPass& pass, const TruingReadings& gauges) {
  ReadingRows rows;
  const auto add = [&](std::vector<double> causes, double reading, double sigma) {
    rows.left_over.push_back(reading - dot(causes.data(), mean_.data(), mean_.size()));
    rows.weight.push_back(1 / (sigma * sigma));
    rows.causes.push_back(std::move(causes));
  };
  const double gauge = std::hypot(gauges.gauge.in(mm), kNarrowDents);
  for (const auto direction : {RimDirection::kLateral, RimDirection::kRadial}) {
    const std::size_t first = rows.causes.size();
    for (const RunOutReading& place : pass.run_out) {
      const auto& seen = direction == RimDirection::kLateral ? place.lateral : place.radial;
      if (seen) add(influence_->rim_row(direction, place.at), seen->in(mm), gauge);
    }
    free_zero(rows, first);
  }
  if (pass.dish) add(influence_->dish_row(), pass.dish->in(mm), gauges.dish_gauge.in(mm));
  for (const TensionReading& seen : pass.tensions) {
    const double* row = influence_->tension_row(seen.spoke);
    add({row, row + mean_.size()}, seen.tension.in(newton) - nominal_n_[at(seen.spoke)],
        seen.uncertainty.in(newton));
  }

  learn(rows.causes, rows.left_over, rows.weight);
}

void TruingBelief::learn(const std::vector<std::vector<double>>& causes,
                         const std::vector<double>& left_over, const std::vector<double>& weight) {
  const std::size_t n = mean_.size();
  std::vector<double> pull(n);
  double misfit = 0;
  for (std::size_t r = 0; r < causes.size(); ++r) {
    const double weighed = weight[r] * left_over[r];
    misfit += weighed * left_over[r];
    for (std::size_t i = 0; i < n; ++i) pull[i] += weighed * causes[r][i];
  }
  add_squares(causes, weight);
  log_evidence_ += 0.5 * factor_.log_determinant();
  factor_ = factor_of(n, information_);
  const auto shift = factor_.solve(pull);
  for (std::size_t i = 0; i < n; ++i) mean_[i] += shift[i];
  log_evidence_ -=
      0.5 * (misfit - dot(pull.data(), shift.data(), n) + factor_.log_determinant());
}

/// information += sum of weight row rowᵀ, four rows at a time to spare memory.
void TruingBelief::add_squares(const std::vector<std::vector<double>>& causes,
                               const std::vector<double>& weight) {
  const std::size_t n = mean_.size();
  const std::vector<double> none(n);
  for (std::size_t r = 0; r < causes.size(); r += 4) {
    const double* row[4];
    double own[4];
    for (std::size_t k = 0; k < 4; ++k) {
      const bool there = r + k < causes.size();
      row[k] = there ? causes[r + k].data() : none.data();
      own[k] = there ? weight[r + k] : 0;
    }
    for (std::size_t i = 0; i < n; ++i) {
      const double a = own[0] * row[0][i], b = own[1] * row[1][i];
      const double c = own[2] * row[2][i], d = own[3] * row[3][i];
      double* line = &information_[i * n];
      for (std::size_t j = 0; j <= i; ++j) {
        line[j] += (a * row[0][j] + b * row[1][j]) + (c * row[2][j] + d * row[3][j]);
      }
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) information_[i * n + j] = information_[j * n + i];
  }
}

void TruingBelief::turn(const std::vector<SpokeTurn>& turns) {
  for (const SpokeTurn& turned : turns) {
    const std::size_t i = at(turned.spoke);
    mean_[i] += turned.quarters / 4.0;
    // One cause grows less sure: the information loses the part that told it (Sherman, Morrison).
    const std::size_t n = mean_.size();
    const std::vector<double> row(&information_[i * n], &information_[i * n] + n);
    const double loss = 1 / (std::pow(turn_error(turned.quarters), -2) + row[i]);
    for (std::size_t a = 0; a < n; ++a) {
      for (std::size_t b = 0; b < n; ++b) information_[a * n + b] -= loss * row[a] * row[b];
    }
  }
  if (!turns.empty()) factor_ = factor_of(mean_.size(), information_);
}

std::vector<double> TruingBelief::draw(std::vector<double> normals) const {
  std::vector<double> causes = factor_.half_solve(std::move(normals));
  for (std::size_t i = 0; i < causes.size(); ++i) causes[i] += mean_[i];
  return causes;
}

}  // namespace rollwright::mech

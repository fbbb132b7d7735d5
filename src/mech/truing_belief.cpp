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
struct Rows {
  std::vector<std::vector<double>> causes;
  std::vector<double> left_over;  // reading less what the mean foretells
  std::vector<double> weight;     // 1 / variance
};

/// Rows from `first` on share a free zero: what is left of a row counts less their mean.
void free_zero(Rows& rows, std::size_t first) {
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

}  // namespace

double turn_error(int quarters) { return 0.03 + 0.1 * std::abs(quarters) / 4.0; }

TruingBelief::TruingBelief(const TruingInfluence& influence, const std::vector<WheelSpoke>& spokes)
    : influence_(&influence), mean_(at(influence.causes())) {
  const std::size_t n = mean_.size();
  covariance_.resize(n * n);
  for (std::size_t i = 0; i < spokes.size(); ++i) {
    nominal_n_.push_back(spokes[i].tension.in(newton));
    for (std::size_t j = 0; j < spokes.size(); ++j) {
      if (spokes[i].end == spokes[j].end) covariance_[i * n + j] = kSideOff * kSideOff;
    }
    covariance_[i * n + i] += kSpokeOff * kSpokeOff;
  }
  for (std::size_t b = 0; b < influence.bends().size(); ++b) {
    const std::size_t i = spokes.size() + b;
    covariance_[i * n + i] = std::pow(bend_off(influence.bends()[b]), 2);
  }
}

void TruingBelief::read(const TruingPass& pass, const TruingReadings& gauges) {
  Rows rows;
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

  const std::size_t n = mean_.size();
  const auto before = PositiveSolver::of(static_cast<int>(n), covariance_);
  ROLLWRIGHT_PROMISE(before);
  std::vector<double> information = before->inverse();
  std::vector<double> pull(n);
  double misfit = 0;
  for (std::size_t r = 0; r < rows.causes.size(); ++r) {
    const double* row = rows.causes[r].data();
    misfit += rows.weight[r] * rows.left_over[r] * rows.left_over[r];
    for (std::size_t i = 0; i < n; ++i) {
      const double weighed = rows.weight[r] * row[i];
      pull[i] += weighed * rows.left_over[r];
      double* line = &information[i * n];
      for (std::size_t j = 0; j <= i; ++j) line[j] += weighed * row[j];
    }
  }
  information_ = PositiveSolver::of(static_cast<int>(n), std::move(information));
  ROLLWRIGHT_PROMISE(information_);
  covariance_ = information_->inverse();
  const auto shift = information_->solve(pull);
  for (std::size_t i = 0; i < n; ++i) mean_[i] += shift[i];
  // before is the factor of a covariance, so its log determinant enters with the other sign.
  log_evidence_ -= 0.5 * (misfit - dot(pull.data(), shift.data(), n) +
                          information_->log_determinant() + before->log_determinant());
}

void TruingBelief::turn(const std::vector<SpokeTurn>& turns) {
  for (const SpokeTurn& turned : turns) {
    const std::size_t i = at(turned.spoke);
    mean_[i] += turned.quarters / 4.0;
    covariance_[i * mean_.size() + i] += std::pow(turn_error(turned.quarters), 2);
  }
}

double TruingBelief::uncertainty(const double* row) const {
  const std::size_t n = mean_.size();
  double sum = 0;
  for (std::size_t i = 0; i < n; ++i) sum += row[i] * dot(&covariance_[i * n], row, n);
  return std::sqrt(std::max(0.0, sum));
}

std::vector<double> TruingBelief::draw(std::vector<double> normals) const {
  ROLLWRIGHT_PROMISE(information_);
  std::vector<double> causes = information_->half_solve(std::move(normals));
  for (std::size_t i = 0; i < causes.size(); ++i) causes[i] += mean_[i];
  return causes;
}

}  // namespace rollwright::mech

#include "mech/truing_outlook.hpp"

#include <algorithm>
#include <cmath>

#include "base/index.hpp"

namespace rollwright::mech {
namespace {

constexpr double kUpper95 = 1.645;

double run_out(const std::vector<double>& rows) {
  const auto [least, most] = std::minmax_element(rows.begin(), rows.end());
  return *most - *least;
}

struct SideMeans {
  double left = 0;
  double right = 0;
  [[nodiscard]] double of(WheelEnd end) const { return end == WheelEnd::kLeft ? left : right; }
};
SideMeans side_means(const std::vector<WheelSpoke>& spokes, const std::vector<double>& tension) {
  double sum[2] = {0, 0};
  double count[2] = {0, 0};
  for (std::size_t i = 0; i < spokes.size(); ++i) {
    const std::size_t side = spokes[i].end == WheelEnd::kLeft ? 0 : 1;
    sum[side] += tension[i];
    count[side] += 1;
  }
  return {sum[0] / std::max(1.0, count[0]), sum[1] / std::max(1.0, count[1])};
}

double spread_of(const std::vector<WheelSpoke>& spokes, const std::vector<double>& tension) {
  const SideMeans means = side_means(spokes, tension);
  double most = 0;
  for (std::size_t i = 0; i < spokes.size(); ++i) {
    const double mean = means.of(spokes[i].end);
    most = std::max(most, std::fabs(tension[i] - mean) / std::max(1.0, mean));
  }
  return most;
}

double aim(double limit, const Caution& caution, double sigma) {
  return std::max(caution.least_aim * limit, limit - caution.margin * sigma);
}

TurnBand run_out_band(const std::vector<double>& now, const std::vector<std::vector<double>>& rows,
                      int spokes, double half) {
  TurnBand band{.now = now, .least = -half, .most = half, .floating = true, .scale = half};
  band.change.assign(at(spokes), std::vector<double>(now.size()));
  for (std::size_t i = 0; i < now.size(); ++i) {
    for (std::size_t j = 0; j < band.change.size(); ++j) band.change[j][i] = rows[i][j] / 4;
  }
  return band;
}

/// One quarter of each nipple as changes of all tensions.
std::vector<std::vector<double>> tension_change(const TruingInfluence& influence) {
  const std::size_t n = at(influence.spokes());
  std::vector<std::vector<double>> change(n, std::vector<double>(n));
  for (std::size_t i = 0; i < n; ++i) {
    const double* row = influence.tension_row(static_cast<int>(i));
    for (std::size_t j = 0; j < n; ++j) change[j][i] = row[j] / 4;
  }
  return change;
}

/// Standard uncertainty of the distance from the mean of all rows, mean over the rows.
double shape_uncertainty(const TruingBelief& belief,
                         const std::vector<std::vector<double>>& rows) {
  const double count = static_cast<double>(rows.size());
  std::vector<double> mean(rows.front().size());
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < mean.size(); ++c) mean[c] += row[c] / count;
  }
  double sum = 0;
  for (std::vector<double> row : rows) {
    for (std::size_t c = 0; c < mean.size(); ++c) row[c] -= mean[c];
    sum += belief.uncertainty(row.data());
  }
  return sum / count;
}

struct SideBands {
  TurnBand spread;
  TurnBand mean;
};
SideBands side_bands(const TruingOutlook& outlook, const std::vector<double>& tension,
                     WheelEnd end, const TruingLimits& limits, const Caution& caution) {
  const auto& spokes = outlook.spokes();
  const auto change = tension_change(outlook.belief().influence());
  std::vector<std::size_t> own;
  double sigma = 0;
  for (std::size_t i = 0; i < spokes.size(); ++i) {
    if (spokes[i].end != end) continue;
    own.push_back(i);
    sigma += outlook.tension_uncertainty_n(static_cast<int>(i));
  }
  const double count = static_cast<double>(own.size());
  const double mean = side_means(spokes, tension).of(end);
  const double target = (end == WheelEnd::kLeft ? limits.left : limits.right).in(newton);
  const double spread = aim(limits.spread * std::max(mean, 1.0), caution, sigma / count);
  const double within = limits.mean_within * target;
  SideBands bands{.spread = {.least = -spread, .most = spread, .scale = spread},
                  .mean = {.now = {mean}, .least = target - within, .most = target + within,
                           .scale = within}};
  for (const std::size_t i : own) bands.spread.now.push_back(tension[i] - mean);
  for (const auto& column : change) {
    double shift = 0;
    for (const std::size_t i : own) shift += column[i] / count;
    bands.mean.change.push_back({shift});
    std::vector<double> rows;
    for (const std::size_t i : own) rows.push_back(column[i] - shift);
    bands.spread.change.push_back(std::move(rows));
  }
  return bands;
}

}  // namespace

TruingOutlook::TruingOutlook(const TruingBelief& belief, const std::vector<WheelSpoke>& spokes)
    : belief_(&belief), spokes_(&spokes) {
  const std::size_t n = spokes.size();
  const TruingInfluence& influence = belief.influence();
  for (std::size_t i = 0; i < n; ++i) {
    const Angle here = spokes[i].at;
    const Angle next = i + 1 < n ? spokes[i + 1].at : spokes[0].at + 360 * degree;
    for (const Angle where : {here, (here + next) / 2}) {
      places_.push_back(where);
      lateral_.push_back(influence.rim_row(RimDirection::kLateral, where));
      radial_.push_back(influence.rim_row(RimDirection::kRadial, where));
    }
    tension_sigma_.push_back(belief.uncertainty(influence.tension_row(static_cast<int>(i))));
  }
  lateral_sigma_ = shape_uncertainty(belief, lateral_);
  radial_sigma_ = shape_uncertainty(belief, radial_);
}

TruingOutlook::View TruingOutlook::view(const std::vector<double>& causes) const {
  View view;
  for (std::size_t i = 0; i < places_.size(); ++i) {
    view.lateral_mm.push_back(dot(lateral_[i].data(), causes.data(), causes.size()));
    view.radial_mm.push_back(dot(radial_[i].data(), causes.data(), causes.size()));
  }
  const TruingInfluence& influence = belief_->influence();
  for (std::size_t i = 0; i < spokes_->size(); ++i) {
    const double* row = influence.tension_row(static_cast<int>(i));
    view.tension_n.push_back((*spokes_)[i].tension.in(newton) +
                             dot(row, causes.data(), causes.size()));
  }
  view.dish_mm = dot(influence.dish_row().data(), causes.data(), causes.size());
  return view;
}

TruingOutlook::View TruingOutlook::of_turn(int spoke) const {
  const std::size_t cause = at(spoke);
  const TruingInfluence& influence = belief_->influence();
  View view{.lateral_mm = {}, .radial_mm = {}, .tension_n = {},
            .dish_mm = influence.dish_row()[cause]};
  for (std::size_t i = 0; i < places_.size(); ++i) {
    view.lateral_mm.push_back(lateral_[i][cause]);
    view.radial_mm.push_back(radial_[i][cause]);
  }
  for (int i = 0; i < influence.spokes(); ++i) {
    view.tension_n.push_back(influence.tension_row(i)[cause]);
  }
  return view;
}

TurnProblem TruingOutlook::problem(const TruingLimits& limits, bool dish_known,
                                   const Caution& caution) const {
  const View now = view(belief_->mean());
  const TruingInfluence& influence = belief_->influence();
  const int n = influence.spokes();
  TurnProblem problem{.spokes = n, .most_quarters = limits.most_quarters, .bands = {}};
  const double lateral = aim(limits.lateral.in(mm) / 2, caution, lateral_sigma_);
  const double radial = aim(limits.radial.in(mm) / 2, caution, radial_sigma_);
  problem.bands.push_back(run_out_band(now.lateral_mm, lateral_, n, lateral));
  problem.bands.push_back(run_out_band(now.radial_mm, radial_, n, radial));
  // Without a reading of the dish, turns may move it by half the limit and no more.
  const double dish = limits.dish.in(mm) * (dish_known ? 0.8 : 0.5);
  TurnBand middle{.now = {dish_known ? now.dish_mm : 0}, .least = -dish, .most = dish,
                  .scale = dish};
  for (int j = 0; j < n; ++j) middle.change.push_back({influence.dish_row()[at(j)] / 4});
  problem.bands.push_back(std::move(middle));
  for (const WheelEnd end : {WheelEnd::kLeft, WheelEnd::kRight}) {
    SideBands side = side_bands(*this, now.tension_n, end, limits, caution);
    problem.bands.push_back(std::move(side.spread));
    problem.bands.push_back(std::move(side.mean));
  }
  TurnBand cap{.now = now.tension_n, .change = tension_change(influence), .least = -1e9,
               .most = limits.highest.in(newton), .hard = true, .scale = 50};
  for (std::size_t i = 0; i < cap.now.size(); ++i) cap.now[i] += kUpper95 * tension_sigma_[i];
  problem.bands.push_back(std::move(cap));
  return problem;
}

namespace {

std::vector<RimPlace> rim_of(const TruingOutlook& outlook, const TruingOutlook::View& view) {
  const double lateral = mean_of(view.lateral_mm);
  const double radial = mean_of(view.radial_mm);
  std::vector<RimPlace> rim;
  for (std::size_t i = 0; i < view.lateral_mm.size(); ++i) {
    rim.push_back({outlook.place(i), (view.lateral_mm[i] - lateral) * mm,
                   (view.radial_mm[i] - radial) * mm});
  }
  return rim;
}

}  // namespace

TruingState state_of(const TruingOutlook& outlook, const std::vector<double>& causes) {
  const auto view = outlook.view(causes);
  const SideMeans means = side_means(outlook.spokes(), view.tension_n);
  TruingState state{.lateral = run_out(view.lateral_mm) * mm,
                    .radial = run_out(view.radial_mm) * mm,
                    .dish = view.dish_mm * mm,
                    .left = means.left * newton,
                    .right = means.right * newton,
                    .spread = spread_of(outlook.spokes(), view.tension_n),
                    .rim = rim_of(outlook, view)};
  for (std::size_t i = 0; i < view.tension_n.size(); ++i) {
    state.tensions.push_back(view.tension_n[i] * newton);
    state.uncertainties.push_back(outlook.tension_uncertainty_n(static_cast<int>(i)) * newton);
  }
  return state;
}

}  // namespace rollwright::mech

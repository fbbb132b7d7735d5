#include "mech/truing_odds.hpp"

#include <algorithm>
#include <cmath>

#include "base/index.hpp"
#include "base/random.hpp"

namespace rollwright::mech {
namespace {

constexpr double kSoft = 0.05;  // of a limit

std::vector<double> row_of(const TruingOutlook::View& view) {
  std::vector<double> row = view.lateral_mm;
  row.insert(row.end(), view.radial_mm.begin(), view.radial_mm.end());
  row.insert(row.end(), view.tension_n.begin(), view.tension_n.end());
  row.push_back(view.dish_mm);
  return row;
}

double run_out_in(const double* rows, std::size_t count) {
  const Range range = range_of(rows, count);
  return range.high - range.low;
}

/// How much hands err, in turns, when they mean to make so many quarters.
double hand_error(int quarters) { return quarters == 0 ? 0 : turn_error(quarters); }

}  // namespace

TruingOdds::TruingOdds(const std::vector<WeighedOutlook>& outlooks, const TruingLimits& limits,
                       bool dish_known, const Sampling& sampling)
    : limits_(limits), dish_known_(dish_known) {
  for (const WheelSpoke& spoke : outlooks.front().outlook.spokes()) ends_.push_back(spoke.end);
  places_ = 2 * ends_.size();
  for (const WeighedOutlook& each : outlooks) {
    columns_.emplace_back();
    for (int spoke = 0; spoke < static_cast<int>(ends_.size()); ++spoke) {
      columns_.back().push_back(row_of(each.outlook.of_turn(spoke)));
    }
  }
  Random random(sampling.seed);
  std::size_t member = 0;
  double passed = outlooks.front().probability;
  for (int i = 0; i < sampling.draws; ++i) {
    while (member + 1 < outlooks.size() && passed < (i + 0.5) / sampling.draws) {
      passed += outlooks[++member].probability;
    }
    const TruingOutlook& outlook = outlooks[member].outlook;
    std::vector<double> normals(outlook.belief().mean().size());
    for (double& normal : normals) normal = random.normal();
    Draw draw{member, row_of(outlook.view(outlook.belief().draw(std::move(normals)))), {}};
    for (std::size_t k = 0; k < ends_.size(); ++k) draw.hand.push_back(random.normal());
    draws_.push_back(std::move(draw));
  }
}

double TruingOdds::turns_in(const Draw& draw, const Change& change) const {
  return (change.to - change.from) / 4.0 +
         (hand_error(change.to) - hand_error(change.from)) * draw.hand[at(change.spoke)];
}

void TruingOdds::make(Draw& draw, const Change& change) const {
  const Rows& column = columns_[draw.member][at(change.spoke)];
  const double turns = turns_in(draw, change);
  for (std::size_t i = 0; i < draw.rows.size(); ++i) draw.rows[i] += turns * column[i];
}

double TruingOdds::use_of_run_out(const Rows& rows) const {
  const double lateral = run_out_in(rows.data(), places_) / limits_.lateral.in(mm);
  const double radial = run_out_in(rows.data() + places_, places_) / limits_.radial.in(mm);
  const double dish = dish_known_ ? std::fabs(rows.back()) / limits_.dish.in(mm) : 0;
  return std::max({lateral, radial, dish});
}

double TruingOdds::use_of_tension(const Rows& rows) const {
  const double* tension = rows.data() + 2 * places_;
  double use = 0;
  for (const WheelEnd end : {WheelEnd::kLeft, WheelEnd::kRight}) {
    double sum = 0, count = 0, least = 1e9, most = 0;
    for (std::size_t i = 0; i < ends_.size(); ++i) {
      if (ends_[i] != end) continue;
      sum += tension[i];
      count += 1;
      least = std::min(least, tension[i]);
      most = std::max(most, tension[i]);
    }
    const double mean = sum / std::max(1.0, count);
    const double target = (end == WheelEnd::kLeft ? limits_.left : limits_.right).in(newton);
    const double furthest = std::max(most - mean, mean - least) / std::max(1.0, mean);
    use = std::max({use, std::fabs(mean / target - 1) / limits_.mean_within,
                    furthest / limits_.spread, most / limits_.highest.in(newton)});
  }
  return use;
}

std::vector<TruingOdds::Draw> TruingOdds::turned(const std::vector<int>& quarters) const {
  std::vector<Draw> draws = draws_;
  for (Draw& draw : draws) {
    for (std::size_t k = 0; k < quarters.size(); ++k) {
      if (quarters[k] != 0) make(draw, {static_cast<int>(k), 0, quarters[k]});
    }
  }
  return draws;
}

Odds TruingOdds::after(const std::vector<int>& quarters) const {
  Odds odds;
  const double share = 1 / static_cast<double>(draws_.size());
  for (const Draw& draw : turned(quarters)) {
    if (use_of_run_out(draw.rows) > 1) continue;
    odds.true_enough += share;
    if (use_of_tension(draw.rows) <= 1) odds.inside += share;
  }
  return odds;
}

/// Mean over the draws of how well inside each is after the change; not followed to the end when
/// `enough` is out of reach.
double TruingOdds::softly_inside(const std::vector<Draw>& draws, const Change& change,
                                 double enough) const {
  double sum = 0;
  double left = static_cast<double>(draws.size());
  enough *= left;
  Rows rows(draws.front().rows.size());
  for (const Draw& draw : draws) {
    if (sum + left < enough) break;
    left -= 1;
    const double turns = turns_in(draw, change);
    const double* column = columns_[draw.member][at(change.spoke)].data();
    for (std::size_t i = 0; i < rows.size(); ++i) rows[i] = draw.rows[i] + turns * column[i];
    const double use = std::max(use_of_run_out(rows), use_of_tension(rows));
    sum += 1 / (1 + std::exp((use - 1) / kSoft));
  }
  return sum / static_cast<double>(draws.size());
}

std::vector<int> TruingOdds::likelier(std::vector<int> quarters, const Search& search) const {
  std::vector<Draw> draws = turned(quarters);
  double now = softly_inside(draws, {0, 0, 0}, 0);
  for (int round = 0; round < search.rounds; ++round) {
    double most = 0;
    Change best{0, 0, 0};
    for (int spoke = 0; spoke < static_cast<int>(quarters.size()); ++spoke) {
      for (const int way : {1, -1}) {
        const Change change{spoke, quarters[at(spoke)], quarters[at(spoke)] + way};
        if (std::abs(change.to) > search.most_quarters) continue;
        const double cost = search.price * (std::abs(change.to) - std::abs(change.from));
        const double gain = softly_inside(draws, change, now + most + cost) - now - cost;
        if (gain <= most) continue;
        quarters[at(spoke)] = change.to;
        const bool allowed = search.permitted(quarters);
        quarters[at(spoke)] = change.from;
        if (!allowed) continue;
        most = gain;
        best = change;
      }
    }
    if (most <= 0) break;
    quarters[at(best.spoke)] = best.to;
    for (Draw& draw : draws) make(draw, best);
    now = softly_inside(draws, {0, 0, 0}, 0);
  }
  return quarters;
}

}  // namespace rollwright::mech

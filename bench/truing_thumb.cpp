#include "truing_thumb.hpp"

#include <algorithm>
#include <cmath>

#include "base/index.hpp"

namespace rollwright::bench {
namespace {

using mech::RunOutReading;
using mech::SpokeTurn;
using mech::TensionReading;
using mech::TruingPass;
using mech::WheelEnd;

double middle_mm(const TruingPass& pass, std::optional<Length> RunOutReading::*which) {
  double least = 1e9;
  double most = -1e9;
  for (const RunOutReading& place : pass.run_out) {
    least = std::min(least, (place.*which)->in(mm));
    most = std::max(most, (place.*which)->in(mm));
  }
  return (least + most) / 2;
}

}  // namespace

ThumbTruer::ThumbTruer(const mech::TruingLimits& limits,
                       const std::vector<mech::WheelSpoke>& spokes)
    : limits_(limits), spokes_(spokes) {}

void ThumbTruer::Round::mark(int spoke) {
  const int n = static_cast<int>(done.size());
  for (int i = -1; i <= 1; ++i) done[at((spoke + i + n) % n)] = true;
}

std::vector<SpokeTurn> ThumbTruer::act(const TruingPass& pass, int spots) const {
  Round round{std::vector<int>(spokes_.size()), std::vector<bool>(spokes_.size())};
  if (std::fabs(pass.dish->in(mm)) > limits_.dish.in(mm)) {
    // Draw the whole rim back: the far side a quarter tighter.
    const WheelEnd far = pass.dish->in(mm) > 0 ? WheelEnd::kRight : WheelEnd::kLeft;
    for (std::size_t i = 0; i < spokes_.size(); ++i) {
      round.quarters[i] += spokes_[i].end == far ? 1 : 0;
    }
    return turns_of(round, pass);
  }
  for (int spot = 0; spot < spots; ++spot) {
    if (!true_up(pass, round) && !even_out(pass, round)) break;
  }
  return turns_of(round, pass);
}

int ThumbTruer::nearest(Angle where, WheelEnd end) const {
  int best = 0;
  double least = 1e9;
  for (std::size_t i = 0; i < spokes_.size(); ++i) {
    if (spokes_[i].end != end) continue;
    const double apart = std::fabs(std::remainder((spokes_[i].at - where).in(degree), 360));
    if (apart < least) {
      least = apart;
      best = static_cast<int>(i);
    }
  }
  return best;
}

/// Reading over the side's target; 1 when it was not read.
double ThumbTruer::tightness(const TruingPass& pass, int spoke) const {
  const Force target = spokes_[at(spoke)].end == WheelEnd::kLeft ? limits_.left : limits_.right;
  for (const TensionReading& seen : pass.tensions) {
    if (seen.spoke == spoke) return seen.tension / target;
  }
  return 1;
}

ThumbTruer::Spot ThumbTruer::worst_spot(const TruingPass& pass, const Round& round) const {
  const double u0 = middle_mm(pass, &RunOutReading::lateral);
  const double v0 = middle_mm(pass, &RunOutReading::radial);
  Spot worst;
  for (const RunOutReading& place : pass.run_out) {
    if (round.done[at(nearest(place.at, WheelEnd::kLeft))] ||
        round.done[at(nearest(place.at, WheelEnd::kRight))]) {
      continue;
    }
    const double u = place.lateral->in(mm) - u0;
    const double v = place.radial->in(mm) - v0;
    const double u_over = std::fabs(u) / (limits_.lateral.in(mm) / 2);
    const double v_over = std::fabs(v) / (limits_.radial.in(mm) / 2);
    const bool sideways = u_over >= v_over;
    const double over = std::max(u_over, v_over);
    if (over > worst.over) worst = {&place, sideways, sideways ? u : v, over};
  }
  return worst;
}

bool ThumbTruer::true_up(const TruingPass& pass, Round& round) const {
  const Spot spot = worst_spot(pass, round);
  if (!spot.place) return false;
  const int left = nearest(spot.place->at, WheelEnd::kLeft);
  const int right = nearest(spot.place->at, WheelEnd::kRight);
  const int sign = spot.off_mm > 0 ? 1 : -1;
  const int across = sign > 0 ? right : left;
  const int here = sign > 0 ? left : right;
  if (!spot.sideways) {
    // Low (towards the axle): both looser.
    const int size = spot.over > 2 ? 2 : 1;
    round.quarters[at(left)] -= sign * size;
    round.quarters[at(right)] -= sign * size;
  } else if (spot.over > 2) {
    round.quarters[at(across)] += 1;
    round.quarters[at(here)] -= 1;
  } else if (tightness(pass, across) > tightness(pass, here)) {
    round.quarters[at(here)] -= 1;
  } else {
    round.quarters[at(across)] += 1;
  }
  round.mark(left);
  round.mark(right);
  return true;
}

bool ThumbTruer::even_out(const TruingPass& pass, Round& round) const {
  const auto side = [&](int spoke) { return static_cast<std::size_t>(spokes_[at(spoke)].end); };
  double sum[2] = {0, 0};
  double count[2] = {0, 0};
  for (const TensionReading& seen : pass.tensions) {
    sum[side(seen.spoke)] += seen.tension.in(newton);
    count[side(seen.spoke)] += 1;
  }
  int worst = -1;
  double most = limits_.spread;
  int sign = 0;
  for (const TensionReading& seen : pass.tensions) {
    const std::size_t own = side(seen.spoke);
    const double off = seen.tension.in(newton) / (sum[own] / count[own]) - 1;
    if (round.done[at(seen.spoke)] || std::fabs(off) <= most) continue;
    most = std::fabs(off);
    worst = seen.spoke;
    sign = off > 0 ? 1 : -1;
  }
  if (worst < 0) return false;
  const int neighbour = (worst + 1) % static_cast<int>(spokes_.size());
  round.quarters[at(worst)] -= sign;
  round.quarters[at(neighbour)] -= sign;  // keeps the rim from moving sideways
  round.mark(worst);
  return true;
}

/// Nobody tightens a spoke that the meter shows past the limit; the one across is let go instead.
std::vector<SpokeTurn> ThumbTruer::turns_of(Round round, const TruingPass& pass) const {
  std::vector<int>& quarters = round.quarters;
  for (const TensionReading& seen : pass.tensions) {
    const std::size_t i = at(seen.spoke);
    if (seen.tension <= limits_.highest || quarters[i] <= 0) continue;
    quarters[(i + 1) % quarters.size()] -= quarters[i];
    quarters[i] = 0;
  }
  std::vector<SpokeTurn> turns;
  for (std::size_t i = 0; i < quarters.size(); ++i) {
    if (quarters[i] != 0) turns.push_back({static_cast<int>(i), quarters[i]});
  }
  return turns;
}

}  // namespace rollwright::bench

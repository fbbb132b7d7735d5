#include "mech/ride_odds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kMostSteps = 400e6;
constexpr std::size_t kPlacesAlong = 100;
constexpr Length kWorthTelling = 100 * metre;  // on foot
constexpr double kNormal95 = 1.959964;         // two-sided 95 % of a normal distribution

std::optional<Error> spread_problem(const RideSpread& spread) {
  return first_outside(
      {{"spread of the wind", spread.wind.in(metre_per_second), 0, 20, "m/s"},
       {"spread of the wind's direction", spread.wind_from_deg, 0, 180, "degrees"},
       {"spread of the rolling resistance", spread.rolling, 0, 0.6, ""},
       {"spread of the drag area", spread.drag, 0, 0.6, ""},
       {"spread of the battery's health", spread.health, 0, 0.3, ""},
       {"spread of the temperature", spread.temperature_c, 0, 20, "°C"},
       {"spread of the model", spread.model, 0, 0.5, ""}});
}

double steps_of(const RideWay& way, Length longest_step) {
  double steps = 0;
  for (const RidePiece& piece : way.pieces) {
    steps += std::ceil(piece.way / longest_step);
  }
  return steps;
}

std::optional<Error> asked_problem(const RideWay& way, const OddsAsked& asked) {
  if (!asked.ride.bike.motor) {
    return Error{Code::kRefused, "A bike without a motor has no charge that could run out.",
                 Place{.field = "motor"}};
  }
  if (auto error = spread_problem(asked.spread)) return error;
  if (auto error = first_outside({{"draws", static_cast<double>(asked.draws), 50, 1e5, ""}})) {
    return error;
  }
  if (steps_of(way, asked.longest_step) * asked.draws <= kMostSteps) return std::nullopt;
  return Error{Code::kTooLarge,
               fmt::format("{} draws over {:.0f} km are too many; draw less often.", asked.draws,
                           way.length.in(km)),
               Place{.field = "draws"}};
}

double lognormal_share(double spread, double standard_normal) {
  const double sigma = std::sqrt(std::log1p(spread * spread));
  return std::exp(sigma * standard_normal);
}

/// A way of one day: what the day brings, laid over the middle.
Result<Ride> ride_of_day(const OddsAsked& asked, Random random) {
  const RideSpread& spread = asked.spread;
  Ride ride = asked.ride;
  // The order of the draws is part of the result.
  const Power power = power_of_day(ride.rider.power, random.normal());
  ride.rider.power.typical = std::min(power, 600 * watt);
  const double rolling = ride.bike.road.rolling * lognormal_share(spread.rolling, random.normal());
  ride.bike.road.rolling = std::min(rolling, 0.1);
  const double drag = ride.bike.road.drag_area_m2 * lognormal_share(spread.drag, random.normal());
  ride.bike.road.drag_area_m2 = std::clamp(drag, 0.1, 2.0);
  Wind& wind = ride.weather.wind;
  wind.at_ten_metres = std::clamp(wind.at_ten_metres + random.normal() * spread.wind, Speed{},
                                  40 * metre_per_second);
  wind.from_deg = std::remainder(wind.from_deg + random.normal() * spread.wind_from_deg, 360);
  double& temperature = ride.weather.air.temperature_c;
  temperature = std::clamp(temperature + random.normal() * spread.temperature_c, -20.0, 50.0);
  Battery battery = asked.battery;
  battery.health = std::clamp(battery.health + random.normal() * spread.health, 0.3, 1.0);
  const auto usable = usable_energy(battery, temperature);
  if (!usable) return std::unexpected(usable.error());
  ride.charge = *usable / lognormal_share(spread.model, random.normal());
  return ride;
}

template <class T>
TenFiftyNinety<T> spread_of(std::vector<T>& values) {
  const auto ranked = [&](double share) {
    const auto rank = static_cast<std::ptrdiff_t>(
        std::lround(share * static_cast<double>(values.size() - 1)));
    const auto at = values.begin() + rank;
    std::nth_element(values.begin(), at, values.end());
    return *at;
  };
  return {ranked(0.1), ranked(0.5), ranked(0.9)};
}

/// Gathers draws.
class RideTally {
 public:
  RideTally(const RideWay& way, int draws) : places_(places_along(way.pieces.size())) {
    left_along_.resize(places_.size());
    for (auto& left : left_along_) left.reserve(static_cast<std::size_t>(draws));
  }

  void add(const RideRun& run) {
    left_.push_back(run.left);
    seconds_.push_back(run.seconds);
    if (run.empty_at) empty_at_.push_back(*run.empty_at);
    if (run.pushed > kWorthTelling) ++walked_;
    worst_error_ = std::max(worst_error_, run.balance_error);
    along_.resize(places_.size());
    for (std::size_t i = 0; i < places_.size(); ++i) {
      along_[i] = run.marks[places_[i]].along;
      left_along_[i].push_back(run.marks[places_[i]].left);
    }
  }

  RideOdds odds() {
    const auto draws = static_cast<double>(left_.size());
    RideOdds odds{.draws = static_cast<int>(left_.size()),
                  .left = spread_of(left_),
                  .seconds = spread_of(seconds_),
                  .empty = static_cast<int>(empty_at_.size()),
                  .walked = walked_ / draws,
                  .worst_balance_error = worst_error_};
    add_band(odds);
    for (std::size_t i = 0; i < places_.size(); ++i) {
      odds.along.push_back({along_[i], spread_of(left_along_[i])});
    }
    if (!empty_at_.empty()) odds.empty_at = spread_of(empty_at_);
    return odds;
  }

 private:
  static std::vector<std::size_t> places_along(std::size_t pieces) {
    const std::size_t count = std::min(pieces, kPlacesAlong);
    std::vector<std::size_t> places;
    for (std::size_t i = 1; i <= count; ++i) places.push_back(i * pieces / count - 1);
    return places;
  }

  static void add_band(RideOdds& odds) {
    const double draws = odds.draws;
    const double share = (draws - odds.empty) / draws;
    const double z2 = kNormal95 * kNormal95 / draws;
    const double middle = (share + z2 / 2) / (1 + z2);
    const double half =
        kNormal95 * std::sqrt(share * (1 - share) / draws + z2 / draws / 4) / (1 + z2);
    odds.home = share;
    odds.home_least = std::max(0.0, middle - half);
    odds.home_most = std::min(1.0, middle + half);
  }

  std::vector<std::size_t> places_;  // pieces at whose ends the charge is looked at
  std::vector<Length> along_;
  std::vector<std::vector<Energy>> left_along_;
  std::vector<Energy> left_;
  std::vector<double> seconds_;
  std::vector<Length> empty_at_;
  double walked_ = 0;
  double worst_error_ = 0;
};

}  // namespace

Result<RideOdds> ride_odds(const RideWay& way, const OddsAsked& asked) {
  OddsAsked checked = asked;
  checked.ride.charge = {};
  // The middle is ridden once, which refuses all that ride_along refuses.
  if (auto once = ride_along(way, checked.ride, asked.longest_step); !once) {
    return std::unexpected(once.error());
  }
  if (auto error = asked_problem(way, asked)) return std::unexpected(*std::move(error));
  RideTally tally(way, asked.draws);
  const Random random(asked.seed);
  for (int draw = 0; draw < asked.draws; ++draw) {
    const auto ride = ride_of_day(asked, random.split(static_cast<std::uint64_t>(draw)));
    if (!ride) return std::unexpected(ride.error());
    tally.add(ride_along_checked(way, *ride, asked.longest_step));
  }
  return tally.odds();
}

}  // namespace rollwright::mech

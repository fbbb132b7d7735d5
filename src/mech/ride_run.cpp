#include "mech/ride_run.hpp"

#include <algorithm>
#include <cmath>

#include "mech/field_range.hpp"
#include "mech/gravity.hpp"
#include "mech/ride_drive.hpp"

namespace rollwright::mech {
namespace {

constexpr double kDryGas = 287.058;                       // J/(kg K); [air]
constexpr double kVapourLighter = 1 - kDryGas / 461.495;  // by the gas constants; [air]
constexpr double kLapsePerMetre = 0.0065;                 // K; [air]
constexpr Length kRiderHeight = 1.5 * metre;
// Of the speed. Half the steps need one look less than to the last digit; the ledger still closes.
constexpr double kLeastStep = 1e-8;

/// One rider on her way. Everything inside in joules, metres, seconds.
///
/// Invariants: the charge never grows; the way never runs back.
class RideOnTheWay {
 public:
  RideOnTheWay(const RideWay& way, const Ride& ride)
      : way_(way),
        bike_(ride.bike.road),
        drive_(ride),
        weight_(bike_.whole.in(kg) * kGravity),
        moved_(bike_.whole.in(kg) + bike_.wheel_inertia.in(kg)),
        most_speed_(ride.rider.most_speed.in(metre_per_second)),
        stop_every_(ride.rider.stop_every.in(metre)),
        electronics_(ride.bike.motor ? ride.bike.electronics.in(watt) : 0),
        charge_(ride.bike.motor ? ride.charge.in(joule) : 0),
        kelvin_(ride.weather.air.temperature_c + 273.15),
        pascal_(ride.weather.air.pressure.in(bar) * 1e5),
        vapour_(vapour_pressure(ride.weather.air.temperature_c, ride.weather.air.humidity).in(bar) *
                1e5),
        wind_(wind_at_height(ride.weather.wind, kRiderHeight)->in(metre_per_second)),
        wind_from_deg_(ride.weather.wind.from_deg) {
    if (charge_ == 0) drive_.stop_motor();
  }

  RideRun ride(double longest_step) {
    run_.marks.reserve(way_.pieces.size());
    for (const RidePiece& piece : way_.pieces) {
      if (piece.starts_anew) stand();
      ride_piece(piece, longest_step);
      run_.marks.push_back({along_ * metre, seconds_, speed_ * metre_per_second,
                            std::max(0.0, charge_) * joule});
    }
    finish();
    return std::move(run_);
  }

 private:
  void ride_piece(const RidePiece& piece, double longest_step) {
    const double way = piece.way.in(metre);
    const double rise = piece.rise.in(metre);
    const double road = std::sqrt(way * way + rise * rise);
    const RoadForces forces = forces_on(piece, road);
    const int steps = std::max(1, static_cast<int>(std::ceil(way / longest_step)));
    for (int i = 0; i < steps; ++i) {
      step(forces, road / steps, way / steps);
    }
  }

  [[nodiscard]] RoadForces forces_on(const RidePiece& piece, double road) const {
    const double kelvin =
        kelvin_ - kLapsePerMetre * (piece.elevation - way_.pieces.front().elevation).in(metre);
    const double density =
        (pascal_ * piece.pressure_share - kVapourLighter * vapour_) / (kDryGas * kelvin);
    return {.air = 0.5 * density * (bike_.drag_area_m2 + bike_.wheel_drag_area_m2),
            .wind = wind_ * head_wind_share(wind_from_deg_, piece.heading_deg),
            .rolling = bike_.rolling * weight_ * piece.way.in(metre) / road,
            .bearing = bike_.bearing_n,
            .bearing_rising = bike_.bearing_n_per_m_s,
            .lift = weight_ * piece.rise.in(metre) / road};
  }

  void step(const RoadForces& forces, double road, double way) {
    if (stop_every_ > 0 && since_stop_ >= stop_every_) {
      stand();
      since_stop_ = 0;
    }
    const double hold = moved_ / (2 * road);
    const auto excess = [&](double v) {
      const ValueAndSlope against = forces.at(v);
      const ValueAndSlope pull = drive_.pull(v);
      return ValueAndSlope{against.value + hold * (v * v - speed_ * speed_) - pull.value,
                           against.slope + 2 * hold * v - pull.slope};
    };
    const double start = std::max(speed_, 2 * RideDrive::kWalking);
    const double speed = rising_root(RideDrive::kWalking, most_speed_, start, excess, kLeastStep);
    if (speed <= RideDrive::kWalking) {
      walk(forces, road, way, hold);
      return;
    }
    if (speed >= most_speed_) brakes_ += std::max(0.0, -excess(speed).value) * road;
    roll(speed, forces, road, way);
  }

  void roll(double speed, const RoadForces& forces, double road, double way) {
    const double rider = drive_.rider_pull(speed).value;
    const double motor = drive_.motor_pull(speed).value;
    rider_ += rider / bike_.drive_efficiency * road;
    motor_at_shaft_ += motor / drive_.motor_share_at_wheel() * road;
    at_wheel_ += (rider + motor) * road;
    move(speed, forces, road, way);
    spend(drive_.battery_watts(motor, speed) * road / speed + electronics_ * road / speed, way);
  }

  /// On foot: rider and motor rest, her push makes up what is missing at walking speed.
  void walk(const RoadForces& forces, double road, double way, double hold) {
    const double walking = RideDrive::kWalking;
    const double push =
        forces.at(walking).value + hold * (walking * walking - speed_ * speed_);
    pushing_ += push * road;
    pushed_ += way;
    move(walking, forces, road, way);
    spend(electronics_ * road / walking, way);
  }

  void move(double speed, const RoadForces& forces, double road, double way) {
    air_ += forces.air_force(speed) * road;
    rolling_ += forces.rolling * road;
    bearing_ += (forces.bearing + forces.bearing_rising * speed) * road;
    fallen_ -= std::min(0.0, forces.lift) * road;
    seconds_ += road / speed;
    along_ += way;
    since_stop_ += way;
    speed_ = speed;
    fastest_ = std::max(fastest_, speed);
  }

  void spend(double joules, double way) {
    if (!(charge_ > 0)) return;
    spent_ += joules;
    charge_ -= joules;
    if (charge_ > 0) return;
    const double over = joules > 0 ? -charge_ / joules : 0;
    run_.empty_at = (along_ - over * way) * metre;
    drive_.stop_motor();
  }

  void stand() {
    brakes_ += 0.5 * moved_ * speed_ * speed_;
    speed_ = 0;
  }

  void finish() {
    Length rise;
    for (const RidePiece& piece : way_.pieces) rise += piece.rise;
    RideLedger& ledger = run_.ledger;
    ledger = {.rider = rider_ * joule,
              .motor = motor_at_shaft_ * joule,
              .pushing = pushing_ * joule,
              .air = air_ * joule,
              .rolling = rolling_ * joule,
              .bearing = bearing_ * joule,
              .drive = (rider_ + motor_at_shaft_ - at_wheel_) * joule,
              .brakes = brakes_ * joule,
              .lift = weight_ * rise.in(metre) * joule,
              .kinetic = 0.5 * moved_ * speed_ * speed_ * joule};
    const Energy throughput = ledger.in() + fallen_ * joule;
    const Energy open = ledger.in() - ledger.out();
    run_.balance_error = throughput > Energy{} ? std::fabs(open / throughput) : 0;
    run_.seconds = seconds_;
    run_.from_battery = spent_ * joule;
    run_.left = std::max(0.0, charge_) * joule;
    run_.pushed = pushed_ * metre;
    run_.fastest = fastest_ * metre_per_second;
  }

  const RideWay& way_;
  const RoadLoad& bike_;
  RideDrive drive_;
  double weight_, moved_, most_speed_, stop_every_, electronics_, charge_;
  double kelvin_, pascal_, vapour_, wind_, wind_from_deg_;
  double speed_ = 0, along_ = 0, seconds_ = 0, since_stop_ = 0, fastest_ = 0, pushed_ = 0;
  double rider_ = 0, motor_at_shaft_ = 0, at_wheel_ = 0, pushing_ = 0;
  double air_ = 0, rolling_ = 0, bearing_ = 0, brakes_ = 0, fallen_ = 0, spent_ = 0;
  RideRun run_;
};

}  // namespace

RideRun ride_along_checked(const RideWay& way, const Ride& ride, Length longest_step) {
  return RideOnTheWay(way, ride).ride(longest_step.in(metre));
}

Result<RideRun> ride_along(const RideWay& way, const Ride& ride, Length longest_step) {
  if (auto error = ride_problem(ride)) return std::unexpected(*std::move(error));
  if (auto error = first_outside({{"longest step", longest_step.in(metre), 1, 100, "m"}})) {
    return std::unexpected(*std::move(error));
  }
  if (way.pieces.empty()) return refuse(Code::kNotFound, "The way has no pieces to ride.");
  return ride_along_checked(way, ride, longest_step);
}

}  // namespace rollwright::mech

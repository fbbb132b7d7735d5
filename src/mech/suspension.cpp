#include "mech/suspension.hpp"

#include "mech/field_range.hpp"

namespace rollwright::mech {

Result<Length> sag(Length travel, double share) {
  if (auto error = first_outside(
          {{"travel", travel.in(mm), 10, 300, "mm"}, {"share", share, 0.05, 0.5, ""}})) {
    return std::unexpected(*error);
  }
  return share * travel;
}

Result<double> coil_rate_n_per_mm(const CoilShock& shock) {
  if (auto error = first_outside({{"wheel force", shock.wheel_force.in(newton), 50, 3000, "N"},
                                  {"leverage", shock.leverage, 1, 5, ""},
                                  {"shock stroke", shock.stroke.in(mm), 10, 100, "mm"},
                                  {"share", shock.share, 0.05, 0.5, ""}})) {
    return std::unexpected(*error);
  }
  return shock.wheel_force.in(newton) * shock.leverage / (shock.share * shock.stroke.in(mm));
}

}  // namespace rollwright::mech

#pragma once

#include "aids/aid.hpp"
#include "mech/truing.hpp"

namespace rollwright::aids {

/// The advice as a wheel to be drawn, with what it says in words. `radius` is that of the nipples.
[[nodiscard]] WheelOnStand wheel_on_stand(const mech::TruingWheel& wheel, Length radius,
                                          const mech::TruingAdvice& advice,
                                          const mech::TruingLimits& limits);

/// "2 quarters tighter"; empty for none.
[[nodiscard]] std::string turn_in_words(int quarters);

/// What is expected and how sure that is, as a person at the next stand would say it.
[[nodiscard]] std::vector<std::string> truing_said(const mech::TruingWheel& wheel,
                                                   const mech::TruingAdvice& advice,
                                                   const mech::TruingLimits& limits);

}  // namespace rollwright::aids

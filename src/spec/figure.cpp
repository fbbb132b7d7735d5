#include "spec/figure.hpp"

#include <cmath>

#include "units/quantity.hpp"

namespace rollwright::spec {

Figure figure_of(const trade::Part* part, int pieces) {
  if (part == nullptr) return {};
  const auto mass = trade::mass_of(*part);
  return {.price = part->price.cents * pieces,
          .mass = pieces * (mass ? std::llround(mass->in(kg) / Figure::kMassUnit)
                                 : Figure::kMassNotKnown)};
}

}  // namespace rollwright::spec

#pragma once

#include <optional>
#include <string>

#include "build/facts.hpp"
#include "units/quantity.hpp"

// What stands on the road: masses of bike, rider and luggage, and where they sit. What is not known
// is asked at the reader.
namespace rollwright::build {

/// Sum over the parts without the charger; one part without a mass leaves the whole not known.
[[nodiscard]] std::optional<Mass> bike_mass_of(FactReader& facts);

struct StandingMass {
  Mass bike;
  Mass rider;
  Mass luggage;
  bool load_in_front = false;  // the frame carries its load ahead of the rider
  Mass front;                  // of it all on the front wheel, level and at rest
  Mass rear;
  std::string words;  // how it was shared out
  [[nodiscard]] Mass whole() const { return bike + rider + luggage; }
};
/// Method:   rider and bike 45 to 55 on front and rear wheel; luggage over the rear axle, in a
///           front-load bike half on each. Source: [tyre-drop] and common practice. Accuracy: 5 %
///           of the whole; a scale under each wheel is better.
[[nodiscard]] std::optional<StandingMass> standing_mass(FactReader& facts);

/// Where the centre of all that mass is.
struct MassCentre {
  Length wheelbase;
  Length behind_front;
  Length height;
  std::string words;
};
/// Method:   along the bike by the loads on the wheels; height from that of rider, bike and luggage:
///           the rider's 220 mm over the saddle, the bike's 200 mm over the wheel axles, luggage
///           100 mm over the rear tyre, in front 300 mm over the axles (common practice, from
///           memory). Accuracy: 80 mm.
[[nodiscard]] std::optional<MassCentre> mass_centre(FactReader& facts);

}  // namespace rollwright::build

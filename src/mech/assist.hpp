#pragma once

#include <span>
#include <string_view>

#include "base/result.hpp"
#include "units/quantity.hpp"

namespace rollwright::mech {

/// One class of bikes with help from a motor, as the law of a region draws it. A row of data; the
/// law itself and the paper of the bike come first, and laws change.
struct AssistLaw {
  std::string_view key;     // "eu-pedelec"
  std::string_view region;  // "European Union"
  std::string_view name;    // as shown
  Speed help_ends;          // no help to a pedalling rider from here on
  Speed fades_from;         // model: full help up to here, straight down to nothing at help_ends
  Power most_rated;         // continuous rated power; peaks are higher
  bool throttle = false;    // the motor may drive without pedalling, up to help_ends
  Speed walking_help;       // greatest speed of a walking help; nothing when the row gives none
  double end_tolerance = 0; // share by which the measured end may lie over help_ends
  Length runs_on;           // way in which help must have ended when pedalling stops; 0: not given
  Length runs_on_with_brake_switches;  // the same when every brake lever cuts the motor
  std::string_view source;
};

/// All rows. Source: [assist-law] in docs/sources.md.
[[nodiscard]] std::span<const AssistLaw> assist_laws();

/// The row with a key. Errors: kNotFound naming the keys there are.
[[nodiscard]] Result<AssistLaw> assist_law(std::string_view key);

/// Share of the full help at a speed, 1 to 0.
/// Method: straight line between fades_from and help_ends (the law asks for "progressive" only).
[[nodiscard]] double help_at(const AssistLaw& law, Speed speed);

}  // namespace rollwright::mech

#pragma once

#include <span>
#include <string_view>

namespace rollwright::aids {

/// Usual tightening torque of a joint, for a part whose maker's value is not at hand. A maker's value
/// goes first, always.
///
/// Source: the row's own; the rows are those of data/trade/readings.toml, which a test holds them to.
struct JointRange {
  std::string_view joint;  // the reading's id in words: "faceplate bolts"
  std::string_view name;   // "stem face plate bolts"
  double least_nm = 0;
  double most_nm = 0;
  std::string_view source;  // "handbook range; the print on the part wins"
};
[[nodiscard]] std::span<const JointRange> joint_ranges();
/// Null when there is no such joint.
[[nodiscard]] const JointRange* joint_called(std::string_view joint);

}  // namespace rollwright::aids

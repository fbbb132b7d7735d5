#pragma once

#include "aids/given.hpp"

namespace rollwright::aids {

/// Every aid there is, in the order in which a person looks for them.
[[nodiscard]] const std::vector<Aid>& all_aids();

/// Errors: kNotFound, with the aid that is most likely meant.
[[nodiscard]] Result<const Aid*> aid_called(const std::string& id);

/// Errors: those of `aid_called` and `Given::read`, and those of the calculation, whose field is the
/// calculation's own.
[[nodiscard]] Result<Reckoned> reckon(const std::string& id, const Typed& typed);

/// The aid's field that takes a file; null when it has none.
[[nodiscard]] const Input* file_field(const Aid& aid);

// By file.
[[nodiscard]] std::vector<Aid> wheel_aids();
[[nodiscard]] std::vector<Aid> wheel_card_aids();
[[nodiscard]] std::vector<Aid> truing_aids();
[[nodiscard]] std::vector<Aid> rim_aids();
[[nodiscard]] std::vector<Aid> drivetrain_aids();
[[nodiscard]] std::vector<Aid> tyre_aids();
[[nodiscard]] std::vector<Aid> joint_aids();
[[nodiscard]] std::vector<Aid> brake_aids();
[[nodiscard]] std::vector<Aid> sound_aids();
[[nodiscard]] std::vector<Aid> rider_aids();
[[nodiscard]] std::vector<Aid> ride_aids();

}  // namespace rollwright::aids

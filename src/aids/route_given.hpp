#pragma once

#include "aids/aids.hpp"
#include "mech/ride_way.hpp"

namespace rollwright::aids {

/// The way of the file in "route", as "back" says once or there and back. Of a file with several
/// ways the longest is taken. What is strange about it is said as a caution.
/// Errors: kBadInput when there is no file; those of mech::read_gpx and ride_way, at "route".
[[nodiscard]] Result<mech::RideWay> way_of(const Given& given, Reckoned& reckoned);

/// The two fields that it reads.
[[nodiscard]] std::vector<Input> route_fields();

}  // namespace rollwright::aids

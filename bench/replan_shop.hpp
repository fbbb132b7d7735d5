#pragma once

#include <cstdint>

#include "plan/workshop.hpp"

namespace rollwright::bench {

/// An invented shop far busier than the demo: people of several skills and hours, five areas with
/// stands, about 25 operations an order with parts on the road, charging and curing, bonds and
/// bleeds that are not left half done, and checks by a second person. Every figure is made up from
/// the seed; due days are set so that most promises can be kept and some cannot.
plan::PlanInput invented_shop(int orders, std::uint64_t seed);

}  // namespace rollwright::bench

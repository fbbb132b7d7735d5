#include "mech/ride_values.hpp"

namespace rollwright::mech {
namespace {

constexpr RideValue kDragAreas[] = {
    {"upright", "upright, wide bar", 0.55, 0.60, 0.65},
    {"touring", "hands on the hoods, or a flat bar leaned on", 0.36, 0.40, 0.45},
    {"drops", "hands in the drops", 0.30, 0.31, 0.32},
    {"time-trial", "lying on a time-trial bar", 0.20, 0.23, 0.25},
    {"cargo", "cargo bike, loaded", 0.60, 0.80, 1.00},
};

constexpr RideValue kRolling[] = {
    {"racing", "good racing tyre on tarmac", 0.003, 0.0035, 0.004},
    {"touring", "touring tyre on tarmac", 0.0045, 0.0052, 0.006},
    {"knobby", "knobby tyre on tarmac", 0.008, 0.010, 0.012},
    {"gravel", "touring tyre on gravel", 0.0085, 0.0095, 0.012},
    {"soft", "grass or soft ground", 0.02, 0.03, 0.05},
};

constexpr RideValue kDrives[] = {
    {"derailleur", "chain and derailleur, clean", 0.95, 0.97, 0.98},
    {"hub-gear", "hub gear", 0.90, 0.93, 0.96},
    {"single", "one gear, chain or belt", 0.96, 0.97, 0.98},
};

}  // namespace

std::span<const RideValue> drag_areas_m2() { return kDragAreas; }
std::span<const RideValue> rolling_resistances() { return kRolling; }
std::span<const RideValue> drive_efficiencies() { return kDrives; }

}  // namespace rollwright::mech

#pragma once

#include <cstdint>
#include <vector>

#include "shop/agreed_input.hpp"

/// What does not move, put into a workshop whose arrivals are uncertain, so that odds are drawn of
/// the shop as it means to work: frozen work whose parts are in the house keeps its person and
/// start; work put somewhere by hand keeps its person and is not begun before its day (from noon on,
/// when it starts after noon); the rest is taken up in the turn of the plan.
namespace rollwright::shop {

/// Draws are named by this, so that the same book gives the same odds, and what differs between two
/// shops is never luck.
inline constexpr std::uint64_t kOddsSeed = 2041;

struct HeldPlace {
  int task = 0;
  plan::Assignment where;
  bool by_hand = false;
};

/// What of `agreed` does not move, by its start.
[[nodiscard]] std::vector<HeldPlace> places_of(const AgreedInput& agreed);

/// Holds these places. Those that clash with one another or with what is done are left free; the
/// plan says of each why it cannot stay.
void hold_for_odds(plan::PlanInput& input, const std::vector<HeldPlace>& places);

/// The workshop with the agreed plan held in it: what promises are drawn from. Without an agreed
/// plan it is that of workshop_input. Errors: those of workshop_input.
[[nodiscard]] Result<WorkshopInput> workshop_for_odds(const trade::Trade& trade,
                                                      const State& state, const LocalTime& now,
                                                      const trade::Order* also = nullptr);

}  // namespace rollwright::shop

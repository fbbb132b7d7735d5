#pragma once

#include <memory>
#include <string>
#include <vector>

#include "shop/state.hpp"
#include "supply/buying.hpp"
#include "supply/lead_time.hpp"
#include "supply/needs.hpp"
#include "trade/trade.hpp"

/// What the orders of the book need, and where it is: the bridge from a state to the supply engine.
namespace rollwright::shop {

/// Orders that still gather parts: agreed and not yet kitted. What is kitted or further has its
/// parts; an order that a maker builds waits for the maker's bike alone.
[[nodiscard]] bool gathers_parts(const trade::Order& order);

/// Working days from the complete kit to the bike that is ready: two, and one for each four hours of
/// hands-on work. Common practice is two to six.
[[nodiscard]] int building_days(double hands_on_minutes);
/// The day on which a bike is ready whose last part is here on `kit`.
[[nodiscard]] Day ready_day(Day kit, double hands_on_minutes, const std::vector<Day>& closed);

/// Last day on which the kit must be complete: the day promised (else needed, else in thirty
/// working days), less the working days that building takes.
[[nodiscard]] Day kit_day(const trade::Order& order, Day today, double hands_on_minutes,
                          const std::vector<Day>& closed);

/// Covers of all orders that gather parts, and of `also` (an offer, say) though it is not agreed.
/// Parts are wanted for the day promised, or for the day on which the simulation alone would have
/// the bike ready in nine of ten cases, if that is sooner: a day told later because bikes were late
/// holds a reserve, and parts bought for its end would use it up.
[[nodiscard]] std::vector<supply::Cover> covers_of(const trade::Trade& trade, const State& state,
                                                   Day today,
                                                   const trade::Order* also = nullptr);

/// Lines under way of which nothing has come, as they stood on the last day on which the shop booked
/// anything in or placed an order: where nobody writes down what comes, waiting longer says nothing.
[[nodiscard]] std::vector<supply::StillOpen> still_open(const State& state);

/// Learned from receipts and from lines still open, once for all states that share their receipts and offers.
[[nodiscard]] std::shared_ptr<const supply::LeadTimes> lead_times_of(const trade::Trade& trade,
                                                                     const State& state);

/// What the supplier asks for the part, or null when it does not sell it.
[[nodiscard]] const trade::Offer* offer_of(const State& state, const trade::SupplierId& supplier,
                                           const trade::PartId& part);

/// The offer from which a part would come soonest, or null when nobody sells it.
[[nodiscard]] const trade::Offer* soonest_offer(const State& state,
                                                const supply::LeadTimes& lead_times,
                                                const trade::PartId& part);

/// The day from which an order counts that is placed now: today, else, after the supplier's cut-off
/// or on a day that is none, the next working day.
[[nodiscard]] Day day_placed(const State& state, const trade::SupplierId& supplier,
                             const LocalTime& now);

/// How a part stands for one order, in a word or a day: "put by", "in store", "9 Dec", "not bought".
struct Whereabouts {
  std::string words;
  std::optional<Day> day;
  bool in_hand = false;
};
[[nodiscard]] Whereabouts whereabouts(const State& state, const std::vector<supply::Cover>& covers,
                                      const trade::Order& order, const trade::PartId& part);

}  // namespace rollwright::shop

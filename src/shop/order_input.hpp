#pragma once

#include "base/result.hpp"
#include "shop/order_views.hpp"
#include "shop/state.hpp"
#include "trade/order.hpp"
#include "trade/trade.hpp"

/// What a desk enters for a new order, judged field by field.
namespace rollwright::shop {

/// Errors: kOutOfRange naming the field: no name, a measure no rider has, an inseam that is not
/// shorter than the rider. Measures that are left out are not known.
[[nodiscard]] Result<trade::Rider> rider_from(const RiderView& view);

/// Errors: kOutOfRange naming the field; words (region, assist class, lever side) must be among
/// those that the trade's attributes allow.
[[nodiscard]] Result<trade::Need> need_from(const trade::Trade& trade, const NeedView& view);

/// The part may stand in this slot of this build; an empty id empties it. Errors: kNotFound for slot or
/// part; kContradiction when the part is of a kind that does not go there.
[[nodiscard]] Result<void> belongs(const trade::Trade& trade, const State& state,
                                   const trade::BuildTemplate& build, const trade::SlotId& slot,
                                   const trade::PartId& part);

/// Refuses text that is not one line of at most so many letters. Errors: kOutOfRange.
[[nodiscard]] Result<void> one_line(const char* field, const std::string& text, std::size_t most);

}  // namespace rollwright::shop

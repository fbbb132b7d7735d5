#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/goods_views.hpp"
#include "shop/state.hpp"
#include "supply/goods_in.hpp"
#include "trade/trade.hpp"

/// What a delivery does to the book, as values: nothing here reads a clock or writes.
namespace rollwright::shop {

/// The things that one step at goods-in changes, put together.
struct BookedIn {
  trade::PurchaseLine line;
  std::optional<trade::Stock> stock;
  std::optional<trade::Receipt> receipt;
  std::string why;  // for the journal
};

struct GoodsInAt {
  const trade::Trade& trade;
  const State& state;
  Day today = {};
};

/// A purchase line by its number. Errors: kNotFound.
[[nodiscard]] Result<const trade::PurchaseLine*> line_called(const State& state,
                                                             const std::string& id);

/// The line after a delivery: good pieces go to the shelf, put by for the order that the line was
/// bought for as far as it needs them; wrong and damaged ones into quarantine, each trouble with a
/// claim and its clock; what is missing is written off and claimed. One receipt, from which lead
/// times are learned.
///
/// Errors: kRefused for a line that was not placed or is over, and when more pieces come than are
/// to come; kOutOfRange for counts that do not add up; kBadInput and kConflict for serial numbers.
[[nodiscard]] Result<BookedIn> received(const GoodsInAt& at, const trade::PurchaseLine& line,
                                        const Received& given);

/// The line after one step of supply::Step. Errors: kBadInput for an unknown step or trouble;
/// kRefused when there are not so many pieces to take it with, or when pieces found bad are no
/// longer on the shelf; those of `received` for serial numbers.
[[nodiscard]] Result<BookedIn> stepped(const GoodsInAt& at, const trade::PurchaseLine& line,
                                       const GoodsStepGiven& given);

/// The line after somebody was told of a claim, or after it was settled. Errors: kNotFound,
/// kBadInput, kRefused when it is settled or was told already.
[[nodiscard]] Result<BookedIn> claimed(const GoodsInAt& at, const trade::PurchaseLine& line,
                                       const ClaimStep& given);

/// The line after a leg of its road was done, and those before it. Errors: kRefused when the line
/// is not under way, when the leg is done already or all are; kNotFound for a leg that is not on its
/// road; kOutOfRange for a day to come or before the one of the leg before.
[[nodiscard]] Result<BookedIn> leg_done(const GoodsInAt& at, const trade::PurchaseLine& line,
                                        const LegGiven& given);

/// The supplier sends by this mode. Errors: kNotFound, with the modes that there are.
[[nodiscard]] Result<void> sends_by(const State& state, const trade::SupplierId& supplier,
                                    const std::string& mode);

/// The line to come by another mode of freight. Errors: kRefused when it has left the supplier;
/// kNotFound for a mode that the supplier does not name.
[[nodiscard]] Result<BookedIn> by_mode(const GoodsInAt& at, const trade::PurchaseLine& line,
                                       const std::string& mode);

/// The line with the day that the supplier names now. Errors: kRefused when nothing is to come;
/// kOutOfRange for a day before today.
[[nodiscard]] Result<BookedIn> confirmed_for(const GoodsInAt& at, const trade::PurchaseLine& line,
                                             Day day);

}  // namespace rollwright::shop

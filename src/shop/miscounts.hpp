#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "book/bike_lines.hpp"
#include "shop/goods_in.hpp"

/// Setting right what was counted wrong at goods-in, as values: a further entry of the journal.
namespace rollwright::shop {

/// Pieces of one part that are in kits and on bikes, by their records.
struct Bound {
  std::map<trade::OrderId, int> pieces;            // more than none
  std::map<std::string, trade::OrderId> serials;   // with a number
};
/// `marks` are all by which the part came onto bikes and off them.
[[nodiscard]] Bound bound_to_bikes(const std::vector<book::LineFound>& marks);

/// What a miscount changes, put together.
struct Miscounted {
  std::vector<trade::PurchaseLine> lines;  // the one that was booked, then that of the pieces
  std::vector<trade::Stock> stock;
  std::vector<trade::Receipt> receipts;    // as they should have been
  std::vector<trade::Receipt> gone;        // that never were so
  std::string why;                         // for the journal
};

/// The deliveries that were booked in on a line, newest first. Lines of one part that were placed
/// together share theirs.
[[nodiscard]] std::vector<trade::Receipt> deliveries_of(const State& state,
                                                        const trade::PurchaseLine& line);

/// The line, shelf and receipts as if that delivery had been counted right; what is too many is
/// taken from where it is counted: to look at, accepted, in quarantine, in this order.
///
/// Too many: pieces leave the shelf (those put by for the line's order first, then free ones) with
/// their numbers; a claim that nobody was told of is withdrawn with its pieces. With a right line,
/// they are booked in there, on the day on which they came. Too few: the further ones are good, on
/// the same day. The receipt from which lead times are learned says the right count, or is gone
/// where nothing came.
///
/// Errors: kBadInput without a reason or when it has to be said which number; kOutOfRange and
/// kContradiction for counts; kNotFound for a delivery, number or line that is not there; kRefused
/// when so many are not on the shelf any more (in a kit, on a bike, put by for others, used up)
/// or were sent back, when somebody was told of their claim, and when more would have come than was
/// ordered; those of add_marks.
[[nodiscard]] Result<Miscounted> miscounted(const GoodsInAt& at, const trade::PurchaseLine& line,
                                            const MiscountGiven& given, const Bound& bound);

}  // namespace rollwright::shop

#pragma once

#include <vector>

#include "shop/goods_in.hpp"
#include "shop/purchase_views.hpp"
#include "supply/needs.hpp"

/// Placing orders with suppliers, as values: nothing here reads a clock or writes.
namespace rollwright::shop {

/// The purchase lines of an order that was placed today. The pieces of a part go by name to the
/// orders that wait for it and have none coming (`covers`), first needed first; what is left over
/// is one line for the shelf. Lines are numbered on from the highest number of the book.
///
/// Errors: kNotFound for a supplier or part that is not on file, or a mode that the supplier does
/// not name; kRefused for a part that the supplier does not offer; kOutOfRange for a quantity below
/// 1, or that is not in packs, and for a confirmed day before today; kBadInput when nothing is
/// ordered or a part comes twice.
[[nodiscard]] Result<std::vector<trade::PurchaseLine>> placed(
    const GoodsInAt& at, const std::vector<supply::Cover>& covers, const PurchaseGiven& given);

/// The line given up before anything left the supplier. Errors: kRefused when it has left, or
/// something came of it already, or it is over.
[[nodiscard]] Result<BookedIn> given_up(const trade::PurchaseLine& line, const std::string& note);

}  // namespace rollwright::shop

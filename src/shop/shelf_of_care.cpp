#include "shop/shelf_of_care.hpp"

#include <algorithm>

#include "shop/goods_shelf.hpp"
#include "shop/small_stock.hpp"

namespace rollwright::shop {
namespace {

bool is_another_piece(const trade::SheetPart& place, const build::BenchState& now,
                      const build::DeedWanted& wanted) {
  if (wanted.part.text != place.part) return true;
  if (!now.was_emptied(place.slot)) return false;
  return wanted.serial.empty() || std::ranges::none_of(now.parts, [&](const build::FittedNow& part) {
    return part.slot == place.slot && part.serial == wanted.serial;
  });
}

}  // namespace

void ShelfOfCare::give(const trade::Sheet& sheet, const build::BenchState& now,
                       build::DeedWanted& wanted) {
  const auto place = std::ranges::find(sheet.parts, wanted.about, &trade::SheetPart::slot);
  if (place == sheet.parts.end() || !is_another_piece(*place, now, wanted)) return;
  const int pieces = place->has_serial ? 1 : place->quantity;
  const auto [held, is_first] = shelf_.try_emplace(wanted.part);
  if (is_first) held->second = stock_of(state_, wanted.part);
  if (trade::free_pieces(held->second) < pieces) {
    wanted.came_by = kElsewhere;
    return;
  }
  held->second.on_shelf -= pieces;
  taken_[wanted.part] += pieces;
}

void ShelfOfCare::into(trade::ShopFiles& put, Day today) const {
  for (const auto& [part, pieces] : taken_) {
    put.stock.push_back(shelf_.at(part));
    put.used.push_back(used_with(state_, {.part = part, .day = today,
                                          .what_for = "care of " + order_.id.text,
                                          .quantity = pieces}));
  }
}

}  // namespace rollwright::shop

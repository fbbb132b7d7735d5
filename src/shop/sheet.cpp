#include "build/sheet.hpp"

#include "documents/sheet_pdf.hpp"
#include "shop/bike.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {

Result<trade::Sheet> Shop::sheet_of(const OrderAt& at, bool care) const {
  build::BikeFacts facts = facts_of(*at.state, *at.build, *at.order);
  return build::make_sheet(
      {.trade = &trade_, .order = at.order, .parts = std::move(facts.parts),
       .ride = at.state->all_else->ride(at.order->need.route),
       .care = care});
}

Result<trade::Sheet> Shop::stand_sheet_of(const OrderAt& at) const {
  return sheet_of(at, at.order->state == trade::OrderState::kInCare);
}

Result<trade::Sheet> Shop::sheet(const std::string& id) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  return sheet_of(*at, false);
}

Result<std::string> Shop::sheet_pdf(const std::string& id,
                                    std::vector<trade::SheetFigure> does) {
  const auto sheet = this->sheet(id);
  if (!sheet) return std::unexpected(sheet.error());
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  return documents::sheet_pdf(*sheet, {.shop = (*current)->settings.name,
                                       .invented = (*current)->settings.invented,
                                       .printed = clock_.now(),
                                       .does = std::move(does)});
}

}  // namespace rollwright::shop

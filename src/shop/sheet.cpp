#include "build/sheet.hpp"

#include "documents/sheet_pdf.hpp"
#include "shop/bike.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {

Result<trade::Sheet> Shop::sheet(const std::string& id) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto found = find_order(**current, id);
  if (!found) return std::unexpected(found.error());
  const auto build = build_of(trade_, **found);
  if (!build) return std::unexpected(build.error());
  build::BikeFacts facts = facts_of(**current, **build, **found);
  return build::make_sheet(
      {.trade = &trade_, .order = *found, .parts = std::move(facts.parts)});
}

Result<std::string> Shop::sheet_pdf(const std::string& id) {
  const auto sheet = this->sheet(id);
  if (!sheet) return std::unexpected(sheet.error());
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  return documents::sheet_pdf(*sheet, {.shop = (*current)->settings.name,
                                       .invented = (*current)->settings.invented,
                                       .printed = clock_.now()});
}

}  // namespace rollwright::shop

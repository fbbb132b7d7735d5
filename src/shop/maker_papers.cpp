#include "documents/maker_form_pdf.hpp"
#include "shop/maker_desk.hpp"
#include "shop/maker_view.hpp"
#include "shop/shop.hpp"

// The order form to the maker on paper and as CSV.
namespace rollwright::shop {

Result<documents::MakerFormPrint> MakerDesk::print(const std::string& order) {
  const auto now = looked(order);
  if (!now) return std::unexpected(now.error());
  const MakerView seen = view(*now);
  documents::MakerFormPrint print{.shop = now->state->settings.name,
                                  .town = now->state->settings.town,
                                  .invented = now->state->settings.invented,
                                  .printed = shop_.clock_.now(), .letter = false, .order = order,
                                  .maker = seen.form.maker, .version = seen.form.version,
                                  .number = seen.form.number, .sent = seen.form.sent,
                                  .sent_by = seen.form.who, .wanted = seen.form.wanted,
                                  .lines = {}, .papers = seen.papers};
  for (const MakerLineView& line : seen.form.lines) {
    const trade::Part* part = now->state->part(trade::PartId(line.part));
    const auto kind = part == nullptr ? shop_.trade_.kinds.end()
                                      : shop_.trade_.kinds.find(part->kind);
    print.lines.push_back({.position = line.position_name, .position_id = line.position,
                           .kind = kind == shop_.trade_.kinds.end() ? "" : kind->second.name,
                           .part = line.part, .name = line.name, .article = line.article,
                           .quantity = line.quantity, .options = line.options,
                           .stop_rules = line.stop_rules, .has_number = line.has_number});
  }
  return print;
}

Result<std::string> MakerDesk::form_pdf(const std::string& order, bool letter) {
  auto form = print(order);
  if (!form) return std::unexpected(form.error());
  form->letter = letter;
  return documents::maker_form_pdf(*form);
}

Result<std::string> MakerDesk::form_csv(const std::string& order) {
  const auto form = print(order);
  if (!form) return std::unexpected(form.error());
  return documents::maker_form_csv(*form);
}

}  // namespace rollwright::shop

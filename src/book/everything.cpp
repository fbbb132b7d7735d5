#include "book/everything.hpp"

namespace rollwright::book {

Result<trade::ShopFiles> everything(Database& database) {
  trade::ShopFiles files;
  Result<void> ok;
  const auto take = [&ok](auto& into, auto from) {
    if (!ok) return;
    if (from) {
      into = std::move(*from);
    } else {
      ok = std::unexpected(from.error());
    }
  };
  take(files.settings, read_settings(database));
  take(files.areas, read_areas(database));
  take(files.people, read_people(database));
  take(files.suppliers, read_suppliers(database));
  take(files.parts, read_parts(database));
  take(files.offers, read_offers(database));
  take(files.stock, read_stock(database));
  take(files.purchases, read_purchases(database));
  take(files.receipts, read_receipts(database));
  take(files.used, read_used(database));
  take(files.promises, read_promises(database));
  take(files.times, read_times(database));
  take(files.tools, read_tools(database));
  take(files.orders, read_orders(database));
  take(files.signed_specs, read_signed_specs(database));
  take(files.order_moves, read_order_moves(database));
  take(files.routes, read_routes(database));
  take(files.mappings, read_mappings(database));
  take(files.taken_lists, read_taken_lists(database));
  take(files.plan_settings, read_plan_settings(database));
  take(files.agreed_plans, read_agreed_plans(database));
  take(files.order_plans, read_order_plans(database));
  take(files.recalls, read_recalls(database));
  take(files.recall_steps, read_recall_steps(database));
  take(files.maker_forms, read_maker_forms(database));
  take(files.maker_lists, read_maker_lists(database));
  take(files.difference_answers, read_difference_answers(database));
  if (!ok) return std::unexpected(ok.error());
  return files;
}

}  // namespace rollwright::book

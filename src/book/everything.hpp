#pragma once

#include "book/record.hpp"
#include "book/tables.hpp"
#include "trade/shop_files.hpp"

/// Every kind of thing that the tables hold, but for what is kept apart: records of bikes, pictures,
/// photographs of goods and secrets.
namespace rollwright::book {

[[nodiscard]] Result<trade::ShopFiles> everything(Database& database);

/// Calls `visit` with the record of each thing and a function that puts it into its table.
template <class Visit>
Result<void> for_each_thing(const trade::ShopFiles& files, Visit visit) {
  Result<void> ok;
  const auto walk = [&](const auto& things) {
    for (const auto& thing : things) {
      if (!ok) return;
      ok = visit(record_of(thing), [&thing](Database& database) { return put(database, thing); });
    }
  };
  walk(files.settings);
  walk(files.areas);
  walk(files.people);
  walk(files.suppliers);
  walk(files.parts);
  walk(files.offers);
  walk(files.stock);
  walk(files.purchases);
  walk(files.receipts);
  walk(files.used);
  walk(files.promises);
  walk(files.times);
  walk(files.tools);
  walk(files.orders);
  walk(files.signed_specs);
  walk(files.order_moves);
  for (const auto& [id, gpx] : files.routes) {
    if (!ok) break;
    ok = visit(record_of_route(id, gpx),
               [&](Database& database) { return put_route(database, id, gpx); });
  }
  for (const auto& [supplier, mapping] : files.mappings) {
    if (!ok) break;
    ok = visit(record_of_mapping(supplier, mapping), [&](Database& database) {
      return put_mapping(database, supplier, mapping);
    });
  }
  walk(files.taken_lists);
  walk(files.plan_settings);
  walk(files.agreed_plans);
  walk(files.order_plans);
  walk(files.recalls);
  walk(files.recall_steps);
  walk(files.maker_forms);
  walk(files.maker_lists);
  walk(files.difference_answers);
  return ok;
}

}  // namespace rollwright::book

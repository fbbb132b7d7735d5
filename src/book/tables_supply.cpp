#include <nlohmann/json.hpp>

#include "book/cells.hpp"
#include "book/tables.hpp"

// Suppliers with their ways of freight; purchases with what came of them.
namespace rollwright::book {
namespace {

std::string texts_cell(const std::vector<std::string>& texts) {
  return nlohmann::json(texts).dump();
}

/// What is no list of texts (somebody edited the table) reads as empty.
std::vector<std::string> texts_from(const Cell& cell) {
  std::vector<std::string> texts;
  const auto json = nlohmann::json::parse(text(cell), nullptr, false);
  if (!json.is_array()) return texts;
  for (const auto& item : json) {
    if (item.is_string()) texts.push_back(item.get<std::string>());
  }
  return texts;
}

/// Runs each of the statements with the one argument, until one fails.
Result<void> run_each(Database& database, std::initializer_list<const char*> statements,
                      const std::string& argument) {
  Result<void> ok;
  for (const char* sql : statements) {
    if (ok) ok = done(database.run(sql, {argument}));
  }
  return ok;
}

/// Reads (key, ...) rows and hands each to the thing it belongs to; both sides sorted by key.
template <class Things, class Key, class Add>
Result<void> add_rows(Database& database, Things& things, Key key, std::string_view sql, Add add) {
  const Result<Rows> rows = database.run(sql, {});
  if (!rows) return std::unexpected(rows.error());
  auto thing = things.begin();
  for (const Row& row : *rows) {
    while (thing != things.end() && key(*thing) != text(row[0])) ++thing;
    if (thing == things.end()) break;
    add(*thing, row);
  }
  return {};
}

Result<void> put_ways(Database& database, const trade::Supplier& s) {
  Result<void> ok = run_each(database,
                             {"delete from supplier_way where supplier = ?",
                              "delete from supplier_claim_days where supplier = ?"},
                             s.id.text);
  int position = 0;
  for (const trade::FreightWay& way : s.ways) {
    if (!ok) return ok;
    ok = done(database.run(
        "insert into supplier_way (supplier, position, mode, carrier, legs, ready_low_days, "
        "ready_high_days, price_cents, per_kg_cents, availability) "
        "values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        {s.id.text, cell_of(position++), way.mode, way.carrier, texts_cell(way.legs),
         way.ready_low, way.ready_high, way.price.cents, way.per_kg.cents,
         texts_cell(way.availability)}));
  }
  for (const auto& [trouble, days] : s.claim_days) {
    if (!ok) return ok;
    ok = done(database.run(
        "insert into supplier_claim_days (supplier, trouble, days) values (?, ?, ?)",
        {s.id.text, std::string(trade::word_of(trouble)), cell_of(days)}));
  }
  return ok;
}

trade::FreightWay way_from(const Row& row) {
  return {.mode = text(row[1]), .carrier = text(row[2]), .legs = texts_from(row[3]),
          .ready_low = real(row[4]), .ready_high = real(row[5]), .price = {whole(row[6])},
          .per_kg = {whole(row[7])}, .availability = texts_from(row[8])};
}

Result<void> put_legs(Database& database, const trade::PurchaseLine& p) {
  Result<void> ok;
  int position = 0;
  for (const trade::LegDone& leg : p.legs) {
    if (!ok) return ok;
    ok = done(database.run(
        "insert into purchase_leg (purchase, position, leg, day) values (?, ?, ?, ?)",
        {p.id, cell_of(position++), leg.leg, cell_of(leg.day)}));
  }
  return ok;
}

Result<void> put_came(Database& database, const trade::PurchaseLine& p) {
  if (!p.came) return {};
  const trade::GoodsIn& g = *p.came;
  return done(database.run(
      "insert into goods_in (purchase, ordered, again, to_look_at, accepted, quarantined, "
      "sent_back, written_off, first_arrival) values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
      {p.id, cell_of(g.ordered), cell_of(g.again), cell_of(g.to_look_at), cell_of(g.accepted),
       cell_of(g.quarantined), cell_of(g.sent_back), cell_of(g.written_off),
       cell_of(g.first_arrival)}));
}

Result<void> put_marks(Database& database, const trade::PurchaseLine& p) {
  Result<void> ok;
  int position = 0;
  for (const trade::Marked& m : p.marked) {
    if (!ok) return ok;
    ok = done(database.run(
        "insert into goods_in_mark (purchase, position, serial, lot, pieces, place, day) "
        "values (?, ?, ?, ?, ?, ?, ?)",
        {p.id, cell_of(position++), m.serial, m.lot, cell_of(m.pieces),
         std::string(trade::word_of(m.place)), cell_of(m.day)}));
  }
  return ok;
}

Result<void> put_claims(Database& database, const trade::PurchaseLine& p) {
  Result<void> ok;
  int position = 0;
  for (const trade::Claim& c : p.claims) {
    if (!ok) return ok;
    ok = done(database.run(
        "insert into claim (purchase, position, trouble, pieces, carrier, found, tell_by, terms, "
        "told, settled, outcome, note) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        {p.id, cell_of(position++), std::string(trade::word_of(c.trouble)), cell_of(c.pieces),
         c.carrier, cell_of(c.found), cell_of(c.tell_by), c.terms, cell_of(c.told),
         cell_of(c.settled), c.outcome, c.note}));
  }
  return ok;
}

trade::PurchaseLine purchase_from(const Row& row) {
  trade::PurchaseLine p{.id = text(row[0]), .supplier = trade::SupplierId(text(row[1])),
                        .part = trade::PartId(text(row[2])), .quantity = number(row[3]),
                        .placed = day(row[5]), .confirmed = maybe_day(row[6])};
  if (!is_null(row[4])) p.order = trade::OrderId(text(row[4]));
  p.state = trade::purchase_state_named(text(row[7])).value_or(trade::PurchaseState::kPlaced);
  p.mode = text(row[8]);
  p.placed_again = maybe_day(row[9]);
  return p;
}

trade::GoodsIn came_from(const Row& row) {
  return {.ordered = number(row[1]), .again = number(row[2]), .to_look_at = number(row[3]),
          .accepted = number(row[4]), .quarantined = number(row[5]), .sent_back = number(row[6]),
          .written_off = number(row[7]), .first_arrival = maybe_day(row[8])};
}

trade::Marked mark_from(const Row& row) {
  return {.serial = text(row[1]), .lot = text(row[2]), .pieces = number(row[3]),
          .place = trade::place_named(text(row[4])).value_or(trade::PlaceOfPiece::kInStore),
          .day = day(row[5])};
}

trade::Claim claim_from(const Row& row) {
  return {.trouble = trade::trouble_named(text(row[1])).value_or(trade::Trouble::kWrong),
          .pieces = number(row[2]), .carrier = text(row[3]), .found = day(row[4]),
          .tell_by = day(row[5]), .terms = text(row[6]), .told = maybe_day(row[7]),
          .settled = maybe_day(row[8]), .outcome = text(row[9]), .note = text(row[10])};
}

}  // namespace

Result<void> put(Database& database, const trade::Supplier& s) {
  const Result<void> ok = done(database.run(
      "insert into supplier (id, name, minimum_order_cents, small_order_charge_cents, "
      "free_freight_over_cents, freight_cents, cut_off_minute, ship_days) "
      "values (?, ?, ?, ?, ?, ?, ?, ?) on conflict (id) do update set name = excluded.name, "
      "minimum_order_cents = excluded.minimum_order_cents, "
      "small_order_charge_cents = excluded.small_order_charge_cents, "
      "free_freight_over_cents = excluded.free_freight_over_cents, "
      "freight_cents = excluded.freight_cents, cut_off_minute = excluded.cut_off_minute, "
      "ship_days = excluded.ship_days",
      {s.id.text, s.name, s.minimum_order.cents, s.small_order_charge.cents,
       s.free_freight_over.cents, s.freight.cents, cell_of(s.cut_off_minute),
       cell_of(s.ship_days)}));
  return ok ? put_ways(database, s) : ok;
}

Result<std::vector<trade::Supplier>> read_suppliers(Database& database) {
  auto suppliers = read_each<trade::Supplier>(
      database,
      "select id, name, minimum_order_cents, small_order_charge_cents, free_freight_over_cents, "
      "freight_cents, cut_off_minute, ship_days from supplier order by id",
      [](const Row& row) {
        return trade::Supplier{.id = trade::SupplierId(text(row[0])), .name = text(row[1]),
                               .minimum_order = {whole(row[2])},
                               .small_order_charge = {whole(row[3])},
                               .free_freight_over = {whole(row[4])}, .freight = {whole(row[5])},
                               .cut_off_minute = number(row[6]), .ship_days = number(row[7])};
      });
  if (!suppliers) return suppliers;
  const auto key = [](const trade::Supplier& s) { return s.id.text; };
  Result<void> ok =
      add_rows(database, *suppliers, key,
               "select supplier, mode, carrier, legs, ready_low_days, ready_high_days, "
               "price_cents, per_kg_cents, availability from supplier_way "
               "order by supplier, position",
               [](trade::Supplier& s, const Row& row) { s.ways.push_back(way_from(row)); });
  if (ok) {
    ok = add_rows(database, *suppliers, key,
                  "select supplier, trouble, days from supplier_claim_days order by supplier",
                  [](trade::Supplier& s, const Row& row) {
                    const auto trouble = trade::trouble_named(text(row[1]));
                    if (trouble) s.claim_days[*trouble] = number(row[2]);
                  });
  }
  if (!ok) return std::unexpected(ok.error());
  return suppliers;
}

Result<void> put(Database& database, const trade::PurchaseLine& p) {
  Result<void> ok = done(database.run(
      "insert into purchase (id, supplier, part, quantity, order_id, placed, confirmed, state, "
      "mode, placed_again) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) on conflict (id) do update set "
      "supplier = excluded.supplier, part = excluded.part, quantity = excluded.quantity, "
      "order_id = excluded.order_id, placed = excluded.placed, confirmed = excluded.confirmed, "
      "state = excluded.state, mode = excluded.mode, placed_again = excluded.placed_again",
      {p.id, p.supplier.text, p.part.text, cell_of(p.quantity),
       p.order ? Cell(p.order->text) : Cell(), cell_of(p.placed), cell_of(p.confirmed),
       std::string(trade::word_of(p.state)), p.mode, cell_of(p.placed_again)}));
  if (ok) {
    ok = run_each(database,
                  {"delete from purchase_leg where purchase = ?",
                   "delete from goods_in where purchase = ?",
                   "delete from goods_in_mark where purchase = ?",
                   "delete from claim where purchase = ?"},
                  p.id);
  }
  for (const auto put_piece : {&put_legs, &put_came, &put_marks, &put_claims}) {
    if (ok) ok = put_piece(database, p);
  }
  return ok;
}

Result<std::vector<trade::PurchaseLine>> read_purchases(Database& database) {
  auto lines = read_each<trade::PurchaseLine>(
      database,
      "select id, supplier, part, quantity, order_id, placed, confirmed, state, mode, "
      "placed_again from purchase order by id",
      purchase_from);
  if (!lines) return lines;
  using Line = trade::PurchaseLine;
  const auto key = [](const Line& p) { return p.id; };
  Result<void> ok = add_rows(
      database, *lines, key,
      "select purchase, leg, day from purchase_leg order by purchase, position",
      [](Line& p, const Row& row) { p.legs.push_back({.leg = text(row[1]), .day = day(row[2])}); });
  if (ok) {
    ok = add_rows(database, *lines, key,
                  "select purchase, ordered, again, to_look_at, accepted, quarantined, sent_back, "
                  "written_off, first_arrival from goods_in order by purchase",
                  [](Line& p, const Row& row) { p.came = came_from(row); });
  }
  if (ok) {
    ok = add_rows(database, *lines, key,
                  "select purchase, serial, lot, pieces, place, day from goods_in_mark "
                  "order by purchase, position",
                  [](Line& p, const Row& row) { p.marked.push_back(mark_from(row)); });
  }
  if (ok) {
    ok = add_rows(database, *lines, key,
                  "select purchase, trouble, pieces, carrier, found, tell_by, terms, told, "
                  "settled, outcome, note from claim order by purchase, position",
                  [](Line& p, const Row& row) { p.claims.push_back(claim_from(row)); });
  }
  if (!ok) return std::unexpected(ok.error());
  return lines;
}

Result<void> put(Database& database, const trade::Used& u) {
  return done(database.run(
      "insert into used (part, day, what_for, quantity) values (?, ?, ?, ?) "
      "on conflict (part, day, what_for) do update set quantity = excluded.quantity",
      {u.part.text, cell_of(u.day), u.what_for, cell_of(u.quantity)}));
}

Result<std::vector<trade::Used>> read_used(Database& database) {
  return read_each<trade::Used>(
      database, "select part, day, what_for, quantity from used order by part, day, what_for",
      [](const Row& row) {
        return trade::Used{.part = trade::PartId(text(row[0])), .day = day(row[1]),
                           .what_for = text(row[2]), .quantity = number(row[3])};
      });
}

}  // namespace rollwright::book

#include "book/cells.hpp"
#include "book/tables.hpp"

// The life of an order: versions of its specification as signed, and its moves.
namespace rollwright::book {
namespace {

/// Hands each row (order, number, ...) of a list to the thing of this order and number; both sides
/// sorted by these.
template <class Thing, class Key, class Add>
Result<void> add_rows(Database& database, std::vector<Thing>& things, std::string_view sql,
                      const Key& key, const Add& add) {
  const Result<Rows> rows = database.run(sql, {});
  if (!rows) return std::unexpected(rows.error());
  auto thing = things.begin();
  for (const Row& row : *rows) {
    const auto is_of = [&](const Thing& each) {
      return each.order.text == text(row[0]) && key(each) == number(row[1]);
    };
    while (thing != things.end() && !is_of(*thing)) ++thing;
    if (thing == things.end()) break;
    add(*thing, row);
  }
  return {};
}

}  // namespace

Result<void> put(Database& database, const trade::SignedSpec& s) {
  Result<void> ok = done(database.run(
      "insert into signed_spec (order_id, version, signed_by, who, day, price_cents, "
      "changes_cents) values (?, ?, ?, ?, ?, ?, ?) on conflict (order_id, version) do update set "
      "signed_by = excluded.signed_by, who = excluded.who, day = excluded.day, "
      "price_cents = excluded.price_cents, changes_cents = excluded.changes_cents",
      {s.order.text, cell_of(s.version), s.signed_by, s.who, cell_of(s.day), s.price.cents,
       s.changes.cents}));
  if (ok) {
    ok = done(database.run("delete from signed_line where order_id = ? and version = ?",
                           {s.order.text, cell_of(s.version)}));
  }
  for (const trade::SignedLine& line : s.lines) {
    if (!ok) return ok;
    ok = done(database.run(
        "insert into signed_line (order_id, version, slot, part, quantity, each_cents) "
        "values (?, ?, ?, ?, ?, ?)",
        {s.order.text, cell_of(s.version), line.slot.text, line.part.text,
         cell_of(line.quantity), line.each.cents}));
  }
  return ok;
}

Result<std::vector<trade::SignedSpec>> read_signed_specs(Database& database) {
  auto specs = read_each<trade::SignedSpec>(
      database,
      "select order_id, version, signed_by, who, day, price_cents, changes_cents from signed_spec "
      "order by order_id, version",
      [](const Row& row) {
        return trade::SignedSpec{.order = trade::OrderId(text(row[0])), .version = number(row[1]),
                                 .signed_by = text(row[2]), .who = text(row[3]),
                                 .day = day(row[4]), .price = {whole(row[5])},
                                 .changes = {whole(row[6])}, .lines = {}};
      });
  if (!specs) return specs;
  const Result<void> ok = add_rows(
      database, *specs,
      "select order_id, version, slot, part, quantity, each_cents from signed_line "
      "order by order_id, version, slot",
      [](const trade::SignedSpec& spec) { return spec.version; },
      [](trade::SignedSpec& spec, const Row& row) {
        spec.lines.push_back({.slot = trade::SlotId(text(row[2])),
                              .part = trade::PartId(text(row[3])), .quantity = number(row[4]),
                              .each = {whole(row[5])}});
      });
  if (!ok) return std::unexpected(ok.error());
  return specs;
}

Result<void> put(Database& database, const trade::OrderMoved& m) {
  Result<void> ok = done(database.run(
      "insert into order_moved (order_id, number, from_state, to_state, by_whom, day, note) "
      "values (?, ?, ?, ?, ?, ?, ?) on conflict (order_id, number) do update set "
      "from_state = excluded.from_state, to_state = excluded.to_state, "
      "by_whom = excluded.by_whom, day = excluded.day, note = excluded.note",
      {m.order.text, cell_of(m.number), std::string(trade::word_of(m.from)),
       std::string(trade::word_of(m.to)), m.by, cell_of(m.day), m.note}));
  if (ok) {
    ok = done(database.run("delete from order_moved_said where order_id = ? and number = ?",
                           {m.order.text, cell_of(m.number)}));
  }
  for (const auto& [what, said] : m.said) {
    if (!ok) return ok;
    ok = done(database.run(
        "insert into order_moved_said (order_id, number, what, said) values (?, ?, ?, ?)",
        {m.order.text, cell_of(m.number), what, said}));
  }
  return ok;
}

Result<std::vector<trade::OrderMoved>> read_order_moves(Database& database) {
  auto moves = read_each<trade::OrderMoved>(
      database,
      "select order_id, number, from_state, to_state, by_whom, day, note from order_moved "
      "order by order_id, number",
      [](const Row& row) {
        using trade::OrderState;
        return trade::OrderMoved{
            .order = trade::OrderId(text(row[0])), .number = number(row[1]),
            .from = trade::state_named(text(row[2])).value_or(OrderState::kEnquiry),
            .to = trade::state_named(text(row[3])).value_or(OrderState::kEnquiry),
            .by = text(row[4]), .day = day(row[5]), .said = {}, .note = text(row[6])};
      });
  if (!moves) return moves;
  const Result<void> ok = add_rows(
      database, *moves,
      "select order_id, number, what, said from order_moved_said order by order_id, number, what",
      [](const trade::OrderMoved& moved) { return moved.number; },
      [](trade::OrderMoved& moved, const Row& row) { moved.said[text(row[2])] = text(row[3]); });
  if (!ok) return std::unexpected(ok.error());
  return moves;
}

}  // namespace rollwright::book

#include "book/cells.hpp"
#include "book/tables.hpp"

// Notices by which parts are called back, and what was done about each bike.
namespace rollwright::book {

Result<void> put(Database& database, const trade::Recall& r) {
  return done(database.run(
      "insert into recall (number, notice, part, kind, maker, lot_from, lot_to, serial_from, "
      "serial_to, day_from, day_to, wrong, danger, remedy, opened_by, opened, closed, closed_by, "
      "closing_note) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) "
      "on conflict (number) do update set notice = excluded.notice, part = excluded.part, "
      "kind = excluded.kind, maker = excluded.maker, lot_from = excluded.lot_from, "
      "lot_to = excluded.lot_to, serial_from = excluded.serial_from, "
      "serial_to = excluded.serial_to, day_from = excluded.day_from, day_to = excluded.day_to, "
      "wrong = excluded.wrong, danger = excluded.danger, remedy = excluded.remedy, "
      "opened_by = excluded.opened_by, opened = excluded.opened, closed = excluded.closed, "
      "closed_by = excluded.closed_by, closing_note = excluded.closing_note",
      {r.number, r.notice, r.part.text, r.kind.text, r.maker, r.lot_from, r.lot_to, r.serial_from,
       r.serial_to, cell_of(r.day_from), cell_of(r.day_to), r.wrong, cell_of(r.danger), r.remedy,
       r.opened_by.text, cell_of(r.opened), cell_of(r.closed), r.closed_by, r.closing_note}));
}

Result<void> put(Database& database, const trade::RecallStep& s) {
  return done(database.run(
      "insert into recall_step (recall, order_id, number, status, day, who, channel, note) "
      "values (?, ?, ?, ?, ?, ?, ?, ?) on conflict (recall, order_id, number) do update set "
      "status = excluded.status, day = excluded.day, who = excluded.who, "
      "channel = excluded.channel, note = excluded.note",
      {s.recall, s.order.text, cell_of(s.number), std::string(trade::word_of(s.status)),
       cell_of(s.day), s.who.text, s.channel, s.note}));
}

Result<std::vector<trade::Recall>> read_recalls(Database& database) {
  return read_each<trade::Recall>(
      database,
      "select number, notice, part, kind, maker, lot_from, lot_to, serial_from, serial_to, "
      "day_from, day_to, wrong, danger, remedy, opened_by, opened, closed, closed_by, closing_note "
      "from recall order by number",
      [](const Row& row) {
        return trade::Recall{
            .number = text(row[0]), .notice = text(row[1]), .part = trade::PartId(text(row[2])),
            .kind = trade::KindId(text(row[3])), .maker = text(row[4]), .lot_from = text(row[5]),
            .lot_to = text(row[6]), .serial_from = text(row[7]), .serial_to = text(row[8]),
            .day_from = maybe_day(row[9]), .day_to = maybe_day(row[10]), .wrong = text(row[11]),
            .danger = flag(row[12]), .remedy = text(row[13]),
            .opened_by = trade::PersonId(text(row[14])), .opened = day(row[15]),
            .closed = maybe_day(row[16]), .closed_by = text(row[17]),
            .closing_note = text(row[18])};
      });
}

Result<std::vector<trade::RecallStep>> read_recall_steps(Database& database) {
  return read_each<trade::RecallStep>(
      database,
      "select recall, order_id, number, status, day, who, channel, note from recall_step "
      "order by recall, order_id, number",
      [](const Row& row) {
        return trade::RecallStep{
            .recall = text(row[0]), .order = trade::OrderId(text(row[1])), .number = number(row[2]),
            .status = trade::recall_status_named(text(row[3])).value_or(trade::RecallStatus::kTold),
            .day = day(row[4]), .who = trade::PersonId(text(row[5])), .channel = text(row[6]),
            .note = text(row[7])};
      });
}

}  // namespace rollwright::book

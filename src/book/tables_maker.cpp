#include "book/cells.hpp"
#include "book/tables.hpp"

#include <map>
#include <tuple>

// What is ordered from the makers of whole bikes, their lists, and what was said to differences.
namespace rollwright::book {
namespace {

/// The columns of a line, from `first` on.
trade::MakerLine line_at(const Row& row, std::size_t first) {
  return {.position = text(row[first]), .part = trade::PartId(text(row[first + 1])),
          .article = text(row[first + 2]), .quantity = number(row[first + 3]),
          .options = text(row[first + 4]), .serial = text(row[first + 5]),
          .note = text(row[first + 6])};
}

void add_line(Row& row, const trade::MakerLine& l) {
  for (Cell cell : {Cell(l.position), Cell(l.part.text), Cell(l.article), cell_of(l.quantity),
                    Cell(l.options), Cell(l.serial), Cell(l.note)}) {
    row.push_back(std::move(cell));
  }
}

trade::MakerListKind kind_in(const Cell& cell) {
  return trade::maker_list_kind_named(text(cell)).value_or(trade::MakerListKind::kConfirmed);
}

}  // namespace

Result<void> put(Database& database, const trade::MakerForm& f) {
  Result<void> ok = done(database.run(
      "insert into maker_form (order_id, number, version, maker, wanted, sent, how, who) "
      "values (?, ?, ?, ?, ?, ?, ?, ?)",
      {f.order.text, cell_of(f.number), cell_of(f.version), f.maker.text, cell_of(f.wanted),
       cell_of(f.sent), f.how, f.who.text}));
  int count = 0;
  for (const trade::MakerLine& line : f.lines) {
    if (!ok) return ok;
    Row row = {f.order.text, cell_of(f.number), cell_of(++count)};
    add_line(row, line);
    ok = done(database.run(
        "insert into maker_form_line (order_id, number, line, position, part, article, quantity, "
        "options, serial, note) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        row));
  }
  return ok;
}

Result<void> put(Database& database, const trade::MakerList& l) {
  const std::string kind(trade::word_of(l.kind));
  Result<void> ok = done(database.run(
      "insert into maker_list (order_id, kind, number, reference, file, day, who) "
      "values (?, ?, ?, ?, ?, ?, ?)",
      {l.order.text, kind, cell_of(l.number), l.reference, l.file, cell_of(l.day), l.who.text}));
  int count = 0;
  for (const trade::MakerLine& line : l.lines) {
    if (!ok) return ok;
    Row row = {l.order.text, kind, cell_of(l.number), cell_of(++count)};
    add_line(row, line);
    ok = done(database.run(
        "insert into maker_list_line (order_id, kind, number, line, position, part, article, "
        "quantity, options, serial, note) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        row));
  }
  return ok;
}

Result<void> put(Database& database, const trade::DifferenceAnswer& a) {
  return done(database.run(
      "insert into difference_answer (order_id, number, kind, list, position, ordered, listed, "
      "accepted, why, signed_by, price_change_cents, who, day) "
      "values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
      {a.order.text, cell_of(a.number), std::string(trade::word_of(a.kind)), cell_of(a.list),
       a.position, a.ordered, a.listed, cell_of(a.accepted), a.why, a.signed_by,
       a.price_change.cents, a.who.text, cell_of(a.day)}));
}

Result<std::vector<trade::MakerForm>> read_maker_forms(Database& database) {
  auto forms = read_each<trade::MakerForm>(
      database,
      "select order_id, number, version, maker, wanted, sent, how, who from maker_form "
      "order by order_id, number",
      [](const Row& row) {
        return trade::MakerForm{.order = trade::OrderId(text(row[0])), .number = number(row[1]),
                                .version = number(row[2]),
                                .maker = trade::SupplierId(text(row[3])), .wanted = day(row[4]),
                                .sent = day(row[5]), .how = text(row[6]),
                                .who = trade::PersonId(text(row[7])), .lines = {}};
      });
  if (!forms) return forms;
  const Result<Rows> rows = database.run(
      "select order_id, number, position, part, article, quantity, options, serial, note "
      "from maker_form_line order by order_id, number, line",
      {});
  if (!rows) return std::unexpected(rows.error());
  std::map<std::pair<std::string, int>, trade::MakerForm*> by_key;
  for (trade::MakerForm& form : *forms) by_key[{form.order.text, form.number}] = &form;
  for (const Row& row : *rows) {
    const auto form = by_key.find({text(row[0]), number(row[1])});
    if (form != by_key.end()) form->second->lines.push_back(line_at(row, 2));
  }
  return forms;
}

Result<std::vector<trade::MakerList>> read_maker_lists(Database& database) {
  auto lists = read_each<trade::MakerList>(
      database,
      "select order_id, kind, number, reference, file, day, who from maker_list "
      "order by order_id, kind, number",
      [](const Row& row) {
        return trade::MakerList{.order = trade::OrderId(text(row[0])), .kind = kind_in(row[1]),
                                .number = number(row[2]), .reference = text(row[3]),
                                .file = text(row[4]), .day = day(row[5]),
                                .who = trade::PersonId(text(row[6])), .lines = {}};
      });
  if (!lists) return lists;
  const Result<Rows> rows = database.run(
      "select order_id, kind, number, position, part, article, quantity, options, serial, note "
      "from maker_list_line order by order_id, kind, number, line",
      {});
  if (!rows) return std::unexpected(rows.error());
  std::map<std::tuple<std::string, trade::MakerListKind, int>, trade::MakerList*> by_key;
  for (trade::MakerList& list : *lists) by_key[{list.order.text, list.kind, list.number}] = &list;
  for (const Row& row : *rows) {
    const auto list = by_key.find({text(row[0]), kind_in(row[1]), number(row[2])});
    if (list != by_key.end()) list->second->lines.push_back(line_at(row, 3));
  }
  return lists;
}

Result<std::vector<trade::DifferenceAnswer>> read_difference_answers(Database& database) {
  return read_each<trade::DifferenceAnswer>(
      database,
      "select order_id, number, kind, list, position, ordered, listed, accepted, why, signed_by, "
      "price_change_cents, who, day from difference_answer order by order_id, number",
      [](const Row& row) {
        return trade::DifferenceAnswer{
            .order = trade::OrderId(text(row[0])), .number = number(row[1]),
            .kind = kind_in(row[2]), .list = number(row[3]), .position = text(row[4]),
            .ordered = text(row[5]), .listed = text(row[6]), .accepted = flag(row[7]),
            .why = text(row[8]), .signed_by = text(row[9]), .price_change = {whole(row[10])},
            .who = trade::PersonId(text(row[11])), .day = day(row[12])};
      });
}

}  // namespace rollwright::book

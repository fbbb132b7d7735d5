#include "book/cells.hpp"
#include "book/tables.hpp"

#include <fmt/format.h>

// How suppliers' lists are read and which were taken in; taking parts and offers away again.
namespace rollwright::book {

Result<void> put_mapping(Database& database, const std::string& supplier,
                         const std::string& mapping) {
  return done(database.run("insert into column_mapping (supplier, mapping) values (?, ?) "
                           "on conflict (supplier) do update set mapping = excluded.mapping",
                           {supplier, mapping}));
}

Result<std::map<std::string, std::string>> read_mappings(Database& database) {
  const Result<Rows> rows =
      database.run("select supplier, mapping from column_mapping order by supplier", {});
  if (!rows) return std::unexpected(rows.error());
  std::map<std::string, std::string> mappings;
  for (const Row& row : *rows) mappings[text(row[0])] = text(row[1]);
  return mappings;
}

Result<void> put(Database& database, const trade::TakenList& l) {
  return done(database.run(
      "insert into taken_list (number, supplier, file, day, taken, who, added, changed, same, "
      "refused, undone) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) on conflict (number) do update "
      "set supplier = excluded.supplier, file = excluded.file, day = excluded.day, "
      "taken = excluded.taken, who = excluded.who, added = excluded.added, "
      "changed = excluded.changed, same = excluded.same, refused = excluded.refused, "
      "undone = excluded.undone",
      {cell_of(l.number), l.supplier.text, l.file, cell_of(l.day), cell_of(l.taken), l.who,
       cell_of(l.added), cell_of(l.changed), cell_of(l.same), cell_of(l.refused),
       cell_of(l.undone)}));
}

Result<std::vector<trade::TakenList>> read_taken_lists(Database& database) {
  return read_each<trade::TakenList>(
      database,
      "select number, supplier, file, day, taken, who, added, changed, same, refused, undone "
      "from taken_list order by number",
      [](const Row& row) {
        return trade::TakenList{.number = number(row[0]),
                                .supplier = trade::SupplierId(text(row[1])),
                                .file = text(row[2]),
                                .day = day(row[3]),
                                .taken = day(row[4]),
                                .who = text(row[5]),
                                .added = number(row[6]),
                                .changed = number(row[7]),
                                .same = number(row[8]),
                                .refused = number(row[9]),
                                .undone = flag(row[10])};
      });
}

Result<void> remove_offer(Database& database, const trade::SupplierId& supplier,
                          const trade::PartId& part) {
  Result<void> ok = done(database.run("delete from offer_break where supplier = ? and part = ?",
                                      {supplier.text, part.text}));
  if (!ok) return ok;
  return done(database.run("delete from offer where supplier = ? and part = ?",
                           {supplier.text, part.text}));
}

Result<void> remove_part(Database& database, const trade::PartId& part) {
  const Result<Rows> named =
      database.run("select order_id from order_choice where part = ? limit 1", {part.text});
  if (!named) return std::unexpected(named.error());
  if (!named->empty()) {
    return refuse(Code::kConflict,
                  fmt::format("order {} names part {}; it cannot be taken out of the catalogue",
                              text(named->front()[0]), part.text),
                  {.field = "part", .value = part.text});
  }
  Result<void> ok = done(database.run("delete from part_fact where part = ?", {part.text}));
  if (!ok) return ok;
  return done(database.run("delete from part where id = ?", {part.text}));
}

}  // namespace rollwright::book

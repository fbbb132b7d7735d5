#include "book/cells.hpp"
#include "book/tables.hpp"

// The shop's measuring tools.
namespace rollwright::book {
namespace {

Cell cell_of_number(const std::optional<double>& value) { return value ? Cell(*value) : Cell(); }

std::optional<double> maybe_number(const Cell& cell) {
  return is_null(cell) ? std::nullopt : std::optional(real(cell));
}

Dimension dimension_from(const std::string& word) {
  for (const UnitRow& unit : unit_table()) {
    if (word_of(unit.dimension) == word) return unit.dimension;
  }
  return Dimension::kNone;
}

}  // namespace

Result<void> put(Database& database, const trade::Tool& t) {
  return done(database.run(
      "insert into tool (id, name, measures, least, most, calibrated, valid_days, out_of_use) "
      "values (?, ?, ?, ?, ?, ?, ?, ?) on conflict (id) do update set name = excluded.name, "
      "measures = excluded.measures, least = excluded.least, most = excluded.most, "
      "calibrated = excluded.calibrated, valid_days = excluded.valid_days, "
      "out_of_use = excluded.out_of_use",
      {t.id, t.name, std::string(word_of(t.measures)), cell_of_number(t.least),
       cell_of_number(t.most), cell_of(t.calibrated), cell_of(t.valid_days),
       cell_of(t.out_of_use)}));
}

Result<std::vector<trade::Tool>> read_tools(Database& database) {
  return read_each<trade::Tool>(
      database,
      "select id, name, measures, least, most, calibrated, valid_days, out_of_use from tool "
      "order by id",
      [](const Row& row) {
        return trade::Tool{.id = text(row[0]), .name = text(row[1]),
                           .measures = dimension_from(text(row[2])),
                           .least = maybe_number(row[3]), .most = maybe_number(row[4]),
                           .calibrated = maybe_day(row[5]), .valid_days = number(row[6]),
                           .out_of_use = flag(row[7])};
      });
}

}  // namespace rollwright::book

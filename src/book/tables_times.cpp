#include "book/cells.hpp"
#include "book/tables.hpp"

// How long operations took.
namespace rollwright::book {

Result<void> put(Database& database, const trade::TimeTaken& t) {
  return done(database.run(
      "insert into time_taken (order_id, operation, person, day, minutes) values (?, ?, ?, ?, ?) "
      "on conflict (order_id, operation, person, day) do update set minutes = excluded.minutes",
      {t.order.text, t.operation, t.person.text, cell_of(t.day), cell_of(t.minutes)}));
}

Result<std::vector<trade::TimeTaken>> read_times(Database& database) {
  return read_each<trade::TimeTaken>(
      database,
      "select order_id, operation, person, day, minutes from time_taken "
      "order by operation, day, order_id, person",
      [](const Row& row) {
        return trade::TimeTaken{.order = trade::OrderId(text(row[0])), .operation = text(row[1]),
                                .person = trade::PersonId(text(row[2])), .day = day(row[3]),
                                .minutes = number(row[4])};
      });
}

}  // namespace rollwright::book

#include <nlohmann/json.hpp>

#include "book/cells.hpp"
#include "book/tables.hpp"

// What was promised, with its odds, and how it went.
namespace rollwright::book {
namespace {

using OddsJson = nlohmann::json;

/// [["2026-12-01", 12], ...]: days, and the odds in 1000 of being ready by then.
std::string odds_text(const std::vector<std::pair<Day, int>>& odds) {
  OddsJson json = OddsJson::array();
  for (const auto& [day, in_1000] : odds) json.push_back({iso(day), in_1000});
  return odds.empty() ? std::string() : json.dump();
}

/// What is no such list (somebody edited the table) reads as none.
std::vector<std::pair<Day, int>> odds_from(const std::string& text) {
  std::vector<std::pair<Day, int>> odds;
  const OddsJson json = OddsJson::parse(text, nullptr, false);
  if (json.is_discarded()) return odds;
  try {
    for (const auto& [day, in_1000] : json.get<std::vector<std::pair<std::string, int>>>()) {
      odds.emplace_back(parse_day(day).value_or(Day{}), in_1000);
    }
  } catch (const OddsJson::exception&) {
    odds.clear();
  }
  return odds;
}

}  // namespace

Result<void> put(Database& database, const trade::PromiseSaid& p) {
  return done(database.run(
      "insert into promise_said (order_id, said, promised, in_100, day_50, day_90, ready, odds) "
      "values (?, ?, ?, ?, ?, ?, ?, ?) on conflict (order_id, said) do update set "
      "promised = excluded.promised, in_100 = excluded.in_100, day_50 = excluded.day_50, "
      "day_90 = excluded.day_90, ready = excluded.ready, odds = excluded.odds",
      {p.order.text, cell_of(p.said), cell_of(p.promised), cell_of(p.in_100), cell_of(p.day_50),
       cell_of(p.day_90), cell_of(p.ready), odds_text(p.odds)}));
}

Result<std::vector<trade::PromiseSaid>> read_promises(Database& database) {
  return read_each<trade::PromiseSaid>(
      database,
      "select order_id, said, promised, in_100, day_50, day_90, ready, odds from promise_said "
      "order by order_id, said",
      [](const Row& row) {
        return trade::PromiseSaid{.order = trade::OrderId(text(row[0])), .said = day(row[1]),
                                  .promised = day(row[2]), .in_100 = number(row[3]),
                                  .day_50 = day(row[4]), .day_90 = day(row[5]),
                                  .ready = maybe_day(row[6]), .odds = odds_from(text(row[7]))};
      });
}

}  // namespace rollwright::book

#include <nlohmann/json.hpp>

#include "book/cells.hpp"
#include "book/tables.hpp"

// Settings, areas, people, suppliers, routes. Lists that nobody searches by are kept as JSON text.
namespace rollwright::book {
namespace {

using ListJson = nlohmann::json;

/// Reads list text; what is no JSON (somebody edited the table) reads as empty.
template <class T>
T list_of(const Cell& cell) {
  const ListJson json = ListJson::parse(text(cell), nullptr, false);
  if (json.is_discarded()) return {};
  try {
    return json.get<T>();
  } catch (const ListJson::exception&) {
    return {};
  }
}

std::vector<std::string> iso_days(const std::vector<Day>& days) {
  std::vector<std::string> texts;
  for (const Day day : days) texts.push_back(iso(day));
  return texts;
}

Day day_from(const std::string& text) { return parse_day(text).value_or(Day{}); }

}  // namespace

Result<void> put(Database& database, const trade::ShopSettings& s) {
  if (Result<void> cleared = done(database.run("delete from shop", {})); !cleared) return cleared;
  return done(database.run(
      "insert into shop (id, name, town, currency, time_zone, invented, hourly_rate_cents, "
      "walk_in_share, absence_chance, closed, promise_confidence) "
      "values ('shop', ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
      {s.name, s.town, s.currency, s.time_zone, cell_of(s.invented), s.hourly_rate.cents,
       s.walk_in_share, s.absence_chance, ListJson(iso_days(s.closed)).dump(),
       s.promise_confidence}));
}

Result<std::vector<trade::ShopSettings>> read_settings(Database& database) {
  return read_each<trade::ShopSettings>(
      database,
      "select name, town, currency, time_zone, invented, hourly_rate_cents, walk_in_share, "
      "absence_chance, closed, promise_confidence from shop",
      [](const Row& row) {
        trade::ShopSettings s{.name = text(row[0]), .town = text(row[1]), .currency = text(row[2]),
                              .time_zone = text(row[3]), .invented = flag(row[4]),
                              .hourly_rate = {whole(row[5])}, .walk_in_share = real(row[6]),
                              .absence_chance = real(row[7]),
                              .promise_confidence = real(row[9])};
        for (const auto& d : list_of<std::vector<std::string>>(row[8])) {
          s.closed.push_back(day_from(d));
        }
        return s;
      });
}

Result<void> put(Database& database, const trade::Area& area) {
  return done(database.run(
      "insert into area (id, stands) values (?, ?) "
      "on conflict (id) do update set stands = excluded.stands",
      {area.id, cell_of(area.stands)}));
}

Result<std::vector<trade::Area>> read_areas(Database& database) {
  return read_each<trade::Area>(database, "select id, stands from area order by id",
                                [](const Row& row) {
                                  return trade::Area{text(row[0]), number(row[1])};
                                });
}

Result<void> put(Database& database, const trade::Person& p) {
  ListJson away = ListJson::array();
  for (const auto& [from, to] : p.away) away.push_back({iso(from), iso(to)});
  if (Result<void> out = done(database.run("delete from person where id = ?", {p.id.text})); !out) {
    return out;
  }
  return done(database.run(
      "insert into person (id, name, roles, skills, week, productive, away) "
      "values (?, ?, ?, ?, ?, ?, ?)",
      {p.id.text, p.name, ListJson(p.roles).dump(), ListJson(p.skills).dump(), ListJson(p.week).dump(),
       p.productive, away.dump()}));
}

Result<std::vector<trade::Person>> read_people(Database& database) {
  return read_each<trade::Person>(
      database,
      "select id, name, roles, skills, week, productive, away from person order by id",
      [](const Row& row) {
        trade::Person p{.id = trade::PersonId(text(row[0])), .name = text(row[1]),
                        .roles = list_of<std::vector<std::string>>(row[2]),
                        .skills = list_of<std::vector<std::string>>(row[3]),
                        .week = list_of<std::array<trade::Hours, 7>>(row[4]),
                        .productive = real(row[5])};
        using Pairs = std::vector<std::pair<std::string, std::string>>;
        for (const auto& [from, to] : list_of<Pairs>(row[6])) {
          p.away.emplace_back(day_from(from), day_from(to));
        }
        return p;
      });
}

Result<void> put_route(Database& database, const std::string& id, const std::string& gpx) {
  return done(database.run(
      "insert into route (id, gpx) values (?, ?) on conflict (id) do update set gpx = excluded.gpx",
      {id, gpx}));
}

Result<std::map<std::string, std::string>> read_routes(Database& database) {
  const Result<Rows> rows = database.run("select id, gpx from route order by id", {});
  if (!rows) return std::unexpected(rows.error());
  std::map<std::string, std::string> routes;
  for (const Row& row : *rows) routes[text(row[0])] = text(row[1]);
  return routes;
}

}  // namespace rollwright::book

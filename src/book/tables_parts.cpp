#include <nlohmann/json.hpp>

#include "book/cells.hpp"
#include "book/tables.hpp"

// Parts with their facts, offers with their breaks, stock with what is put by.
namespace rollwright::book {
namespace {

struct ValueCells {
  std::string type;
  Cell number;
  std::string words;
};

ValueCells cells_of(const trade::Value& value) {
  if (const auto* b = std::get_if<bool>(&value)) return {"flag", *b ? 1.0 : 0.0, ""};
  if (const auto* n = std::get_if<double>(&value)) return {"number", *n, ""};
  if (const auto* w = std::get_if<std::string>(&value)) return {"word", Cell(), *w};
  return {"words", Cell(), nlohmann::json(std::get<std::vector<std::string>>(value)).dump()};
}

trade::Value value_from(const std::string& type, const Cell& number, const std::string& words) {
  if (type == "flag") return real(number) != 0;
  if (type == "number") return real(number);
  if (type == "word") return words;
  const auto json = nlohmann::json::parse(words, nullptr, false);
  std::vector<std::string> list;
  if (json.is_array()) {
    for (const auto& word : json) {
      if (word.is_string()) list.push_back(word.get<std::string>());
    }
  }
  return list;
}

trade::Standing standing_from(const std::string& word) {
  for (const auto standing : {trade::Standing::kKnown, trade::Standing::kMeasured}) {
    if (word == trade::word_of(standing)) return standing;
  }
  return trade::Standing::kNotKnown;
}

Result<void> put_fact(Database& database, const trade::PartId& part, const std::string& attribute,
                      const trade::Fact& fact) {
  const ValueCells value = cells_of(fact.value);
  return done(database.run(
      "insert into part_fact (part, attribute, standing, type, number, words, source, by_whom, day)"
      " values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
      {part.text, attribute, std::string(trade::word_of(fact.standing)), value.type, value.number,
       value.words, fact.source, fact.by, cell_of(fact.date)}));
}

}  // namespace

Result<void> put(Database& database, const trade::Part& p) {
  Result<void> ok = done(database.run(
      "insert into part (id, kind, name, maker, price_cents, gone, may_follow) "
      "values (?, ?, ?, ?, ?, ?, ?) on conflict (id) do update set kind = excluded.kind, "
      "name = excluded.name, maker = excluded.maker, price_cents = excluded.price_cents, "
      "gone = excluded.gone, may_follow = excluded.may_follow",
      {p.id.text, p.kind.text, p.name, p.maker, p.price.cents, cell_of(p.gone),
       cell_of(p.may_follow)}));
  if (ok) ok = done(database.run("delete from part_fact where part = ?", {p.id.text}));
  for (const auto& [attribute, fact] : p.facts) {
    if (ok) ok = put_fact(database, p.id, attribute, fact);
  }
  return ok;
}

Result<std::vector<trade::Part>> read_parts(Database& database) {
  Result<std::vector<trade::Part>> parts = read_each<trade::Part>(
      database,
      "select id, kind, name, maker, price_cents, gone, may_follow from part order by id",
      [](const Row& row) {
        return trade::Part{.id = trade::PartId(text(row[0])), .kind = trade::KindId(text(row[1])),
                           .name = text(row[2]), .maker = text(row[3]), .price = {whole(row[4])},
                           .gone = flag(row[5]), .may_follow = flag(row[6])};
      });
  const Result<Rows> facts = database.run(
      "select part, attribute, standing, type, number, words, source, by_whom, day "
      "from part_fact order by part, attribute",
      {});
  if (!parts || !facts) return std::unexpected(parts ? facts.error() : parts.error());
  auto part = parts->begin();
  for (const Row& row : *facts) {  // both in the order of the part's id: one walk
    while (part != parts->end() && part->id.text != text(row[0])) ++part;
    if (part == parts->end()) break;
    part->facts[text(row[1])] = {.standing = standing_from(text(row[2])),
                                 .value = value_from(text(row[3]), row[4], text(row[5])),
                                 .source = text(row[6]), .by = text(row[7]), .date = day(row[8])};
  }
  return parts;
}

Result<void> put(Database& database, const trade::Offer& o) {
  Result<void> ok = done(database.run(
      "insert into offer (supplier, part, article, pack, availability, as_of) "
      "values (?, ?, ?, ?, ?, ?) on conflict (supplier, part) do update set "
      "article = excluded.article, pack = excluded.pack, availability = excluded.availability, "
      "as_of = excluded.as_of",
      {o.supplier.text, o.part.text, o.article, cell_of(o.pack), o.availability,
       cell_of(o.as_of)}));
  if (ok) {
    ok = done(database.run("delete from offer_break where supplier = ? and part = ?",
                           {o.supplier.text, o.part.text}));
  }
  for (const trade::PriceBreak& step : o.breaks) {
    if (!ok) break;
    ok = done(database.run(
        "insert into offer_break (supplier, part, from_quantity, unit_cost_cents) "
        "values (?, ?, ?, ?)",
        {o.supplier.text, o.part.text, cell_of(step.from_quantity), step.unit_cost.cents}));
  }
  return ok;
}

Result<std::vector<trade::Offer>> read_offers(Database& database) {
  Result<std::vector<trade::Offer>> offers = read_each<trade::Offer>(
      database,
      "select supplier, part, article, pack, availability, as_of from offer "
      "order by supplier, part",
      [](const Row& row) {
        return trade::Offer{.supplier = trade::SupplierId(text(row[0])),
                            .part = trade::PartId(text(row[1])), .article = text(row[2]),
                            .breaks = {}, .pack = number(row[3]), .availability = text(row[4]),
                            .as_of = day(row[5])};
      });
  const Result<Rows> breaks = database.run(
      "select supplier, part, from_quantity, unit_cost_cents from offer_break "
      "order by supplier, part, from_quantity",
      {});
  if (!offers || !breaks) return std::unexpected(offers ? breaks.error() : offers.error());
  auto offer = offers->begin();
  for (const Row& row : *breaks) {
    while (offer != offers->end() &&
           (offer->supplier.text != text(row[0]) || offer->part.text != text(row[1]))) {
      ++offer;
    }
    if (offer == offers->end()) break;
    offer->breaks.push_back({number(row[2]), {whole(row[3])}});
  }
  return offers;
}

Result<void> put(Database& database, const trade::Stock& s) {
  Result<void> ok = done(database.run(
      "insert into stock (part, on_shelf) values (?, ?) "
      "on conflict (part) do update set on_shelf = excluded.on_shelf",
      {s.part.text, cell_of(s.on_shelf)}));
  if (ok) ok = done(database.run("delete from put_by where part = ?", {s.part.text}));
  for (const auto& [order, quantity] : s.put_by) {
    if (!ok) break;
    ok = done(database.run("insert into put_by (part, order_id, quantity) values (?, ?, ?)",
                           {s.part.text, order.text, cell_of(quantity)}));
  }
  return ok;
}

Result<std::vector<trade::Stock>> read_stock(Database& database) {
  Result<std::vector<trade::Stock>> stock = read_each<trade::Stock>(
      database, "select part, on_shelf from stock order by part", [](const Row& row) {
        return trade::Stock{trade::PartId(text(row[0])), number(row[1]), {}};
      });
  const Result<Rows> put_by = database.run(
      "select part, order_id, quantity from put_by order by part, order_id", {});
  if (!stock || !put_by) return std::unexpected(stock ? put_by.error() : stock.error());
  auto shelf = stock->begin();
  for (const Row& row : *put_by) {
    while (shelf != stock->end() && shelf->part.text != text(row[0])) ++shelf;
    if (shelf == stock->end()) break;
    shelf->put_by.emplace_back(trade::OrderId(text(row[1])), number(row[2]));
  }
  return stock;
}

}  // namespace rollwright::book

#include <algorithm>

#include <nlohmann/json.hpp>

#include "book/cells.hpp"
#include "book/tables.hpp"

// Orders with choices, flags and done operations; receipts.
namespace rollwright::book {
namespace {

constexpr std::string_view kOrderColumns =
    "id, revision, state, build, rider_name, rider_contact, rider_height_mm, rider_inseam_mm, "
    "rider_mass_kg, need, use_class, luggage_kg, child_seat, region, assist_class, "
    "front_brake_lever, route, by_freight, held_because, needed_by, promised, opened, "
    "deposit_cents, spec_version, budget_asked, budget_cents, follow_up, follow_up_about";

trade::Budget budget_from(const Cell& cell) {
  return is_null(cell) ? trade::Budget{} : trade::Budget{.at_most = Money{whole(cell)}};
}

Cell budget_cell(const trade::Order& order) {
  if (!order.budget || !order.budget->at_most) return {};
  return order.budget->at_most->cents;
}

trade::Order order_from(const Row& row) {
  trade::Order o;
  o.id = trade::OrderId(text(row[0]));
  o.revision = whole(row[1]);
  o.state = trade::state_named(text(row[2])).value_or(trade::OrderState::kEnquiry);
  o.build = text(row[3]);
  o.rider = {.name = text(row[4]), .contact = text(row[5]), .height = maybe(row[6], mm),
             .inseam = maybe(row[7], mm), .mass = maybe(row[8], kg)};
  o.need = {.words = text(row[9]), .use_class = number(row[10]), .luggage = real(row[11]) * kg,
            .child_seat = flag(row[12]), .region = text(row[13]), .assist_class = text(row[14]),
            .front_brake_lever = text(row[15]), .route = text(row[16]),
            .by_freight = flag(row[17])};
  o.held_because = text(row[18]);
  o.needed_by = maybe_day(row[19]);
  o.promised = maybe_day(row[20]);
  o.opened = day(row[21]);
  o.deposit = {whole(row[22])};
  o.spec_version = number(row[23]);
  if (flag(row[24])) o.budget = budget_from(row[25]);
  if (const auto follow_up = maybe_day(row[26])) {
    o.follow_up = {.day = *follow_up, .about = text(row[27])};
  }
  return o;
}

/// The order's row, all columns but those of its lists.
Result<void> put_order_row(Database& database, const trade::Order& o) {
  static const std::string kSql = [] {
    const std::vector<std::string> columns = [] {
      std::vector<std::string> names;
      std::string_view rest = kOrderColumns;
      while (!rest.empty()) {
        const std::size_t comma = std::min(rest.find(','), rest.size());
        names.emplace_back(rest.substr(0, comma));
        rest.remove_prefix(std::min(comma + 2, rest.size()));
      }
      return names;
    }();
    std::string sql = "insert into customer_order (" + std::string(kOrderColumns) + ") values (?";
    std::string update;
    for (std::size_t i = 1; i < columns.size(); ++i) {
      sql += ", ?";
      update += (i == 1 ? "" : ", ") + columns[i] + " = excluded." + columns[i];
    }
    return sql + ") on conflict (id) do update set " + update;
  }();
  return done(database.run(
      kSql, {o.id.text, o.revision, std::string(trade::word_of(o.state)), o.build, o.rider.name,
             o.rider.contact, cell_of(o.rider.height, mm), cell_of(o.rider.inseam, mm),
             cell_of(o.rider.mass, kg), o.need.words, cell_of(o.need.use_class),
             o.need.luggage.in(kg), cell_of(o.need.child_seat), o.need.region,
             o.need.assist_class, o.need.front_brake_lever, o.need.route,
             cell_of(o.need.by_freight), o.held_because, cell_of(o.needed_by),
             cell_of(o.promised), cell_of(o.opened), o.deposit.cents, cell_of(o.spec_version),
             cell_of(o.budget.has_value()), budget_cell(o),
             o.follow_up ? cell_of(o.follow_up->day) : Cell{},
             o.follow_up ? o.follow_up->about : ""}));
}

/// Slots and parts as one cell: {"fork": "FK-0001"}.
std::string about_cell(const std::map<trade::SlotId, trade::PartId>& about) {
  nlohmann::json json = nlohmann::json::object();
  for (const auto& [slot, part] : about) json[slot.text] = part.text;
  return json.dump();
}

std::map<trade::SlotId, trade::PartId> about_from(const std::string& cell) {
  std::map<trade::SlotId, trade::PartId> about;
  const auto json = nlohmann::json::parse(cell, nullptr, false);
  if (!json.is_object()) return about;
  for (const auto& [slot, part] : json.items()) {
    if (part.is_string()) about[trade::SlotId(slot)] = trade::PartId(part.get<std::string>());
  }
  return about;
}

Result<void> put_answer(Database& database, const trade::OrderId& order,
                        const std::string& question, const trade::Answered& said) {
  return done(database.run(
      "insert into order_answer (order_id, question, answer, who, day, note, about) "
      "values (?, ?, ?, ?, ?, ?, ?)",
      {order.text, question, std::string(trade::word_of(said.answer)), said.who, cell_of(said.day),
       said.note, about_cell(said.about)}));
}

trade::Answered answered_from(const Row& row) {
  return {.answer = trade::answer_named(text(row[2])).value_or(trade::Answer::kNotYet),
          .who = text(row[3]), .day = day(row[4]), .note = text(row[5]),
          .about = about_from(text(row[6]))};
}

Result<void> put_flag_said(Database& database, const trade::OrderId& order,
                           const std::string& flag, const trade::FlagSaid& said) {
  return done(database.run(
      "insert into order_flag_said (order_id, flag, reason, until, who, day) "
      "values (?, ?, ?, ?, ?, ?)",
      {order.text, flag, said.reason, cell_of(said.until), said.who, cell_of(said.day)}));
}

trade::FlagSaid flag_said_from(const Row& row) {
  return {.reason = text(row[2]), .until = maybe_day(row[3]), .who = text(row[4]),
          .day = day(row[5])};
}

/// Reads (order, ...) rows and hands each to the order it belongs to; both sides sorted by id.
template <class Add>
Result<void> add_lists(Database& database, std::vector<trade::Order>& orders,
                       std::string_view columns_from, const trade::OrderId& only, Add add) {
  const std::string sql = "select order_id, " + std::string(columns_from) +
                          (only.empty() ? "" : " where order_id = ?") + " order by order_id";
  const Result<Rows> rows = database.run(sql, only.empty() ? Row{} : Row{only.text});
  if (!rows) return std::unexpected(rows.error());
  auto order = orders.begin();
  for (const Row& row : *rows) {
    while (order != orders.end() && order->id.text != text(row[0])) ++order;
    if (order == orders.end()) break;
    add(*order, row);
  }
  return {};
}

}  // namespace

Result<void> put(Database& database, const trade::Order& o) {
  Result<void> ok = put_order_row(database, o);
  for (const char* sql : {"delete from order_choice where order_id = ?",
                          "delete from order_flag where order_id = ?",
                          "delete from order_flag_said where order_id = ?",
                          "delete from order_done where order_id = ?",
                          "delete from order_answer where order_id = ?"}) {
    if (ok) ok = done(database.run(sql, {o.id.text}));
  }
  for (const auto& [slot, part] : o.choices) {
    if (!ok) return ok;
    ok = done(database.run("insert into order_choice (order_id, slot, part) values (?, ?, ?)",
                           {o.id.text, slot.text, part.text}));
  }
  for (const std::string& flag_word : o.flags) {
    if (!ok) return ok;
    ok = done(database.run("insert into order_flag (order_id, flag) values (?, ?)",
                           {o.id.text, flag_word}));
  }
  for (const auto& [flag_word, said] : o.flags_said) {
    if (!ok) return ok;
    ok = put_flag_said(database, o.id, flag_word, said);
  }
  for (const std::string& operation : o.done) {
    if (!ok) return ok;
    ok = done(database.run("insert into order_done (order_id, operation) values (?, ?)",
                           {o.id.text, operation}));
  }
  for (const auto& [question, said] : o.answers) {
    if (!ok) return ok;
    ok = put_answer(database, o.id, question, said);
  }
  return ok;
}

Result<std::vector<trade::Order>> read_orders(Database& database, const trade::OrderId& only) {
  const std::string sql = "select " + std::string(kOrderColumns) + " from customer_order" +
                          (only.empty() ? "" : " where id = ?") + " order by id";
  auto orders = read_each<trade::Order>(database, sql, order_from,
                                        only.empty() ? Row{} : Row{only.text});
  if (!orders) return orders;
  Result<void> ok = add_lists(database, *orders, "slot, part from order_choice", only,
                              [](trade::Order& order, const Row& row) {
                                order.choices[trade::SlotId(text(row[1]))] =
                                    trade::PartId(text(row[2]));
                              });
  if (ok) {
    ok = add_lists(
        database, *orders, "flag from order_flag", only,
        [](trade::Order& order, const Row& row) { order.flags.insert(text(row[1])); });
  }
  if (ok) {
    ok = add_lists(database, *orders, "flag, reason, until, who, day from order_flag_said", only,
                   [](trade::Order& order, const Row& row) {
                     order.flags_said[text(row[1])] = flag_said_from(row);
                   });
  }
  if (ok) {
    ok = add_lists(
        database, *orders, "operation from order_done", only,
        [](trade::Order& order, const Row& row) { order.done.insert(text(row[1])); });
  }
  if (ok) {
    ok = add_lists(database, *orders, "question, answer, who, day, note, about from order_answer",
                   only, [](trade::Order& order, const Row& row) {
                     order.answers[text(row[1])] = answered_from(row);
                   });
  }
  if (!ok) return std::unexpected(ok.error());
  return orders;
}

Result<void> put(Database& database, const trade::Receipt& r) {
  return done(database.run(
      "insert into receipt (supplier, part, quantity, ordered, promised, received, condition) "
      "values (?, ?, ?, ?, ?, ?, ?) on conflict (supplier, part, ordered, received, quantity) "
      "do update set promised = excluded.promised, condition = excluded.condition",
      {r.supplier.text, r.part.text, cell_of(r.quantity), cell_of(r.ordered), cell_of(r.promised),
       cell_of(r.received), r.condition}));
}

Result<void> remove_receipt(Database& database, const trade::Receipt& r) {
  return done(database.run(
      "delete from receipt where supplier = ? and part = ? and ordered = ? and received = ? and "
      "quantity = ?",
      {r.supplier.text, r.part.text, cell_of(r.ordered), cell_of(r.received),
       cell_of(r.quantity)}));
}

Result<std::vector<trade::Receipt>> read_receipts(Database& database) {
  return read_each<trade::Receipt>(
      database,
      "select supplier, part, quantity, ordered, promised, received, condition from receipt "
      "order by supplier, part, ordered, received, quantity",
      [](const Row& row) {
        return trade::Receipt{.supplier = trade::SupplierId(text(row[0])),
                              .part = trade::PartId(text(row[1])), .quantity = number(row[2]),
                              .ordered = day(row[3]), .promised = maybe_day(row[4]),
                              .received = day(row[5]), .condition = text(row[6])};
      });
}

}  // namespace rollwright::book

#include <algorithm>

#include "book/cells.hpp"
#include "book/tables.hpp"

// The agreed plan and how the shop plans.
namespace rollwright::book {
namespace {

trade::WallTime wall_time(const Cell& day, const Cell& minute) {
  return {parse_day(text(day)).value_or(Day{}), number(minute)};
}

}  // namespace

Result<void> put(Database& database, const trade::PlanSettings& s) {
  if (Result<void> out = done(database.run("delete from plan_settings", {})); !out) return out;
  return done(database.run(
      "insert into plan_settings (id, frozen_days, day_late, moved, kit_day, last_day, "
      "uneven_hour) values ('plan', ?, ?, ?, ?, ?, ?)",
      {cell_of(s.frozen_days), s.day_late, s.moved, s.kit_day, s.last_day, s.uneven_hour}));
}

Result<std::vector<trade::PlanSettings>> read_plan_settings(Database& database) {
  return read_each<trade::PlanSettings>(
      database,
      "select frozen_days, day_late, moved, kit_day, last_day, uneven_hour from plan_settings",
      [](const Row& row) {
        return trade::PlanSettings{.frozen_days = number(row[0]), .day_late = real(row[1]),
                                   .moved = real(row[2]), .kit_day = real(row[3]),
                                   .last_day = real(row[4]), .uneven_hour = real(row[5])};
      });
}

Result<void> put(Database& database, const trade::AgreedPlan& plan) {
  if (Result<void> out = done(database.run("delete from agreed_plan", {})); !out) return out;
  return done(database.run("insert into agreed_plan (id, number, agreed, who) "
                           "values ('plan', ?, ?, ?)",
                           {plan.number, iso(plan.agreed), plan.who}));
}

Result<std::vector<trade::AgreedPlan>> read_agreed_plans(Database& database) {
  return read_each<trade::AgreedPlan>(
      database, "select number, agreed, who from agreed_plan", [](const Row& row) {
        return trade::AgreedPlan{.number = whole(row[0]),
                                 .agreed = parse_instant(text(row[1])).value_or(Instant{}),
                                 .who = text(row[2])};
      });
}

Result<void> put(Database& database, const trade::OrderPlan& plan) {
  for (const char* out : {"delete from planned_hand where order_id = ?",
                          "delete from planned_work where order_id = ?"}) {
    if (Result<void> ok = done(database.run(out, {plan.order.text})); !ok) return ok;
  }
  for (const trade::PlannedWork& work : plan.work) {
    Result<void> in = done(database.run(
        "insert into planned_work (order_id, operation, person, area, stand, start_day, "
        "start_minute, end_day, end_minute, pinned_by) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        {plan.order.text, work.operation, work.person.text, work.area, cell_of(work.stand),
         iso(work.start.day), cell_of(work.start.minute), iso(work.end.day),
         cell_of(work.end.minute), work.pinned_by}));
    if (!in) return in;
    for (const trade::PersonId& person : work.lending) {
      Result<void> hand = done(database.run(
          "insert into planned_hand (order_id, operation, person) values (?, ?, ?)",
          {plan.order.text, work.operation, person.text}));
      if (!hand) return hand;
    }
  }
  return {};
}

namespace {

/// Few rows: only of work that takes several people.
Result<void> add_hands(Database& database, std::vector<trade::OrderPlan>& plans) {
  const Result<Rows> rows = database.run(
      "select order_id, operation, person from planned_hand order by order_id, operation, person",
      {});
  if (!rows) return std::unexpected(rows.error());
  for (const Row& row : *rows) {
    const auto plan = std::ranges::find(plans, trade::OrderId(text(row[0])),
                                        &trade::OrderPlan::order);
    if (plan == plans.end()) continue;  // the foreign key sees to it that there is none
    const auto work =
        std::ranges::find(plan->work, text(row[1]), &trade::PlannedWork::operation);
    if (work != plan->work.end()) work->lending.emplace_back(text(row[2]));
  }
  return {};
}

}  // namespace

Result<std::vector<trade::OrderPlan>> read_order_plans(Database& database) {
  const Result<Rows> rows = database.run(
      "select order_id, operation, person, area, stand, start_day, start_minute, end_day, "
      "end_minute, pinned_by from planned_work order by order_id, operation",
      {});
  if (!rows) return std::unexpected(rows.error());
  std::vector<trade::OrderPlan> plans;
  for (const Row& row : *rows) {
    const trade::OrderId order(text(row[0]));
    if (plans.empty() || plans.back().order != order) plans.push_back({.order = order, .work = {}});
    plans.back().work.push_back({.operation = text(row[1]), .person = trade::PersonId(text(row[2])),
                                 .area = text(row[3]), .stand = number(row[4]),
                                 .start = wall_time(row[5], row[6]),
                                 .end = wall_time(row[7], row[8]), .pinned_by = text(row[9]),
                                 .lending = {}});
  }
  if (Result<void> ok = add_hands(database, plans); !ok) return std::unexpected(ok.error());
  return plans;
}

}  // namespace rollwright::book

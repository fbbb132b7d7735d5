#include "shop/spec_change.hpp"

#include <algorithm>
#include <map>

#include "shop/spec_versions.hpp"
#include "shop/supply_side.hpp"
#include "supply/buying.hpp"

namespace rollwright::shop {
namespace {

using trade::PurchaseState;

double middle_minutes(const trade::SheetStep& step) {
  return (step.minutes_low + step.minutes_high) / 2;
}

const trade::SheetStep* step_in(const trade::Sheet& sheet, const std::string& operation) {
  const auto found = std::ranges::find(sheet.steps, operation, &trade::SheetStep::operation);
  return found == sheet.steps.end() ? nullptr : &*found;
}

const trade::ChangeWork* work_of(const trade::ChangeTerms& terms, const trade::SlotId& slot) {
  const auto found = std::ranges::find(terms.work, slot, &trade::ChangeWork::slot);
  return found == terms.work.end() ? nullptr : &*found;
}

std::vector<std::string> done_of(const trade::Order& order, const std::vector<std::string>& all) {
  std::vector<std::string> done;
  for (const std::string& operation : all) {
    if (order.done.contains(operation)) done.push_back(operation);
  }
  return done;
}

/// The line placed for the order that a part comes on, or null.
const trade::PurchaseLine* placed_line(const LifeAt& at, const trade::PartId& part) {
  for (const trade::PurchaseLine& line : at.state.held.purchases) {
    const bool is_over = line.state == PurchaseState::kCancelled ||
                         line.state == PurchaseState::kSentBack ||
                         line.state == PurchaseState::kWanted || line.state == PurchaseState::kAsked;
    if (line.order == at.order.id && line.part == part && !is_over) return &line;
  }
  return nullptr;
}

build::PartWhere where_is(const ChangeAt& at, const trade::SlotId& slot,
                          const trade::PartId& part) {
  const LifeAt& life = at.life;
  build::PartWhere where{.state = life.order.state, .maker_built = life.build.maker_built,
                         .is_bike = life.build.maker_built};
  if (const trade::PurchaseLine* line = placed_line(life, part)) {
    where.line = line->id;
    where.line_state = std::string(trade::word_of(line->state));
    const trade::Offer* offer = offer_of(life.state, line->supplier, part);
    where.made_to_order = offer != nullptr && offer->availability == "made" &&
                          line->confirmed.has_value();
  }
  if (const trade::ChangeWork* work = work_of(at.terms, slot)) {
    where.built_by = done_of(life.order, work->work);
    where.spoilt_by = done_of(life.order, work->spoils);
  }
  return where;
}

/// Hands-on minutes of checks that are done and follow from these operations.
double checks_after(const trade::Sheet& sheet, const std::vector<std::string>& operations) {
  std::set<std::string> touched(operations.begin(), operations.end());
  double minutes = 0;
  for (const trade::SheetStep& step : sheet.steps) {
    const bool follows = std::ranges::any_of(
        step.after, [&touched](const std::string& before) { return touched.contains(before); });
    if (!follows) continue;
    touched.insert(step.operation);
    if (step.done && step.area == "test area") minutes += middle_minutes(step);
  }
  return minutes;
}

/// What the part given up costs, where it stands.
void add_given_up(const ChangeAt& at, const trade::SignedLine& from, build::PartChange& change) {
  const build::PartWhere where = where_is(at, from.slot, from.part);
  change.freeze = build::freeze_of(where).freeze;
  change.from = at.life.state.name_of(from.part);
  change.from_price = from.each * from.quantity;
  for (const std::string& operation : where.built_by) {
    const trade::SheetStep* step = step_in(at.sheet, operation);
    if (step != nullptr) change.minutes_out += middle_minutes(*step);
  }
  change.minutes_checks = checks_after(at.sheet, where.built_by);
  const trade::PurchaseLine* line = placed_line(at.life, from.part);
  if (line == nullptr) return;
  const trade::Offer* offer = offer_of(at.life.state, line->supplier, from.part);
  if (offer == nullptr) return;
  change.from_cost = supply::unit_cost(*offer, from.quantity) * from.quantity;
  const auto terms = std::ranges::find(at.terms.restocking, offer->availability,
                                       &trade::Restocking::availability);
  if (terms != at.terms.restocking.end()) change.restocking_percent = terms->percent;
  const auto supplier = at.life.state.suppliers.find(line->supplier);
  if (supplier != at.life.state.suppliers.end()) change.freight_back = supplier->second->freight;
}

std::map<trade::SlotId, const trade::SignedLine*> indexed(
    const std::vector<trade::SignedLine>& lines) {
  std::map<trade::SlotId, const trade::SignedLine*> by_slot;
  for (const trade::SignedLine& line : lines) by_slot[line.slot] = &line;
  return by_slot;
}

std::vector<MoneyLineView> line_views(const std::vector<build::MoneyLine>& lines) {
  std::vector<MoneyLineView> views;
  for (const build::MoneyLine& line : lines) {
    views.push_back({.what = line.what, .cents = line.amount.cents, .why = line.why});
  }
  return views;
}

}  // namespace

std::vector<FreezeView> freeze_views(const ChangeAt& at) {
  std::vector<FreezeView> views;
  for (const trade::Slot& slot : at.life.trade.slots) {
    const auto chosen = at.life.order.choices.find(slot.id);
    if (chosen == at.life.order.choices.end()) continue;
    const build::FreezeSaid said = build::freeze_of(where_is(at, slot.id, chosen->second));
    views.push_back({.slot = slot.id.text,
                     .slot_name = slot.name,
                     .part = chosen->second.text,
                     .name = at.life.state.name_of(chosen->second),
                     .point = std::string(build::point_of(said.freeze)),
                     .word = std::string(build::word_of(said.freeze)),
                     .why = said.why});
  }
  return views;
}

std::vector<build::PartChange> part_changes(const ChangeAt& at,
                                            const std::vector<trade::SignedLine>& from,
                                            const std::vector<trade::SignedLine>& to) {
  const auto was = indexed(from);
  const auto is = indexed(to);
  std::vector<build::PartChange> changes;
  for (const trade::Slot& slot : at.life.trade.slots) {
    const auto old = was.find(slot.id);
    const auto now = is.find(slot.id);
    const bool had = old != was.end();
    const bool has = now != is.end();
    if (!had && !has) continue;
    if (had && has && old->second->part == now->second->part) continue;
    build::PartChange change{.slot = slot.name};
    if (had) add_given_up(at, *old->second, change);
    if (has) {
      change.to = at.life.state.name_of(now->second->part);
      change.to_price = now->second->each * now->second->quantity;
      change.minutes_in = change.minutes_out;  // the same work, the other way round
    }
    changes.push_back(std::move(change));
  }
  return changes;
}

std::vector<trade::SignedLine> lines_signed(const LifeAt& at) {
  const auto versions = versions_of(at.state, at.order.id);
  return versions.empty() ? spec_lines(at.trade, at.state, at.order) : versions.back()->lines;
}

build::CancelledOrder cancelled_now(const ChangeAt& at) {
  build::CancelledOrder order{.deposit = at.life.order.deposit,
                              .hourly_rate = at.life.state.settings.hourly_rate};
  for (const trade::SignedLine& line : lines_signed(at.life)) {
    const trade::Slot* slot = trade::find_slot(at.life.trade, line.slot);
    build::PartChange part{.slot = slot == nullptr ? line.slot.text : slot->name};
    add_given_up(at, line, part);
    order.parts.push_back(std::move(part));
  }
  for (const trade::SheetStep& step : at.sheet.steps) {
    if (step.done) order.minutes_done += middle_minutes(step);
  }
  return order;
}

ChangePriceView change_price_view(const LifeAt& at, const build::ChangePrice& price) {
  return {.order = at.order.id.text,
          .sentence = price.sentence,
          .point = std::string(build::point_of(price.furthest)),
          .word = std::string(build::word_of(price.furthest)),
          .lines = line_views(price.lines),
          .parts_cents = price.parts.cents,
          .beside_cents = price.beside.cents,
          .total_cents = price.total.cents,
          .revision = at.order.revision};
}

SettlementView settlement_view(const LifeAt& at, const build::Settlement& settled) {
  SettlementView view{.order = at.order.id.text,
                      .law = settled.law,
                      .sentence = settled.sentence,
                      .lines = line_views(settled.lines),
                      .back_cents = settled.back.cents};
  for (const trade::PurchaseLine* line : open_lines(at.state, at.order.id)) {
    view.open_lines.push_back({.line = line->id, .part = at.state.name_of(line->part),
                               .supplier = line->supplier.text,
                               .state = std::string(trade::word_of(line->state))});
  }
  return view;
}

}  // namespace rollwright::shop

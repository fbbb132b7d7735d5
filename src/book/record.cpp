#include "book/record.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace rollwright::book {
namespace {

using Json = nlohmann::ordered_json;

Json day_or_null(const std::optional<Day>& day) { return day ? Json(iso(*day)) : Json(nullptr); }

template <class Q>
Json amount(const std::optional<Q>& value, Q unit) {
  return value ? Json(value->in(unit)) : Json(nullptr);
}

Json value_of(const trade::Value& value) {
  return std::visit([](const auto& held) { return Json(held); }, value);
}

Json answers_of(const trade::Order& order) {
  Json answers = Json::object();
  for (const auto& [question, said] : order.answers) {
    Json about = Json::object();
    for (const auto& [slot, part] : said.about) about[slot.text] = part.text;
    answers[question] = {{"answer", trade::word_of(said.answer)}, {"who", said.who},
                         {"day", iso(said.day)}, {"note", said.note}, {"about", about}};
  }
  return answers;
}

Json flags_said_of(const trade::Order& order) {
  Json flags = Json::object();
  for (const auto& [flag, said] : order.flags_said) {
    flags[flag] = {{"reason", said.reason}, {"until", day_or_null(said.until)},
                   {"who", said.who}, {"day", iso(said.day)}};
  }
  return flags;
}

Json way_of(const trade::FreightWay& w) {
  return {{"mode", w.mode}, {"carrier", w.carrier}, {"legs", w.legs}, {"ready_low", w.ready_low},
          {"ready_high", w.ready_high}, {"price_cents", w.price.cents},
          {"per_kg_cents", w.per_kg.cents}, {"availability", w.availability}};
}

Json came_of(const trade::GoodsIn& g) {
  return {{"ordered", g.ordered}, {"again", g.again}, {"to_look_at", g.to_look_at},
          {"accepted", g.accepted}, {"quarantined", g.quarantined}, {"sent_back", g.sent_back},
          {"written_off", g.written_off}, {"first_arrival", day_or_null(g.first_arrival)}};
}

Json marked_of(const trade::Marked& m) {
  return {{"serial", m.serial}, {"lot", m.lot}, {"pieces", m.pieces},
          {"place", trade::word_of(m.place)}, {"day", iso(m.day)}};
}

Json claim_of(const trade::Claim& c) {
  return {{"trouble", trade::word_of(c.trouble)}, {"pieces", c.pieces}, {"carrier", c.carrier},
          {"found", iso(c.found)}, {"tell_by", iso(c.tell_by)}, {"terms", c.terms},
          {"told", day_or_null(c.told)}, {"settled", day_or_null(c.settled)},
          {"outcome", c.outcome}, {"note", c.note}};
}

Json lines_of(const std::vector<trade::MakerLine>& lines) {
  Json json = Json::array();
  for (const trade::MakerLine& l : lines) {
    json.push_back({l.position, l.part.text, l.article, l.quantity, l.options, l.serial, l.note});
  }
  return json;
}

Record line(std::string subject, const Json& json) {
  // Text that is no UTF-8 cannot get in by way of import or HTTP; should it, it is marked.
  return {std::move(subject), json.dump(-1, ' ', false, Json::error_handler_t::replace)};
}

}  // namespace

Record record_of(const trade::ShopSettings& s) {
  Json closed = Json::array();
  for (const Day day : s.closed) closed.push_back(iso(day));
  Json json = {{"name", s.name}, {"town", s.town}, {"currency", s.currency},
               {"time_zone", s.time_zone}, {"invented", s.invented},
               {"hourly_rate_cents", s.hourly_rate.cents},
               {"walk_in_share", s.walk_in_share}, {"absence_chance", s.absence_chance},
               {"closed", closed}};
  // Left out at its usual value, so that journals from before it could be set still agree.
  if (s.promise_confidence != trade::ShopSettings{}.promise_confidence) {
    json["promise_confidence"] = s.promise_confidence;
  }
  return line("shop", std::move(json));
}

Record record_of(const trade::Area& area) {
  return line("area " + area.id, {{"stands", area.stands}});
}

Record record_of(const trade::Person& p) {
  Json away = Json::array();
  for (const auto& [from, to] : p.away) away.push_back({iso(from), iso(to)});
  return line("person " + p.id.text,
              {{"name", p.name}, {"roles", p.roles}, {"skills", p.skills}, {"week", p.week},
               {"productive", p.productive}, {"away", away}});
}

Record record_of(const trade::Supplier& s) {
  Json json = {{"name", s.name}, {"minimum_order_cents", s.minimum_order.cents},
               {"small_order_charge_cents", s.small_order_charge.cents},
               {"free_freight_over_cents", s.free_freight_over.cents},
               {"freight_cents", s.freight.cents}, {"cut_off_minute", s.cut_off_minute},
               {"ship_days", s.ship_days}};
  // Left out where there are none, so that journals from before they could be set still agree.
  for (const trade::FreightWay& way : s.ways) json["ways"].push_back(way_of(way));
  for (const auto& [trouble, days] : s.claim_days) {
    json["claim_days"][std::string(trade::word_of(trouble))] = days;
  }
  return line("supplier " + s.id.text, json);
}

Record record_of(const trade::Part& p) {
  Json facts = Json::object();
  for (const auto& [attribute, fact] : p.facts) {
    facts[attribute] = {{"standing", trade::word_of(fact.standing)},
                        {"value", value_of(fact.value)},
                        {"source", fact.source},
                        {"by", fact.by},
                        {"date", iso(fact.date)}};
  }
  return line(part_subject(p.id),
              {{"kind", p.kind.text}, {"name", p.name}, {"maker", p.maker},
               {"price_cents", p.price.cents}, {"gone", p.gone}, {"may_follow", p.may_follow},
               {"facts", facts}});
}

Record record_of(const trade::Offer& o) {
  Json breaks = Json::array();
  for (const trade::PriceBreak& b : o.breaks) breaks.push_back({b.from_quantity, b.unit_cost.cents});
  return line(offer_subject(o.supplier, o.part),
              {{"article", o.article}, {"breaks", breaks}, {"pack", o.pack},
               {"availability", o.availability}, {"as_of", iso(o.as_of)}});
}

Record record_of(const trade::Stock& s) {
  Json put_by = Json::object();
  for (const auto& [order, quantity] : s.put_by) put_by[order.text] = quantity;
  return line("stock " + s.part.text, {{"on_shelf", s.on_shelf}, {"put_by", put_by}});
}

Record record_of(const trade::PurchaseLine& p) {
  Json json = {{"supplier", p.supplier.text}, {"part", p.part.text}, {"quantity", p.quantity},
               {"order", p.order ? Json(p.order->text) : Json(nullptr)}, {"placed", iso(p.placed)},
               {"confirmed", day_or_null(p.confirmed)}, {"state", trade::word_of(p.state)}};
  // Lines to which nothing has happened keep the text they had before goods-in was written down.
  if (!p.mode.empty()) json["mode"] = p.mode;
  if (p.placed_again) json["placed_again"] = iso(*p.placed_again);
  for (const trade::LegDone& done : p.legs) json["legs"].push_back({done.leg, iso(done.day)});
  if (p.came) json["came"] = came_of(*p.came);
  for (const trade::Marked& marked : p.marked) json["marked"].push_back(marked_of(marked));
  for (const trade::Claim& claim : p.claims) json["claims"].push_back(claim_of(claim));
  return line("purchase " + p.id, json);
}

Record record_of(const trade::Receipt& r) {
  return line(fmt::format("receipt {} {} {} {} {}", r.supplier.text, r.part.text, iso(r.ordered),
                          iso(r.received), r.quantity),
              {{"promised", day_or_null(r.promised)}, {"condition", r.condition}});
}

Record record_of(const trade::Used& u) {
  return line(fmt::format("used {} {} {}", u.part.text, iso(u.day), u.what_for),
              {{"quantity", u.quantity}});
}

Record record_of(const trade::PromiseSaid& p) {
  Json json = {{"promised", iso(p.promised)}, {"in_100", p.in_100}, {"day_50", iso(p.day_50)},
               {"day_90", iso(p.day_90)}, {"ready", day_or_null(p.ready)}};
  // Left out where there are none, as in promises from before they were written down.
  for (const auto& [day, in_1000] : p.odds) json["odds"].push_back({iso(day), in_1000});
  return line(fmt::format("promise {} {}", p.order.text, iso(p.said)), json);
}

Record record_of(const trade::TimeTaken& t) {
  return line(fmt::format("time {} {} {} {}", t.order.text, t.operation, t.person.text, iso(t.day)),
              {{"minutes", t.minutes}});
}

Record record_of(const trade::Tool& t) {
  const auto number = [](const std::optional<double>& value) {
    return value ? Json(*value) : Json(nullptr);
  };
  return line("tool " + t.id,
              {{"name", t.name}, {"measures", word_of(t.measures)}, {"least", number(t.least)},
               {"most", number(t.most)}, {"calibrated", day_or_null(t.calibrated)},
               {"valid_days", t.valid_days}, {"out_of_use", t.out_of_use}});
}

Record record_of(const trade::Recall& r) {
  return line("recall " + r.number,
              {{"notice", r.notice}, {"part", r.part.text}, {"kind", r.kind.text},
               {"maker", r.maker}, {"lot_from", r.lot_from}, {"lot_to", r.lot_to},
               {"serial_from", r.serial_from}, {"serial_to", r.serial_to},
               {"day_from", day_or_null(r.day_from)}, {"day_to", day_or_null(r.day_to)},
               {"wrong", r.wrong}, {"danger", r.danger}, {"remedy", r.remedy},
               {"opened_by", r.opened_by.text}, {"opened", iso(r.opened)},
               {"closed", day_or_null(r.closed)}, {"closed_by", r.closed_by},
               {"closing_note", r.closing_note}});
}

Record record_of(const trade::RecallStep& s) {
  return line(fmt::format("recall_step {} {} {}", s.recall, s.order.text, s.number),
              {{"status", trade::word_of(s.status)}, {"day", iso(s.day)}, {"who", s.who.text},
               {"channel", s.channel}, {"note", s.note}});
}

Record record_of(const trade::MakerForm& f) {
  return line(fmt::format("maker form {} {}", f.order.text, f.number),
              {{"version", f.version}, {"maker", f.maker.text}, {"wanted", iso(f.wanted)},
               {"sent", iso(f.sent)}, {"how", f.how}, {"who", f.who.text},
               {"lines", lines_of(f.lines)}});
}

Record record_of(const trade::MakerList& l) {
  return line(fmt::format("maker list {} {} {}", l.order.text, trade::word_of(l.kind), l.number),
              {{"reference", l.reference}, {"file", l.file}, {"day", iso(l.day)},
               {"who", l.who.text}, {"lines", lines_of(l.lines)}});
}

Record record_of(const trade::DifferenceAnswer& a) {
  return line(fmt::format("difference {} {}", a.order.text, a.number),
              {{"kind", trade::word_of(a.kind)}, {"list", a.list}, {"position", a.position},
               {"ordered", a.ordered}, {"listed", a.listed}, {"accepted", a.accepted},
               {"why", a.why}, {"signed_by", a.signed_by},
               {"price_change_cents", a.price_change.cents}, {"who", a.who.text},
               {"day", iso(a.day)}});
}

Record record_of(const trade::Order& o) {
  Json choices = Json::object();
  for (const auto& [slot, part] : o.choices) choices[slot.text] = part.text;
  Json json = {{"revision", o.revision}, {"state", trade::word_of(o.state)}, {"build", o.build},
               {"rider", {{"name", o.rider.name}, {"contact", o.rider.contact},
                          {"height_mm", amount(o.rider.height, mm)},
                          {"inseam_mm", amount(o.rider.inseam, mm)},
                          {"mass_kg", amount(o.rider.mass, kg)}}},
               {"need", {{"words", o.need.words}, {"use_class", o.need.use_class},
                         {"luggage_kg", o.need.luggage.in(kg)}, {"child_seat", o.need.child_seat},
                         {"region", o.need.region}, {"assist_class", o.need.assist_class},
                         {"front_brake_lever", o.need.front_brake_lever},
                         {"route", o.need.route}, {"by_freight", o.need.by_freight}}},
               {"choices", choices}, {"flags", o.flags}, {"held_because", o.held_because},
               {"needed_by", day_or_null(o.needed_by)}, {"promised", day_or_null(o.promised)},
               {"opened", iso(o.opened)}, {"deposit_cents", o.deposit.cents}, {"done", o.done},
               {"spec_version", o.spec_version}};
  // Orders nobody was asked about keep the text they had before there were questions.
  if (!o.answers.empty()) json["answers"] = answers_of(o);
  // So do those whose flags came with an import.
  if (!o.flags_said.empty()) json["flags_said"] = flags_said_of(o);
  // And those that nobody asked for a budget, or that nobody follows up.
  if (o.budget) json["budget"] = trade::word_of(*o.budget);
  if (o.follow_up) {
    json["follow_up"] = {{"day", iso(o.follow_up->day)}, {"about", o.follow_up->about}};
  }
  return line("order " + o.id.text, json);
}

Record record_of(const trade::SignedSpec& s) {
  Json lines = Json::object();
  for (const trade::SignedLine& each : s.lines) {
    lines[each.slot.text] = {each.part.text, each.quantity, each.each.cents};
  }
  return line(fmt::format("signed {} {}", s.order.text, s.version),
              {{"signed_by", s.signed_by}, {"who", s.who}, {"day", iso(s.day)},
               {"price_cents", s.price.cents}, {"changes_cents", s.changes.cents},
               {"lines", lines}});
}

Record record_of(const trade::OrderMoved& m) {
  return line(fmt::format("moved {} {}", m.order.text, m.number),
              {{"from", trade::word_of(m.from)}, {"to", trade::word_of(m.to)}, {"by", m.by},
               {"day", iso(m.day)}, {"said", m.said}, {"note", m.note}});
}

Record record_of_route(const std::string& id, const std::string& gpx) {
  return line("route " + id, {{"gpx", gpx}});
}

Record record_of_mapping(const std::string& supplier, const std::string& mapping) {
  return line("mapping " + supplier, {{"mapping", mapping}});
}

Record record_of(const trade::TakenList& l) {
  return line(fmt::format("list {}", l.number),
              {{"supplier", l.supplier.text}, {"file", l.file}, {"day", iso(l.day)},
               {"taken", iso(l.taken)}, {"who", l.who}, {"added", l.added},
               {"changed", l.changed}, {"same", l.same}, {"refused", l.refused},
               {"undone", l.undone}});
}

Record record_of(const trade::PlanSettings& s) {
  return line("plan settings", {{"frozen_days", s.frozen_days}, {"day_late", s.day_late},
                                {"moved", s.moved}, {"kit_day", s.kit_day},
                                {"last_day", s.last_day}, {"uneven_hour", s.uneven_hour}});
}

Record record_of(const trade::AgreedPlan& p) {
  return line("plan", {{"number", p.number}, {"agreed", iso(p.agreed)}, {"who", p.who}});
}

Record record_of(const trade::OrderPlan& p) {
  std::string subject = "plan of order " + p.order.text;
  if (p.work.empty()) return {std::move(subject), {}};
  Json work = Json::object();
  for (const trade::PlannedWork& each : p.work) {
    work[each.operation] = {{"person", each.person.text}, {"area", each.area},
                            {"stand", each.stand},
                            {"start_day", iso(each.start.day)}, {"start_minute", each.start.minute},
                            {"end_day", iso(each.end.day)}, {"end_minute", each.end.minute},
                            {"pinned_by", each.pinned_by}};
    if (each.lending.empty()) continue;  // as it was written before anybody lent a hand
    Json& lending = work[each.operation]["lending"] = Json::array();
    for (const trade::PersonId& person : each.lending) lending.push_back(person.text);
  }
  return line(std::move(subject), work);
}

std::string offer_subject(const trade::SupplierId& supplier, const trade::PartId& part) {
  return fmt::format("offer {} {}", supplier.text, part.text);
}

std::string part_subject(const trade::PartId& part) { return "part " + part.text; }

}  // namespace rollwright::book

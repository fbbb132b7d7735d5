#include "shop/life_facts.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/traits.hpp"
#include "shop/bike.hpp"
#include "shop/maker_at.hpp"
#include "shop/questions.hpp"
#include "shop/spec_versions.hpp"
#include "shop/supply_side.hpp"
#include "shop/workshop_pieces.hpp"

namespace rollwright::shop {
namespace {

using build::Hat;
using build::LifeFacts;
using build::Standing;
using trade::Severity;
using trade::Verdict;

// Operations of the trade's list that are rides.
constexpr const char* kTestRides[] = {"T-40", "T-45", "N-85"};

template <class Ids, class Id>
bool is_among(const Ids& ids, const Id& id) {
  return std::ranges::find(ids, id) != std::end(ids);
}

bool is_check_area(const std::string& area) { return area == "test area"; }
bool is_after_checks(const std::string& area) { return area == "packing" || area == "handover"; }

void add_rider(const LifeAt& at, LifeFacts& facts) {
  const trade::Rider& rider = at.order.rider;
  facts.has_contact = !rider.name.empty() && !rider.contact.empty();
  facts.has_use = !at.order.need.words.empty();
  if (!rider.height) facts.measures_not_known.emplace_back("height");
  if (!rider.inseam) facts.measures_not_known.emplace_back("inseam");
  if (!rider.mass) facts.measures_not_known.emplace_back("mass");
  facts.needed_by = at.order.needed_by;
  facts.budget_written = at.order.budget.has_value();
}

void add_finding(const spec::Finding& finding, LifeFacts& facts) {
  if (finding.verdict == Verdict::kDoesNotFit) facts.does_not_fit.push_back(finding.sentence);
  if (finding.verdict != Verdict::kNotKnown) return;
  const bool is_stop = finding.severity == Severity::kStop;
  if (is_stop) facts.stops_not_known.push_back(finding.sentence);
  if (is_stop || finding.severity == Severity::kFit) {
    facts.fit_not_known.push_back(finding.sentence);
  }
  for (const spec::MissingFact& fact : finding.missing_facts) {
    if (!is_among(facts.not_known_unowned, fact.sentence)) {
      facts.not_known_unowned.push_back(fact.sentence);
    }
  }
}

bool has_dated_cost(const State& state, const trade::PartId& part) {
  return std::ranges::any_of(state.held.offers, [&](const trade::Offer& offer) {
    return offer.part == part && offer.as_of != Day{};
  });
}

void add_spec(const LifeAt& at, LifeFacts& facts) {
  const spec::SpecCheck check =
      check_order(at.trade, at.build, bike_of(at.state, at.order), at.order);
  for (const trade::SlotId& slot : check.missing_slots) {
    const trade::Slot* known = trade::find_slot(at.trade, slot);
    facts.empty_slots.push_back(known == nullptr ? slot.text : known->name);
  }
  for (const spec::Finding& finding : check.findings) add_finding(finding, facts);
  for (const auto& [slot, part] : at.order.choices) {
    if (!has_dated_cost(at.state, part)) facts.costs_not_dated.push_back(at.state.name_of(part));
  }
  const SignedState is_signed = signed_state(at.trade, at.state, at.order);
  facts.signed_version = is_signed.version;
  facts.changed_since_signed = is_signed.changed;
  facts.price = check.totals.price;
  const auto versions = versions_of(at.state, at.order.id);
  if (!versions.empty()) facts.price += versions.back()->changes;
  facts.deposit = at.order.deposit;
  facts.promised = at.order.promised;
  if (const auto* offered = last_move_to(at.state, at.order.id, trade::OrderState::kOffer)) {
    const auto until = offered->said.find("valid_until");
    const Result<Day> day = until == offered->said.end() ? refuse(Code::kNotFound, "")
                                                         : parse_day(until->second);
    if (day) facts.offer_valid_until = *day;
  }
}

void add_parts(const LifeAt& at, LifeFacts& facts) {
  for (const supply::Cover& cover : covers_of(at.trade, at.state, at.today)) {
    if (cover.need.order != at.order.id) continue;
    const std::string name = at.state.name_of(cover.need.part);
    if (cover.source == supply::Source::kToBuy) facts.not_bought.push_back(name);
    if (cover.source != supply::Source::kShelf && !cover.need.may_follow) {
      facts.kit_not_put_by.push_back(name);
    }
  }
  for (const trade::PurchaseLine* line : open_lines(at.state, at.order.id)) {
    facts.lines_open.push_back(fmt::format("{} ({})", line->id, at.state.name_of(line->part)));
  }
}

/// Of an operation that is done by the record: what was not taken, and what is outside.
void add_readings(const build::OperationNow& now, LifeFacts& facts) {
  for (const build::ReadingNow& reading : now.readings) {
    const bool taken = reading.taken() == static_cast<int>(reading.points.size());
    if (!taken && now.standing == Standing::kDone && !now.doers.empty()) {
      facts.readings_missing.push_back(reading.value->name);
    }
    if (reading.outside()) facts.readings_outside.push_back(reading.value->name);
  }
}

void add_operation(const LifeAt& at, const build::OperationNow& now, LifeFacts& facts) {
  const trade::SheetStep& step = *now.step;
  const std::string named = fmt::format("{} {}", step.operation, step.name);
  if (now.standing == Standing::kDone) facts.operations_done.insert(step.operation);
  if (now.standing == Standing::kRedo) facts.redo_open.push_back(named);
  if (!now.fault.empty()) facts.redo_open.push_back(fmt::format("{} ({})", named, now.fault));
  add_readings(now, facts);
  if (is_among(kFourEyes, std::string_view(step.operation))) {
    for (const auto* people : {&now.doers, &now.helpers}) {
      for (const trade::PersonId& who : *people) facts.worked_on_it.insert(at.state.name_of(who));
    }
  }
  if (now.standing == Standing::kDone || is_after_checks(step.area)) return;
  (is_check_area(step.area) ? facts.checks_open : facts.work_open).push_back(named);
}

void add_bench(const LifeAt& at, const build::BenchState& bench, LifeFacts& facts) {
  bool ridden = false;
  bool ride_open = false;
  for (const build::OperationNow& now : bench.operations) {
    add_operation(at, now, facts);
    if (!is_among(kTestRides, now.step->operation)) continue;
    (now.standing == Standing::kDone ? ridden : ride_open) = true;
  }
  facts.test_ride_done = ridden && !ride_open;
  if (const build::VisitNow* visit = bench.open_visit()) facts.visit_open = visit->about;
  for (const build::StopNow& stop : bench.stops) facts.stops_open.push_back(stop.sentence);
}

/// Lines of the final build that prove an audit, a ride or a release are the checks' own.
bool proves_checks(const trade::Sheet& sheet, const trade::SheetCheck& line) {
  return std::ranges::any_of(sheet.steps, [&line](const trade::SheetStep& step) {
    return is_check_area(step.area) && is_among(line.covers, step.operation);
  });
}

void add_lines(const trade::Sheet& sheet, const build::BenchState& bench, LifeFacts& facts) {
  for (const build::CheckNow& now : bench.checks) {
    const trade::SheetCheck& line = *now.check;
    if (now.outcome == trade::Outcome::kPass || line.mark == "N") continue;
    const std::string named = fmt::format("{} {}", line.id, line.text);
    const bool is_final = line.list == "final build";
    if (line.list == "arrival") facts.arrival_lines_open.push_back(named);
    if (is_final && !proves_checks(sheet, line)) facts.final_lines_open.push_back(named);
    const bool before_release = line.list == "pre-delivery" || is_final;
    if (before_release && line.mark == "S") facts.stop_lines_open.push_back(named);
    if (line.list == "handover") facts.talk_lines_open.push_back(named);
  }
}

/// Who did what another person has to sign, of work that is older than the record: by the times that
/// were taken, else by the agreed plan.
void add_older_work(const LifeAt& at, LifeFacts& facts) {
  const auto planned = at.state.agreed->work.find(at.order.id);
  const bool is_planned = planned != at.state.agreed->work.end();
  facts.work_planned = is_planned && !planned->second.work.empty();
  if (!facts.worked_on_it.empty()) return;
  for (const trade::TimeTaken& time : at.state.times->taken) {
    if (time.order == at.order.id && is_among(kFourEyes, std::string_view(time.operation))) {
      facts.worked_on_it.insert(at.state.name_of(time.person));
    }
  }
  if (!is_planned) return;
  for (const trade::PlannedWork& each : planned->second.work) {
    if (is_among(kFourEyes, std::string_view(each.operation)) &&
        at.order.done.contains(each.operation)) {
      facts.worked_on_it.insert(at.state.name_of(each.person));
      for (const trade::PersonId& who : each.lending) {
        facts.worked_on_it.insert(at.state.name_of(who));
      }
    }
  }
}

/// By the bike's record, else as goods-in wrote it down of what was bought for the order.
void add_serials(const LifeAt& at, const trade::Sheet& sheet, const build::BenchState& bench,
                 LifeFacts& facts) {
  for (const trade::SheetPart& part : sheet.parts) {
    if (!part.has_serial) continue;
    const build::FittedNow* fitted = bench.in_place(part.slot);
    if (fitted != nullptr && !fitted->serial.empty()) continue;
    const bool filed = std::ranges::any_of(
        at.state.held.purchases, [&](const trade::PurchaseLine& line) {
          return line.order == at.order.id && line.part.text == part.part &&
                 std::ranges::any_of(line.marked, [](const trade::Marked& marked) {
                   return !marked.serial.empty();
                 });
        });
    if (!filed) facts.serials_missing.push_back(part.position);
  }
}

}  // namespace

std::vector<const trade::PurchaseLine*> open_lines(const State& state,
                                                   const trade::OrderId& order) {
  std::vector<const trade::PurchaseLine*> lines;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (line.order != order) continue;
    const bool waits = trade::pieces_to_come(line) > 0 || trade::goods_in_of(line).quarantined > 0;
    if (waits) lines.push_back(&line);
  }
  return lines;
}

const trade::OrderMoved* last_move_to(const State& state, const trade::OrderId& order,
                                      trade::OrderState to) {
  const trade::OrderMoved* last = nullptr;
  for (const trade::OrderMoved& moved : state.held.rest.order_moves) {
    if (moved.order != order || moved.to != to) continue;
    if (last == nullptr || last->number < moved.number) last = &moved;
  }
  return last;
}

LifeFacts life_facts(const LifeAt& at, const trade::Sheet& sheet,
                     const build::BenchState& bench) {
  const build::BikeTraits traits =
      build::traits_of(at.trade, facts_of(at.state, at.build, at.order));
  LifeFacts facts{.state = at.order.state,
                  .maker_built = at.build.maker_built,
                  .by_freight = at.order.need.by_freight,
                  .electric = traits.holding.contains("e_bike"),
                  .flags = at.order.flags,
                  .held_because = at.order.held_because,
                  .today = at.today,
                  .hats = {Hat::kOwner, Hat::kAdviser, Hat::kBuyer, Hat::kGoodsIn, Hat::kLead,
                           Hat::kMechanic, Hat::kSecondPerson, Hat::kPacker}};
  add_rider(at, facts);
  add_spec(at, facts);
  add_parts(at, facts);
  add_bench(at, bench, facts);
  facts.values_not_known = sheet.open_questions;
  add_lines(sheet, bench, facts);
  add_older_work(at, facts);
  add_serials(at, sheet, bench, facts);
  add_maker(at, bench, facts);
  return facts;
}

std::set<Hat> hats_of(const trade::Person& person, bool electric) {
  const auto has_role = [&person](const char* role) { return is_among(person.roles, role); };
  const auto has_skill = [&person](const char* skill) { return is_among(person.skills, skill); };
  std::set<Hat> hats;
  if (has_role("owner")) hats.insert(Hat::kOwner);
  if (has_role("desk") || has_skill("AD")) hats.insert(Hat::kAdviser);
  if (has_role("desk")) hats.insert(Hat::kBuyer);
  if (has_role("desk") || has_role("bench")) hats.insert(Hat::kGoodsIn);
  const bool is_senior = has_skill("L3");
  if (has_role("bench") && (is_senior || has_skill("L2"))) hats.insert(Hat::kMechanic);
  if (is_senior) hats.insert({Hat::kLead, Hat::kSecondPerson});
  if (electric ? has_skill("DG") : has_role("bench")) hats.insert(Hat::kPacker);
  return hats;
}

LifeFacts as_moved_by(LifeFacts facts, const trade::Person& person) {
  facts.by = person.name;
  facts.hats = hats_of(person, facts.electric);
  return facts;
}

}  // namespace rollwright::shop

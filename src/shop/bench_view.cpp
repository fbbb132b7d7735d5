#include "shop/bench_view.hpp"

#include <algorithm>
#include <array>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/care.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"
#include "trade/skills.hpp"

namespace rollwright::shop {
namespace {

using build::Standing;
using trade::Outcome;

std::string moment_text(Instant at) { return at == Instant{} ? std::string() : iso(at); }

BenchPoint point_view(const State& state, const trade::SheetValue& value,
                      const build::PointNow& point) {
  BenchPoint view{.value = point.value, .text = {},
                  .outcome = std::string(trade::word_of(point.outcome)),
                  .who = state.name_of(point.who), .at = moment_text(point.at),
                  .tool = point.tool};
  if (point.value) view.text = with_unit(*point.value, value.unit, 2);
  return view;
}

std::vector<BenchReading> reading_views(const State& state, const build::OperationNow& now) {
  std::vector<BenchReading> views;
  for (const build::ReadingNow& reading : now.readings) {
    BenchReading& view = views.emplace_back(BenchReading{.value = *reading.value, .points = {}});
    for (const build::PointNow& point : reading.points) {
      view.points.push_back(point_view(state, *reading.value, point));
    }
  }
  return views;
}

std::vector<std::string> places_of(const trade::Sheet& sheet,
                                   const std::vector<std::string>& slots) {
  std::vector<std::string> places;
  for (const std::string& slot : slots) {
    const auto part = std::ranges::find(sheet.parts, slot, &trade::SheetPart::slot);
    if (part != sheet.parts.end()) places.push_back(part->position);
  }
  return places;
}

BenchOperation operation_view(const BenchDesk::At& at, const build::OperationNow& now) {
  const trade::SheetStep& step = *now.step;
  BenchOperation view{.operation = step.operation, .name = step.name, .area = step.area,
                      .skill = step.skill, .skill_words = trade::skill_words(step.skill),
                      .minutes_low = step.minutes_low, .minutes_high = step.minutes_high,
                      .second_person = step.second_person, .hands = step.hands,
                      .steps = step.steps,
                      .tools = step.tools, .consumables = step.consumables,
                      .cautions = step.cautions, .fits = places_of(at.sheet, step.fits),
                      .standing = std::string(build::word_of(now.standing)),
                      .because = now.because, .waits_for = now.waits_for, .doers = {},
                      .helpers = {}, .no_helper = now.no_helper,
                      .running = {}, .running_since = {}, .fault = now.fault,
                      .care = step.care,
                      .readings = reading_views(*at.state, now)};
  for (const auto& [who, minutes] : now.minutes) view.minutes_taken += minutes;
  for (const trade::PersonId& who : now.doers) view.doers.push_back(at.state->name_of(who));
  for (const trade::PersonId& who : now.helpers) view.helpers.push_back(at.state->name_of(who));
  if (now.running_since) {
    view.running = at.state->name_of(now.running);
    view.running_since = iso(*now.running_since);
  }
  return view;
}

BenchCheck check_view(const State& state, const build::CheckNow& now) {
  return {.id = now.check->id, .list = now.check->list, .text = now.check->text,
          .limit = now.check->limit, .mark = now.check->mark, .covers = now.check->covers,
          .outcome = std::string(trade::word_of(now.outcome)),
          .who = now.outcome == Outcome::kNone ? std::string() : state.name_of(now.who),
          .at = moment_text(now.at), .note = now.note, .because = now.because};
}

std::vector<std::string> marks_seen(const State& state, const trade::PartId& part) {
  std::vector<std::string> seen;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (line.part != part) continue;
    for (const trade::Marked& mark : line.marked) {
      if (mark.place != trade::PlaceOfPiece::kInStore) continue;
      seen.push_back(mark.serial.empty() ? mark.lot : mark.serial);
    }
  }
  return seen;
}

/// For a place of a bike in care that was emptied.
std::string shelf_words(const State& state, const trade::PartId& part) {
  const int free = trade::free_pieces(stock_of(state, part));
  return free == 0 ? "none free in store" : fmt::format("{} free in store", free);
}

std::vector<KitPart> kit_views(const BenchDesk::At& at,
                               const std::vector<supply::Cover>& covers) {
  std::vector<KitPart> kit;
  for (const trade::SheetPart& part : at.sheet.parts) {
    const trade::PartId id(part.part);
    const trade::Part* known = at.state->part(id);
    KitPart& view = kit.emplace_back(
        KitPart{.slot = part.slot, .position = part.position, .part = part.part,
                .name = part.name, .has_serial = part.has_serial,
                .may_follow = known != nullptr && known->may_follow});
    const build::FittedNow* held = at.bench.in_place(part.slot);
    if (held != nullptr) {
      view.bound = true;
      view.serial = held->serial;
      view.lot = held->lot;
      view.came_by = held->came_by;
      view.since = iso(held->since);
      view.who = at.state->name_of(held->who);
    } else {
      view.here = at.sheet.care && at.bench.was_emptied(part.slot)
                      ? shelf_words(*at.state, id)
                      : whereabouts(*at.state, covers, *at.order, id).words;
      view.seen = marks_seen(*at.state, id);
    }
  }
  return kit;
}

bool in_hand(const KitPart& part) {
  return part.bound || part.here == "put by" || part.here == "in store" ||
         part.here == "on the bike";
}

/// Operations whose parts are in hand and whose predecessors are done or possible too.
BuildAsFar as_far_as(const BenchDesk::At& at, const std::vector<KitPart>& kit) {
  BuildAsFar far;
  std::set<std::string> missing;
  for (const KitPart& part : kit) {
    if (in_hand(part)) continue;
    missing.insert(part.slot);
    far.missing.push_back(part.position);
  }
  std::set<std::string> cannot;
  for (const build::OperationNow& now : at.bench.operations) {  // predecessors come first
    if (now.standing == Standing::kDone) continue;
    const auto waits = [&](const std::string& before) { return cannot.contains(before); };
    const auto lacks = [&](const std::string& slot) { return missing.contains(slot); };
    const bool possible = std::ranges::none_of(now.step->after, waits) &&
                          std::ranges::none_of(now.step->fits, lacks);
    (possible ? far.possible : far.not_possible).push_back(now.step->operation);
    if (!possible) cannot.insert(now.step->operation);
  }
  if (far.missing.empty()) {
    far.sentence = "Every part of this bike is in hand.";
  } else {
    far.sentence = fmt::format("Missing: {}. {} of {} open operations can be done without.",
                               listed(far.missing), far.possible.size(),
                               far.possible.size() + far.not_possible.size());
  }
  return far;
}

std::optional<BenchVisit> visit_view(const BenchDesk::At& at) {
  const build::VisitNow* visit = at.bench.open_visit();
  if (visit == nullptr) return std::nullopt;
  return BenchVisit{.about = visit->about, .km = visit->km, .since = iso(visit->since),
                    .who = at.state->name_of(visit->who), .note = visit->note,
                    .missing = build::open_in_visit(at.bench)};
}

int asked_of(const build::BenchState& bench) {
  return static_cast<int>(
      std::ranges::count(bench.operations, true, &build::OperationNow::asked));
}

int done_of(const build::BenchState& bench) {
  return static_cast<int>(std::ranges::count_if(bench.operations, [](const auto& now) {
    return now.asked && now.standing == Standing::kDone;
  }));
}

constexpr std::array kWorkedOn = {Standing::kRunning, Standing::kRedo, Standing::kPaused,
                                  Standing::kOpen};

BenchBike bike_line(const BenchDesk::At& at) {
  BenchBike bike{.order = at.order->id.text, .rider = at.order->rider.name,
                 .build = at.sheet.build, .frame = at.sheet.frame,
                 .state = std::string(trade::word_of(at.order->state)),
                 .promised = at.order->promised,
                 .done = done_of(at.bench), .operations = asked_of(at.bench),
                 .blocked = at.blocked, .visit = {}, .stops = {}, .now = {}};
  if (const build::VisitNow* visit = at.bench.open_visit()) bike.visit = visit->about;
  for (const build::StopNow& stop : at.bench.stops) bike.stops.push_back(stop.sentence);
  for (const Standing standing : kWorkedOn) {
    for (const build::OperationNow& now : at.bench.operations) {
      if (now.standing != standing) continue;
      bike.now.push_back({.operation = now.step->operation, .name = now.step->name,
                          .area = now.step->area, .skill = now.step->skill,
                          .standing = std::string(build::word_of(standing)),
                          .who = now.running.empty() ? std::string()
                                                     : at.state->name_of(now.running),
                          .since = now.running_since ? iso(*now.running_since) : std::string(),
                          .because = now.because});
    }
  }
  return bike;
}

}  // namespace

ToolView tool_view(const trade::Tool& tool, Day today) {
  ToolView view{.id = tool.id, .name = tool.name, .measures = std::string(word_of(tool.measures)),
                .good_until = tool.good_until(), .good = true, .sentence = {}};
  if (tool.out_of_use) {
    view.good = false;
    view.sentence = "out of use";
  } else if (!view.good_until) {
    view.good = false;
    view.sentence = "never calibrated";
  } else {
    view.good = today <= *view.good_until;
    view.sentence = fmt::format("{} {}", view.good ? "good until" : "calibration was due by",
                                in_words(*view.good_until, true));
  }
  return view;
}

BenchView view_of_bike(const BenchDesk::At& at, const std::vector<supply::Cover>& covers) {
  BenchView view{.order = at.order->id.text, .rider = at.order->rider.name,
                 .build = at.sheet.build, .frame = at.sheet.frame,
                 .state = std::string(trade::word_of(at.order->state)),
                 .promised = at.order->promised, .last = at.bench.last, .blocked = at.blocked,
                 .stops = {}, .operations = {}, .checks = {}, .kit = kit_views(at, covers),
                 .as_far = {}, .paired = {}, .open_questions = at.sheet.open_questions,
                 .care = at.sheet.care, .visit = visit_view(at)};
  for (const build::StopNow& stop : at.bench.stops) view.stops.push_back(stop.sentence);
  view.done = done_of(at.bench);
  for (const build::OperationNow& now : at.bench.operations) {
    if (now.asked) view.operations.push_back(operation_view(at, now));
  }
  for (const build::CheckNow& now : at.bench.checks) {
    if (now.asked) view.checks.push_back(check_view(*at.state, now));
  }
  for (const auto& [wheel, by] : at.bench.paired) view.paired.push_back(wheel);
  view.as_far = as_far_as(at, view.kit);
  return view;
}

Result<BenchView> BenchDesk::bike(const std::string& order) {
  const auto at = this->at(order, false);
  if (!at) return std::unexpected(at.error());
  if (!trade::is_live(at->order->state) && !trade::is_over(at->order->state)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is not agreed yet: there is nothing to build", order),
                  {.field = "order", .value = order});
  }
  return view_of_bike(*at, *covers(*at));
}

Result<BenchListView> BenchDesk::list() {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto now = shop_.now(**state);
  if (!now) return std::unexpected(now.error());
  const auto visits = this->visits(**state);
  if (!visits) return std::unexpected(visits.error());
  const auto is_at_the_bench = [&](const trade::Order& order) {
    const auto found = (*visits)->find(order.id);
    return trade::is_live(order.state) || (found != (*visits)->end() && is_here(found->second));
  };
  BenchListView view;
  for (const trade::Order& order : (*state)->held.orders) {
    if (!is_at_the_bench(order)) continue;
    const auto at = this->at(order.id.text, false);
    if (!at) return std::unexpected(at.error());
    view.bikes.push_back(bike_line(*at));
  }
  std::ranges::stable_sort(view.bikes, {}, [](const BenchBike& bike) {
    return bike.promised.value_or(Day::max());
  });
  for (const trade::Tool& tool : (*state)->held.tools) {
    view.tools.push_back(tool_view(tool, now->day));
  }
  for (const trade::Person& person : (*state)->held.people) {
    view.people.push_back({.id = person.id.text, .name = person.name, .skills = person.skills});
  }
  return view;
}

}  // namespace rollwright::shop

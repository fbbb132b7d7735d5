#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/traits.hpp"
#include "shop/bench_papers.hpp"
#include "shop/bike.hpp"
#include "shop/care_due.hpp"

// What a rider takes home, read off the record. Nothing is made up: what was not read stays empty.
namespace rollwright::shop {
namespace {

using documents::OwnersPack;

constexpr const char* kHandover = "handover";  // the check list of the talk
constexpr const char* kMassRead = "bike_mass";

/// A value of the sheet and how it was last read, in whichever operation that was.
struct LastRead {
  const trade::SheetValue* value = nullptr;
  const build::ReadingNow* read = nullptr;  // null: nowhere
  Instant at = {};
  bool at_handover = false;  // one of its operations belongs to the handover
};

Instant newest_of(const build::ReadingNow& reading) {
  Instant newest = {};
  for (const build::PointNow& point : reading.points) newest = std::max(newest, point.at);
  return newest;
}

/// In the order of the sheet.
std::vector<LastRead> last_readings(const BenchDesk::At& at) {
  std::vector<LastRead> readings;
  std::map<std::string, std::size_t> place;
  for (const build::OperationNow& now : at.bench.operations) {
    for (const build::ReadingNow& reading : now.readings) {
      if (reading.value->pass_or_fail) continue;
      const auto [known, is_new] = place.try_emplace(reading.value->reading, readings.size());
      if (is_new) readings.push_back({.value = reading.value});
      LastRead& last = readings[known->second];
      last.at_handover = last.at_handover || now.step->operation.starts_with("H-");
      const Instant moment = newest_of(reading);
      if (reading.taken() == 0 || moment < last.at) continue;
      last.value = reading.value;
      last.read = &reading;
      last.at = moment;
    }
  }
  return readings;
}

std::string value_text(const LastRead& last) {
  std::optional<double> least;
  std::optional<double> most;
  for (const build::PointNow& point : last.read->points) {
    if (!point.value) continue;
    least = std::min(least.value_or(*point.value), *point.value);
    most = std::max(most.value_or(*point.value), *point.value);
  }
  if (!least) return {};
  const std::string text = with_unit(*least, last.value->unit, 2);
  return *least == *most ? text : text + " to " + with_unit(*most, last.value->unit, 2);
}

OwnersPack::Value value_in_pack(const BenchDesk::At& at, const LastRead& last) {
  OwnersPack::Value value{.name = last.value->name, .value = {}, .limit = last.value->range_text,
                          .by = {}};
  if (last.read == nullptr) return value;
  value.value = value_text(last);
  const auto newest = std::ranges::max_element(last.read->points, {}, &build::PointNow::at);
  value.by = at.state->name_of(newest->who) + ", " + local_moment(*at.state, newest->at);
  if (!newest->tool.empty()) value.by += ", with " + newest->tool;
  return value;
}

void add_values(const BenchDesk::At& at, OwnersPack& pack) {
  for (const LastRead& last : last_readings(at)) {
    const trade::SheetValue& value = *last.value;
    if (value.reading == kMassRead && last.read != nullptr) {
      pack.bike_mass = value_text(last);
    } else if (value.dimension == Dimension::kTorque) {
      pack.torques.push_back(value_in_pack(at, last));
    } else if (last.at_handover || (value.dimension == Dimension::kPressure && value.stop)) {
      pack.settings.push_back(value_in_pack(at, last));
    }
  }
}

void add_mass(const BenchDesk::At& at, OwnersPack& pack) {
  const auto frame = at.order->choices.find(trade::SlotId("frame"));
  const trade::Part* part =
      frame == at.order->choices.end() ? nullptr : at.state->part(frame->second);
  if (part == nullptr) return;
  const auto permitted = trade::number_of(*part, "permitted_total_mass");
  if (!permitted) return;
  const std::string source = trade::fact_of(*part, "permitted_total_mass")->source;
  pack.permitted_mass = with_unit(*permitted, "kg", 1);
  if (!source.empty()) pack.permitted_mass += fmt::format(" ({})", source);
  for (const LastRead& last : last_readings(at)) {
    if (last.value->reading != kMassRead || last.read == nullptr) continue;
    const auto weighed = last.read->points.front().value;
    if (!weighed) continue;
    const double left = *permitted - *weighed;
    pack.mass_left = left > 0 ? with_unit(left, "kg", 1)
                              : "nothing: the bike alone weighs as much as is permitted";
  }
}

void add_pack_parts(const BenchDesk::At& at, OwnersPack& pack) {
  for (const trade::SheetPart& part : at.sheet.parts) {
    const build::FittedNow* fitted = at.bench.in_place(part.slot);
    pack.parts.push_back(
        {.place = part.position,
         .name = part.quantity > 1 ? fmt::format("{} × {}", part.quantity, part.name) : part.name,
         .marks = fitted == nullptr ? std::string() : marks_text(fitted->serial, fitted->lot),
         .has_number = part.has_serial});
  }
}

/// The day on which the last line of the talk was passed, of a bike that was handed over.
std::optional<Day> handed_over_on(const BenchDesk::At& at) {
  if (!trade::is_over(at.order->state)) return std::nullopt;
  Instant last = {};
  for (const build::CheckNow& now : at.bench.checks) {
    if (now.check->list == kHandover && now.outcome == trade::Outcome::kPass) {
      last = std::max(last, now.at);
    }
  }
  const auto local = local_time(at.state->settings.time_zone, last);
  return last == Instant{} || !local ? std::nullopt : std::optional(local->day);
}

std::string first_service_text(const trade::ServiceVisit& visit, bool halved,
                               const std::optional<Day>& from) {
  if (!visit.weeks || !from) {
    const std::string when = trade::when_in_words(visit, halved);
    return visit.weeks ? when + ", counted from the handover" : when;
  }
  const auto week = [&](int weeks) { return in_words(*from + std::chrono::days(7 * weeks), true); };
  trade::ServiceVisit by_distance = visit;
  by_distance.weeks.reset();
  std::string text = fmt::format("from {} to {}", week(visit.weeks->low), week(visit.weeks->high));
  if (visit.km || visit.hours) {
    text += fmt::format(", or {}, whichever comes first", trade::when_in_words(by_distance, halved));
  }
  return text;
}

void add_services(const std::vector<trade::ServiceVisit>& services, const std::set<std::string>& traits,
                  const std::optional<Day>& handed_over, OwnersPack& pack) {
  for (const trade::ServiceVisit& visit : services) {
    if (!visit.trait.empty() && !traits.contains(visit.trait)) continue;
    if (pack.first_service.empty() && !visit.repeats) {
      pack.first_service = first_service_text(visit, pack.halved, handed_over);
    }
    pack.visits.push_back({.name = visit.name,
                           .when = trade::when_in_words(visit, pack.halved),
                           .work = visit.work,
                           .source = visit.source});
  }
}

void add_talk(const BenchDesk::At& at, OwnersPack& pack) {
  for (const build::CheckNow& now : at.bench.checks) {
    if (now.check->list != kHandover) continue;
    std::string said;
    if (now.outcome != trade::Outcome::kNone) {
      said = fmt::format("{}, {}, {}", trade::word_of(now.outcome), at.state->name_of(now.who),
                         local_moment(*at.state, now.at));
    }
    pack.talk.push_back({.id = now.check->id, .text = now.check->text, .said = std::move(said)});
  }
}

}  // namespace

Result<OwnersPack> owners_pack_of(const trade::Trade& trade,
                                  const std::vector<trade::ServiceVisit>& services,
                                  const BenchDesk::At& at) {
  const auto build = build_of(trade, *at.order);
  if (!build) return std::unexpected(build.error());
  const build::BikeTraits traits = build::traits_of(trade, facts_of(*at.state, **build, *at.order));
  const trade::ShopSettings& settings = at.state->settings;
  const std::optional<Day> handed_over = handed_over_on(at);
  OwnersPack pack{.shop = settings.name, .town = settings.town, .invented = settings.invented,
                  .order = at.order->id.text, .rider = at.order->rider.name,
                  .contact = at.order->rider.contact, .build = (*build)->name,
                  .handed_over = handed_over ? in_words(*handed_over, true) : std::string()};
  pack.halved = halves_distances(*at.order, traits.holding);
  add_pack_parts(at, pack);
  add_values(at, pack);
  add_mass(at, pack);
  add_services(services, traits.holding, handed_over, pack);
  add_talk(at, pack);
  return pack;
}

}  // namespace rollwright::shop

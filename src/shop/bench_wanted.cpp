#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bench_at.hpp"
#include "shop/bike.hpp"
#include "shop/fit_after.hpp"
#include "shop/order_input.hpp"
#include "shop/shop.hpp"
#include "trade/meant.hpp"

// What a tablet says was done, as the rules of the stand want it.
namespace rollwright::shop {
namespace {

using trade::Deed;

constexpr std::size_t kLongestText = 500;
/// Clocks of tablets may go wrong by so much.
constexpr std::chrono::minutes kAhead{10};

Result<void> texts_fit(const DeedGiven& given) {
  const std::pair<const char*, const std::string*> texts[] = {
      {"about", &given.about}, {"reading", &given.reading}, {"value", &given.value},
      {"tool", &given.tool},   {"part", &given.part},       {"serial", &given.serial},
      {"lot", &given.lot},     {"note", &given.note},
      {"hand", &given.hand}};
  for (const auto& [field, text] : texts) {
    if (text->size() <= kLongestText) continue;
    return refuse(Code::kTooLarge, fmt::format("this is longer than {} characters", kLongestText),
                  {.field = field});
  }
  return {};
}

const trade::SheetValue* value_of(const trade::Sheet& sheet, const DeedGiven& given) {
  for (const trade::SheetStep& step : sheet.steps) {
    if (step.operation != given.about) continue;
    for (const trade::SheetValue& value : step.values) {
      if (value.reading == given.reading) return &value;
    }
  }
  return nullptr;
}

/// A number as people of both habits write it: "5,2" is 5.2.
Result<double> number_read(std::string text, const trade::SheetValue& value) {
  std::ranges::replace(text, ',', '.');
  Result<double> read = parse_amount(text, value.dimension, value.unit);
  if (!read) read.error().place.field = "value";
  return read;
}

/// "412", "412 km", "1 204,5": what the bike's display shows.
Result<double> km_read(std::string text) {
  const Place place{.field = "value", .value = text};
  std::ranges::replace(text, ',', '.');
  std::erase(text, ' ');
  if (text.ends_with("km")) text.resize(text.size() - 2);
  if (const auto number = to_number(text)) return *number;
  return refuse(Code::kBadInput, "write the km as a number, as in 412", place);
}

Result<Instant> moment_of(const DeedGiven& given, Instant now) {
  if (given.at.empty()) return now;
  Result<Instant> at = parse_instant(given.at);
  if (!at) {
    at.error().place = {.field = "at", .value = given.at};
    return at;
  }
  if (*at > now + kAhead) {
    return refuse(Code::kOutOfRange, "this lies in the future; set the tablet's clock",
                  {.field = "at", .value = given.at});
  }
  return std::min(*at, now);
}

/// What goods-in knows of a part's pieces: the lot of a serial, the line by which it came.
Result<void> add_from_goods_in(const State& state, const trade::OrderId& order,
                               build::DeedWanted& wanted) {
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (line.part != wanted.part) continue;
    for (const trade::Marked& mark : line.marked) {
      const bool same = wanted.serial.empty() ? !wanted.lot.empty() && mark.lot == wanted.lot
                                              : mark.serial == wanted.serial;
      if (!same) continue;
      if (mark.place != trade::PlaceOfPiece::kInStore && !wanted.serial.empty()) {
        return refuse(Code::kRefused,
                      fmt::format("{} of purchase line {} is {}; it must not be built in",
                                  wanted.serial, line.id, trade::word_of(mark.place)),
                      {.field = "serial", .value = wanted.serial});
      }
      if (wanted.lot.empty()) wanted.lot = mark.lot;
      wanted.came_by = line.id;
      return {};
    }
  }
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (line.part == wanted.part && line.order == order && line.came) wanted.came_by = line.id;
  }
  if (wanted.came_by.empty()) wanted.came_by = "stock";
  return {};
}

}  // namespace

Result<build::DeedWanted> BenchDesk::wanted(const At& at,
                                                const build::BenchState& now,
                                                const DeedGiven& given) {
  if (Result<void> ok = texts_fit(given); !ok) return std::unexpected(ok.error());
  const auto deed = trade::deed_named(given.deed);
  if (!deed) {
    std::vector<std::string> words;
    for (const Deed each : trade::all_deeds()) words.emplace_back(trade::word_of(each));
    return refuse(Code::kBadInput, "nobody does such a thing" + trade::meant(given.deed, words),
                  {.field = "deed", .value = given.deed});
  }
  const auto outcome = trade::outcome_named(given.outcome);
  if (!outcome) {
    return refuse(Code::kBadInput, "an outcome is pass, fix or stop",
                  {.field = "outcome", .value = given.outcome});
  }
  build::DeedWanted wanted{.deed = *deed, .about = given.about, .reading = given.reading,
                           .point = given.point, .value = {}, .outcome = *outcome,
                           .tool = given.tool, .part = {}, .serial = given.serial,
                           .lot = given.lot, .came_by = {}, .note = given.note};
  const auto moment = moment_of(given, at.moment);
  if (!moment) return std::unexpected(moment.error());
  wanted.at = *moment;
  const trade::SheetValue* value = value_of(at.sheet, given);
  if (value != nullptr && !value->pass_or_fail && !given.value.empty()) {
    const Result<double> number = number_read(given.value, *value);
    if (!number) return std::unexpected(number.error());
    wanted.value = *number;
  }
  if (*deed == Deed::kVisit && !given.value.empty()) {
    const Result<double> km = km_read(given.value);
    if (!km) return std::unexpected(km.error());
    wanted.value = *km;
  }
  if (*deed == Deed::kKitted || *deed == Deed::kOn) {
    auto part = part_for(at, given);
    if (!part) return std::unexpected(part.error());
    wanted.part = std::move(*part);
    if (Result<void> ok = add_from_goods_in(*at.state, at.order->id, wanted); !ok) {
      return std::unexpected(ok.error());
    }
    if (Result<void> ok = on_no_other_bike(at, wanted); !ok) return std::unexpected(ok.error());
  }
  if (*deed == Deed::kHand) {
    const auto person = person_called(*at.state, given.hand, "hand");
    if (!person && !given.hand.empty()) return std::unexpected(person.error());
    wanted.serial = person ? (*person)->id.text : std::string();
  }
  if (*deed == Deed::kOff) {
    if (const build::FittedNow* part = now.in_place(given.about)) {
      wanted.part = part->part;
      wanted.serial = part->serial;
      wanted.lot = part->lot;
      wanted.came_by = part->came_by;
    }
  }
  return wanted;
}

Result<trade::PartId> BenchDesk::part_for(const At& at, const DeedGiven& given) const {
  const auto place = std::ranges::find(at.sheet.parts, given.about, &trade::SheetPart::slot);
  if (place == at.sheet.parts.end()) return trade::PartId();
  if (given.part.empty() || given.part == place->part) return trade::PartId(place->part);
  trade::PartId other(given.part);
  if (!at.sheet.care) return other;  // the rules of the stand refuse it
  const trade::SlotId slot(given.about);
  const auto build = build_of(shop_.trade_, *at.order);
  if (!build) return std::unexpected(build.error());
  if (Result<void> ok = belongs(shop_.trade_, *at.state, **build, slot, other); !ok) {
    return std::unexpected(ok.error());
  }
  trade::Order changed = *at.order;
  changed.choices[slot] = other;
  const FitAfter fit = fit_after({.trade = shop_.trade_, .state = *at.state, .build = **build,
                                  .order = *at.order, .today = at.now.day},
                                 changed, {slot});
  if (fit.stops.empty()) return other;
  return refuse(Code::kRefused,
                fmt::format("{} does not go onto this bike: {}", at.state->name_of(other),
                            join(fit.stops, "; ")),
                {.field = "part", .value = given.part});
}

Result<void> BenchDesk::on_no_other_bike(const At& at, const build::DeedWanted& wanted) {
  if (wanted.serial.empty()) return {};
  const auto found = shop_.book_.find_marks({.parts = {wanted.part}, .lot_from = {}, .lot_to = {},
                                             .serial_from = wanted.serial, .serial_to = {}});
  if (!found) return std::unexpected(found.error());
  std::map<trade::OrderId, bool> on;
  for (const book::LineFound& mark : *found) on[mark.order] = mark.line.deed != Deed::kOff;
  for (const auto& [order, is_on] : on) {
    if (!is_on || order == at.order->id) continue;
    return refuse(Code::kConflict,
                  fmt::format("number {} of {} is on the bike of order {}", wanted.serial,
                              at.state->name_of(wanted.part), order.text),
                  {.field = "serial", .value = wanted.serial});
  }
  return {};
}

}  // namespace rollwright::shop

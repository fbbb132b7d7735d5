#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "build/sheet.hpp"
#include "shop/bench_at.hpp"
#include "shop/bench_view.hpp"
#include "shop/bike.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"
#include "shop/workshop_pieces.hpp"
#include "trade/meant.hpp"

namespace rollwright::shop {
namespace {

using trade::Deed;
using trade::OrderState;

constexpr std::size_t kMostDeeds = 500;
/// Orders whose sheets are kept; more than a shop has in work at once.
constexpr std::size_t kMostKnown = 500;
constexpr std::size_t kLongestText = 500;
/// Somebody faster is met at most so often in a row.
constexpr int kTries = 8;
/// Clocks of tablets may go wrong by so much.
constexpr std::chrono::minutes kAhead{10};

Result<void> may_be_worked_on(const trade::Order& order) {
  if (trade::is_live(order.state) || order.state == OrderState::kInCare) return {};
  return refuse(Code::kRefused,
                fmt::format("order {} is in the state {}: nothing is built on it", order.id.text,
                            trade::word_of(order.state)),
                {.field = "order", .value = order.id.text});
}

std::unexpected<Error> at_place(std::size_t index, Error error) {
  error.place.field = fmt::format("deeds[{}]{}{}", index, error.place.field.empty() ? "" : ".",
                                  error.place.field);
  return std::unexpected(std::move(error));
}

Result<void> texts_fit(const DeedGiven& given) {
  const std::pair<const char*, const std::string*> texts[] = {
      {"about", &given.about}, {"reading", &given.reading}, {"value", &given.value},
      {"tool", &given.tool},   {"serial", &given.serial},   {"lot", &given.lot},
      {"note", &given.note}};
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

const trade::Tool* tool_called(const State& state, const std::string& id) {
  const auto found = std::ranges::find(state.held.tools, id, &trade::Tool::id);
  return found == state.held.tools.end() ? nullptr : &*found;
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

/// Operations of the order that are done, as its record says by now.
void mark_done(trade::Order& order, const build::BenchState& bench) {
  for (const build::OperationNow& now : bench.operations) {
    if (now.standing == build::Standing::kDone) {
      order.done.insert(now.step->operation);
    } else {
      order.done.erase(now.step->operation);
    }
  }
}

void add_times(const build::BenchState& bench, const std::string& operation,
               const trade::OrderId& order, trade::ShopFiles& put) {
  constexpr double kDay = 1440;
  const build::OperationNow* now = bench.operation(operation);
  for (const auto& [who_and_day, minutes] : now->minutes) {
    const double whole = std::round(minutes);
    if (!(1 <= whole && whole <= kDay)) continue;
    put.times.push_back({.order = order, .operation = operation, .person = who_and_day.first,
                         .day = who_and_day.second, .minutes = static_cast<int>(whole)});
  }
}

}  // namespace

std::string blocked_because(const trade::Order& order) {
  if (order.flags.contains("Stop-sale")) {
    return "a part of this bike is on stop-sale: nothing is built until that is settled";
  }
  if (!order.flags.contains("Held")) return {};
  return order.held_because.empty() ? "this order is on hold"
                                    : "this order is on hold: " + order.held_because;
}

/// What was made of one order, and what it rests on.
struct BenchDesk::Known {
  std::shared_ptr<const Catalogue> catalogue;
  std::shared_ptr<const AllElse> all_else;
  std::int64_t revision = 0;
  std::shared_ptr<const trade::Sheet> sheet;

  std::shared_ptr<const State> covers_of_state;
  Day covers_of_day = {};
  std::shared_ptr<const std::vector<supply::Cover>> covers;
};

BenchDesk::BenchDesk(Shop& shop) : shop_(shop) {}
BenchDesk::~BenchDesk() = default;

template <class OrderAt>
Result<std::shared_ptr<const trade::Sheet>> BenchDesk::sheet_once(const OrderAt& at) {
  const std::string& id = at.order->id.text;
  {
    const std::lock_guard lock(mutex_);
    const auto found = known_.find(id);
    if (found != known_.end() && found->second->catalogue == at.state->catalogue &&
        found->second->all_else == at.state->all_else &&
        found->second->revision == at.order->revision) {
      return found->second->sheet;
    }
  }
  auto made = shop_.sheet_of(at);
  if (!made) return std::unexpected(made.error());
  auto sheet = std::make_shared<const trade::Sheet>(std::move(*made));
  const std::lock_guard lock(mutex_);
  if (known_.size() >= kMostKnown) known_.clear();
  auto known = std::make_unique<Known>();
  known->catalogue = at.state->catalogue;
  known->all_else = at.state->all_else;
  known->revision = at.order->revision;
  known->sheet = sheet;
  known_[id] = std::move(known);
  return sheet;
}

BenchView BenchDesk::view(const At& at) {
  const std::string& id = at.order->id.text;
  std::shared_ptr<const std::vector<supply::Cover>> covers;
  const auto same = [&at](const Known& known) {
    const auto& before = known.covers_of_state;
    return before && before->catalogue == at.state->catalogue &&
           before->all_else == at.state->all_else &&
           before->in_order.same_as(at.state->in_order) && known.covers_of_day == at.now.day;
  };
  {
    const std::lock_guard lock(mutex_);
    const auto found = known_.find(id);
    if (found != known_.end() && same(*found->second)) covers = found->second->covers;
  }
  if (!covers) {
    covers = std::make_shared<const std::vector<supply::Cover>>(
        covers_of(shop_.trade_, *at.state, at.now.day, at.order));
    const std::lock_guard lock(mutex_);
    const auto found = known_.find(id);
    if (found != known_.end()) {
      found->second->covers_of_state = at.state;
      found->second->covers_of_day = at.now.day;
      found->second->covers = covers;
    }
  }
  return view_of_bike(at, *covers);
}

Instant BenchDesk::moment() const { return shop_.clock_.now(); }

Result<BenchDesk::At> BenchDesk::at(const std::string& order, bool to_write) {
  const auto found = shop_.order_at(order);
  if (!found) return std::unexpected(found.error());
  if (to_write) {
    if (Result<void> ok = may_be_worked_on(*found->order); !ok) return std::unexpected(ok.error());
  }
  const auto sheet = sheet_once(*found);
  if (!sheet) return std::unexpected(sheet.error());
  auto lines = shop_.book_.bike_lines(found->order->id);
  if (!lines) return std::unexpected(lines.error());
  At at{.state = found->state, .order = found->order, .now = found->now,
        .moment = shop_.clock_.now(),
        .sheet = *sheet, .lines = std::move(*lines), .bench = {}, .blocked = blocked_because(*found->order)};
  at.bench = build::bench_state(*at.sheet, at.lines);
  return at;
}

Result<build::DeedWanted> BenchDesk::wanted(const At& at, const DeedGiven& given) {
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
  const trade::SheetValue* value = value_of(*at.sheet, given);
  if (value != nullptr && !value->pass_or_fail && !given.value.empty()) {
    const Result<double> number = number_read(given.value, *value);
    if (!number) return std::unexpected(number.error());
    wanted.value = *number;
  }
  if (*deed == Deed::kKitted || *deed == Deed::kOn) {
    const auto part =
        std::ranges::find(at.sheet->parts, given.about, &trade::SheetPart::slot);
    if (part != at.sheet->parts.end()) wanted.part = trade::PartId(part->part);
    if (Result<void> ok = add_from_goods_in(*at.state, at.order->id, wanted); !ok) {
      return std::unexpected(ok.error());
    }
    if (Result<void> ok = on_no_other_bike(at, wanted); !ok) return std::unexpected(ok.error());
  }
  if (*deed == Deed::kOff) {
    if (const build::FittedNow* part = at.bench.in_place(given.about)) {
      wanted.part = part->part;
      wanted.serial = part->serial;
      wanted.lot = part->lot;
      wanted.came_by = part->came_by;
    }
  }
  return wanted;
}

Result<void> BenchDesk::on_no_other_bike(const At& at, const build::DeedWanted& wanted) {
  if (wanted.serial.empty()) return {};
  const auto found = shop_.book_.find_marks({.parts = {wanted.part}, .lot_from = {}, .lot_to = {},
                                             .serial_from = wanted.serial, .serial_to = {}});
  if (!found) return std::unexpected(found.error());
  std::map<trade::OrderId, bool> on;
  for (const book::MarkFound& mark : *found) on[mark.order] = mark.line.deed != Deed::kOff;
  for (const auto& [order, is_on] : on) {
    if (!is_on || order == at.order->id) continue;
    return refuse(Code::kConflict,
                  fmt::format("number {} of {} is on the bike of order {}", wanted.serial,
                              at.state->name_of(wanted.part), order.text),
                  {.field = "serial", .value = wanted.serial});
  }
  return {};
}

Result<BenchView> BenchDesk::write(const std::string& order, const DeedsGiven& given) {
  if (given.deeds.empty() || given.deeds.size() > kMostDeeds) {
    return refuse(Code::kOutOfRange, fmt::format("between 1 and {} deeds at a time", kMostDeeds),
                  {.field = "deeds", .value = std::to_string(given.deeds.size())});
  }
  for (int attempt = 1;; ++attempt) {
    auto at = this->at(order, true);
    if (!at) return std::unexpected(at.error());
    const auto sent = shop_.book_.was_sent(given.key);
    if (!sent) return std::unexpected(sent.error());
    if (*sent) return view(*at);
    const auto person = person_called(*at->state, given.who, "who");
    if (!person) return std::unexpected(person.error());

    trade::BikeLines record{.order = at->order->id, .after = at->bench.last, .key = given.key,
                            .lines = {}};
    book::Change change{.who = (*person)->id.text, .what = given.deeds.front().deed,
                        .why = given.deeds.front().about};
    for (std::size_t index = 0; index < given.deeds.size(); ++index) {
      const auto wanted = this->wanted(*at, given.deeds[index]);
      if (!wanted) return at_place(index, wanted.error());
      const auto line = build::judge({.sheet = *at->sheet, .state = at->bench,
                                      .person = **person, .wanted = *wanted,
                                      .tool = tool_called(*at->state, wanted->tool),
                                      .four_eyes = kFourEyes, .blocked = at->blocked});
      if (!line) return at_place(index, line.error());
      record.lines.push_back(*line);
      at->lines.push_back(*line);
      at->bench = build::bench_state(*at->sheet, at->lines);
      if (line->deed == Deed::kDone) {
        add_times(at->bench, line->about, at->order->id, change.put);
      }
    }
    trade::Order done = *at->order;
    mark_done(done, at->bench);
    if (done.done != at->order->done) change.put.orders = {done};
    change.record = {std::move(record)};
    const bool change_was_order = !change.put.orders.empty();
    const Result<void> written = shop_.write(std::move(change), order);
    if (written) return change_was_order ? bike(order) : Result<BenchView>(view(*at));
    if (written.error().code != Code::kConflict || attempt == kTries) {
      return std::unexpected(written.error());
    }
  }
}

}  // namespace rollwright::shop

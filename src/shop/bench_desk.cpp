#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "build/bench_writing.hpp"
#include "shop/bench_at.hpp"
#include "shop/bench_view.hpp"
#include "shop/recalled.hpp"
#include "shop/shelf_of_care.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"
#include "shop/workshop_pieces.hpp"

namespace rollwright::shop {
namespace {

using trade::Deed;
using trade::OrderState;

constexpr std::size_t kMostDeeds = 500;
/// Somebody faster, in another program, is met at most so often in a row.
constexpr int kTries = 8;

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

const trade::Tool* tool_called(const State& state, const std::string& id) {
  const auto found = std::ranges::find(state.held.tools, id, &trade::Tool::id);
  return found == state.held.tools.end() ? nullptr : &*found;
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

/// The order with the operations that are done now; nothing when these were.
std::optional<trade::Order> with_done(const trade::Order& order, const build::BenchState& now) {
  std::set<std::string> done = build::done_by(now, order.done);
  if (done == order.done) return std::nullopt;
  trade::Order changed = order;
  changed.done = std::move(done);
  return changed;
}

bool is_put_on(Deed deed) { return deed == Deed::kOn || deed == Deed::kKitted; }

/// The order of a bike in care with the parts that came on, so that values and rules are those of the
/// bike as it is; what was signed stays with its version.
std::optional<trade::Order> with_other_parts(const trade::Order& order,
                                             const std::vector<trade::BikeLine>& lines) {
  trade::Order changed = order;
  bool is_other = false;
  for (const trade::BikeLine& line : lines) {
    if (!is_put_on(line.deed)) continue;
    trade::PartId& part = changed.choices[trade::SlotId(line.about)];
    is_other = is_other || part != line.part;
    part = line.part;
  }
  return is_other ? std::optional(std::move(changed)) : std::nullopt;
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

BenchDesk::BenchDesk(Shop& shop) : shop_(shop), records_(shop.book_), visits_(shop.book_) {}
BenchDesk::~BenchDesk() = default;

Result<std::shared_ptr<const BenchRecord>> BenchDesk::record(
    const State& state, const trade::Order& order, const BenchRecords::MakeSheet& make_sheet) {
  return records_.of(state, order, make_sheet);
}

BenchDesk::Covers BenchDesk::covers(const At& at) {
  const std::string& id = at.order->id.text;
  const auto is_same = [&at](const CoversKept& kept) {
    return kept.in_order && kept.in_order->same_as(at.state->in_order) &&
           kept.catalogue.lock() == at.state->catalogue &&
           kept.all_else.lock() == at.state->all_else && kept.day == at.now.day;
  };
  {
    const std::lock_guard lock(mutex_);
    const auto found = covers_.by_order.find(id);
    if (is_same(covers_) && found != covers_.by_order.end()) return found->second;
  }
  auto made = std::make_shared<const std::vector<supply::Cover>>(
      covers_of(shop_.trade_, *at.state, at.now.day, at.order));
  const std::lock_guard lock(mutex_);
  if (!is_same(covers_)) {
    covers_ = {.catalogue = at.state->catalogue, .all_else = at.state->all_else,
               .in_order = at.state->in_order, .day = at.now.day, .by_order = {}};
  }
  return covers_.by_order[id] = std::move(made);
}

Instant BenchDesk::moment() const { return shop_.clock_.now(); }

Result<BenchDesk::At> BenchDesk::at(const std::string& order, bool to_write) {
  const auto found = shop_.order_at(order);
  if (!found) return std::unexpected(found.error());
  if (to_write) {
    if (Result<void> ok = may_be_worked_on(*found->order); !ok) return std::unexpected(ok.error());
  }
  const auto record =
      this->record(*found->state, *found->order, [&] { return shop_.stand_sheet_of(*found); });
  if (!record) return std::unexpected(record.error());
  return At{.state = found->state, .order = found->order, .now = found->now,
            .moment = shop_.clock_.now(), .record = *record,
            .blocked = blocked_because(*found->order)};
}

Result<WrittenView> BenchDesk::write(const std::string& order, const DeedsGiven& given) {
  if (given.deeds.empty() || given.deeds.size() > kMostDeeds) {
    return refuse(Code::kOutOfRange, fmt::format("between 1 and {} deeds at a time", kMostDeeds),
                  {.field = "deeds", .value = std::to_string(given.deeds.size())});
  }
  const std::lock_guard turn(turns_[std::hash<std::string>{}(order) % turns_.size()]);
  for (int attempt = 1;; ++attempt) {
    const auto at = this->at(order, true);
    if (!at) return std::unexpected(at.error());
    const auto sent = shop_.book_.was_sent(given.key);
    if (!sent) return std::unexpected(sent.error());
    if (*sent) {
      return WrittenView{.order = order, .last = at->bench.last, .already = true, .lines = {}};
    }
    auto judged = judged_all(*at, given);
    if (!judged) return std::unexpected(judged.error());
    const bool changes_order = !judged->change.put.orders.empty();
    const auto written = shop_.write_told(std::move(judged->change), order);
    if (written && written->sent_before) continue;
    if (written) {
      if (!changes_order) records_.keep(*at->state, *at->order, judged->record);
      return written_view(*at, judged->lines);
    }
    records_.forget(at->order->id);
    if (written.error().code != Code::kConflict || attempt == kTries) {
      return std::unexpected(written.error());
    }
  }
}

Result<BenchDesk::Judged> BenchDesk::judged_all(const At& at, const DeedsGiven& given) {
  const auto person = person_called(*at.state, given.who, "who");
  if (!person) return std::unexpected(person.error());
  Judged judged{.change = {.who = (*person)->id.text, .what = given.deeds.front().deed,
                           .why = given.deeds.front().about},
                .record = {}, .lines = {}};
  build::BenchWriting writing(at.sheet, at.bench);
  ShelfOfCare shelf(*at.state, *at.order);
  for (std::size_t index = 0; index < given.deeds.size(); ++index) {
    auto wanted = this->wanted(at, writing.now(), given.deeds[index]);
    if (!wanted) return at_place(index, wanted.error());
    if (at.sheet.care && is_put_on(wanted->deed)) shelf.give(at.sheet, writing.now(), *wanted);
    const Result<void> ok = writing.add({.person = **person,
                                         .tool = tool_called(*at.state, wanted->tool),
                                         .four_eyes = kFourEyes, .blocked = at.blocked},
                                        *wanted);
    if (!ok) return at_place(index, ok.error());
    if (wanted->deed == Deed::kDone) {
      add_times(writing.now(), wanted->about, at.order->id, judged.change.put);
    }
  }
  judged.lines = writing.lines();
  if (at.sheet.care) {
    shelf.into(judged.change.put, at.now.day);
    if (Result<void> ok = add_fixed(at, judged); !ok) return std::unexpected(ok.error());
    judged.change.read_at = at.state->entry;
  }
  if (auto changed = at.sheet.care ? with_other_parts(*at.order, judged.lines)
                                   : with_done(*at.order, writing.now())) {
    judged.change.put.orders = {std::move(*changed)};
  }
  judged.change.pictures = given.pictures;
  judged.change.record = {{.order = at.order->id, .after = at.bench.last, .key = given.key,
                           .lines = judged.lines}};
  judged.record = std::make_shared<const BenchRecord>(at.record->sheet, writing.now());
  return judged;
}

Result<void> BenchDesk::add_fixed(const At& at, Judged& judged) const {
  const auto back = std::ranges::find(judged.lines, Deed::kBack, &trade::BikeLine::deed);
  if (back == judged.lines.end() || back->outcome != trade::Outcome::kPass) return {};
  auto lines = shop_.book_.bike_lines(at.order->id);
  if (!lines) return std::unexpected(lines.error());
  lines->insert(lines->end(), judged.lines.begin(), judged.lines.end());
  judged.change.put.recall_steps = fixed_by_visit(
      *at.state, {.order = *at.order, .lines = *lines},
      {.recall = {}, .order = {}, .number = 1, .status = trade::RecallStatus::kFixed,
       .day = at.now.day, .who = trade::PersonId(judged.change.who), .channel = {},
       .note = "no piece of it is on the bike since its visit"});
  return {};
}

WrittenView BenchDesk::written_view(const At& at, const std::vector<trade::BikeLine>& lines) const {
  WrittenView view{.order = at.order->id.text, .last = lines.back().number, .already = false,
                   .lines = {}};
  for (const trade::BikeLine& line : lines) {
    view.lines.push_back({.number = line.number, .deed = std::string(trade::word_of(line.deed)),
                          .about = line.about, .reading = line.reading, .point = line.point,
                          .outcome = std::string(trade::word_of(line.outcome)),
                          .sentence = sentence_of(line, shop_.trade_, *at.state)});
  }
  return view;
}

}  // namespace rollwright::shop

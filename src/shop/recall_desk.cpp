#include "shop/recall_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/recall_at.hpp"
#include "shop/shop.hpp"
#include "trade/meant.hpp"

namespace rollwright::shop {
namespace {

constexpr std::size_t kLongestNotice = 1000;
/// Somebody faster is met at most so often in a row.
constexpr int kRecallTries = 8;

Result<void> fits(const std::string& text, const char* field) {
  if (text.size() <= kLongestNotice) return {};
  return refuse(Code::kTooLarge, fmt::format("this is longer than {} characters", kLongestNotice),
                {.field = field});
}

Result<void> is_number_range(const std::string& from, const std::string& to, const char* field) {
  if (from.empty() || to.empty() || (from.size() == to.size() && from <= to)) return {};
  return refuse(Code::kBadInput,
                fmt::format("a range goes from a lower to a higher number with as many characters; "
                            "\"{}\" to \"{}\" does not",
                            from, to),
                {.field = field, .value = to});
}

/// One part of the catalogue, or a kind of the trade with a maker.
Result<void> names_parts(const trade::Trade& trade, const State& state, const RecallGiven& given) {
  if (!given.part.empty()) {
    if (state.part(trade::PartId(given.part)) != nullptr) return {};
    std::vector<std::string> ids;
    for (const auto& [id, part] : state.parts) ids.push_back(id.text);
    return refuse(Code::kNotFound,
                  "there is no such part in the catalogue" + trade::meant(given.part, ids),
                  {.field = "part", .value = given.part});
  }
  if (given.kind.empty() || given.maker.empty()) {
    return refuse(Code::kBadInput, "say which part is called back, or the kind and its maker",
                  {.field = "part"});
  }
  if (trade.kinds.contains(trade::KindId(given.kind))) return {};
  std::vector<std::string> kinds;
  for (const auto& [id, kind] : trade.kinds) kinds.push_back(id.text);
  return refuse(Code::kNotFound, "there is no such kind of part" + trade::meant(given.kind, kinds),
                {.field = "kind", .value = given.kind});
}

Result<void> is_a_notice(const trade::Trade& trade, const State& state, const RecallGiven& given) {
  const std::pair<const char*, const std::string*> texts[] = {
      {"notice", &given.notice},     {"maker", &given.maker},           {"wrong", &given.wrong},
      {"remedy", &given.remedy},     {"lot_from", &given.lot_from},     {"lot_to", &given.lot_to},
      {"serial_to", &given.serial_to}, {"serial_from", &given.serial_from}};
  Result<void> ok;
  for (const auto& [field, text] : texts) {
    if (ok) ok = fits(*text, field);
  }
  if (ok && trim(given.wrong).empty()) {
    ok = refuse(Code::kBadInput, "say what is wrong with the part", {.field = "wrong"});
  }
  if (ok) ok = names_parts(trade, state, given);
  if (ok) ok = is_number_range(given.lot_from, given.lot_to, "lot_to");
  if (ok) ok = is_number_range(given.serial_from, given.serial_to, "serial_to");
  if (ok && given.day_from && given.day_to && *given.day_to < *given.day_from) {
    ok = refuse(Code::kBadInput, "the last day lies before the first",
                {.field = "day_to", .value = iso(*given.day_to)});
  }
  return ok;
}

/// "R1", "R2" ...: one more than the highest there is.
std::string next_number(const State& state) {
  long long highest = 0;
  for (const trade::Recall& recall : state.held.recalls) {
    if (recall.number.starts_with("R")) {
      highest = std::max(highest, to_whole(recall.number.substr(1)).value_or(0));
    }
  }
  return fmt::format("R{}", highest + 1);
}

trade::Recall recall_from(const RecallGiven& given) {
  const bool one_part = !given.part.empty();
  return {.notice = given.notice, .part = trade::PartId(given.part),
          .kind = trade::KindId(one_part ? std::string() : given.kind),
          .maker = one_part ? std::string() : given.maker,
          .lot_from = given.lot_from, .lot_to = given.lot_to, .serial_from = given.serial_from,
          .serial_to = given.serial_to, .day_from = given.day_from, .day_to = given.day_to,
          .wrong = given.wrong, .danger = given.danger, .remedy = given.remedy};
}

void put_live(const std::vector<TouchedBike>& bikes, book::Change& change) {
  for (const TouchedBike& bike : bikes) {
    if (trade::is_live(bike.order->state)) change.put.orders.push_back(*bike.order);
  }
}

/// Again while somebody else is faster.
template <class Try>
auto while_overtaken(Try attempt) -> decltype(attempt()) {
  for (int count = 1;; ++count) {
    auto answer = attempt();
    if (answer || answer.error().code != Code::kConflict || count == kRecallTries) return answer;
  }
}

}  // namespace

Result<RecallDesk::Touched> RecallDesk::touched_by(const std::string& number) {
  auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto recall = std::ranges::find((*state)->held.recalls, number, &trade::Recall::number);
  if (recall == (*state)->held.recalls.end()) {
    return refuse(Code::kNotFound, fmt::format("there is no recall {}", number),
                  {.field = "recall", .value = number});
  }
  auto bikes = touched_bikes(shop_.book_, **state, *recall);
  if (!bikes) return std::unexpected(bikes.error());
  RecallsNow now = recalls_now(**state);
  return Touched{.state = std::move(*state), .now = std::move(now), .recall = &*recall,
                 .bikes = std::move(*bikes)};
}

Result<RecallsView> RecallDesk::list() {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const RecallsNow now = recalls_now(**state);
  RecallsView view;
  int open = 0;
  for (const trade::Recall& recall : now.recalls) {
    const auto bikes = touched_bikes(shop_.book_, **state, recall);
    if (!bikes) return std::unexpected(bikes.error());
    view.recalls.push_back(recall_line(**state, now, recall, *bikes));
    open += recall.closed ? 0 : 1;
  }
  std::ranges::stable_sort(view.recalls, [](const RecallLine& a, const RecallLine& b) {
    return std::tuple(a.closed.has_value(), b.opened) < std::tuple(b.closed.has_value(), a.opened);
  });
  view.sentence = now.recalls.empty() ? "No part was called back yet."
                                      : fmt::format("{} of {} recalls open.", open,
                                                    now.recalls.size());
  return view;
}

Result<RecallView> RecallDesk::recall(const std::string& number) {
  const auto at = touched_by(number);
  if (!at) return std::unexpected(at.error());
  const trade::Recall& recall = *at->recall;
  RecallView view{.line = recall_line(*at->state, at->now, recall, at->bikes),
                  .part = recall.part.text, .ranges = ranges_in_words(recall),
                  .closed_by = at->state->name_of(trade::PersonId(recall.closed_by)),
                  .closing_note = recall.closing_note, .bikes = {}, .orders = {},
                  .stock = recalled_stock(*at->state, recall),
                  .statuses = trade::all_recall_statuses()};
  for (const TouchedBike& bike : at->bikes) {
    auto& into = was_handed_over(bike.order->state) ? view.bikes : view.orders;
    for (const RecalledPiece& piece : bike.pieces) {
      into.push_back(recalled_bike(shop_.trade_, *at, bike, piece));
    }
    if (!bike.pieces.empty()) continue;  // else it was spoken of, and has the part no more
    into.push_back(recalled_bike(shop_.trade_, *at, bike, {.certainty = trade::Certainty::kNot}));
  }
  return view;
}

Result<RecallView> RecallDesk::open(const RecallGiven& given) {
  return while_overtaken([&]() -> Result<RecallView> {
    const auto state = shop_.state();
    if (!state) return std::unexpected(state.error());
    const auto person = person_called(**state, given.who, "who");
    if (!person) return std::unexpected(person.error());
    const auto time = shop_.now(**state);
    if (!time) return std::unexpected(time.error());
    if (Result<void> ok = is_a_notice(shop_.trade_, **state, given); !ok) {
      return std::unexpected(ok.error());
    }
    trade::Recall recall = recall_from(given);
    recall.number = next_number(**state);
    recall.opened_by = (*person)->id;
    recall.opened = time->day;
    const auto bikes = touched_bikes(shop_.book_, **state, recall);
    if (!bikes) return std::unexpected(bikes.error());
    book::Change change{.who = (*person)->id.text, .what = "recall", .why = recall.number};
    change.put.recalls = {recall};
    change.read_at = (*state)->entry;
    put_live(*bikes, change);
    if (Result<void> ok = shop_.write(std::move(change), ""); !ok) {
      return std::unexpected(ok.error());
    }
    return this->recall(recall.number);
  });
}

Result<RecallView> RecallDesk::tell(const std::string& number, const ToldGiven& given) {
  return while_overtaken([&]() -> Result<RecallView> {
    const auto at = touched_by(number);
    if (!at) return std::unexpected(at.error());
    const auto person = person_called(*at->state, given.who, "who");
    if (!person) return std::unexpected(person.error());
    const auto status = trade::recall_status_named(given.status);
    if (!status) {
      return refuse(Code::kBadInput,
                    "say told, no answer, booked, fixed, refused or sold on" +
                        trade::meant(given.status, trade::all_recall_statuses()),
                    {.field = "status", .value = given.status});
    }
    Result<void> ok = fits(given.note, "note");
    if (ok) ok = fits(given.channel, "channel");
    if (!ok) return std::unexpected(ok.error());
    if (at->recall->closed) {
      return refuse(Code::kRefused, fmt::format("recall {} is closed", number),
                    {.field = "recall", .value = number});
    }
    const trade::OrderId order(given.order);
    const auto bike = std::ranges::find_if(
        at->bikes, [&](const TouchedBike& each) { return each.order->id == order; });
    const trade::RecallStep* last = last_step(at->now, number, order);
    if (bike == at->bikes.end() && last == nullptr) {
      const bool known = at->state->orders.contains(order);
      return refuse(known ? Code::kRefused : Code::kNotFound,
                    known ? fmt::format("recall {} does not touch order {}", number, given.order)
                          : fmt::format("there is no order {}", given.order),
                    {.field = "order", .value = given.order});
    }
    const auto time = shop_.now(*at->state);
    if (!time) return std::unexpected(time.error());
    book::Change change{.who = (*person)->id.text, .what = "recall-told",
                        .why = fmt::format("{} {}", number, given.status)};
    change.read_at = at->state->entry;
    change.put.recall_steps = {{.recall = number, .order = order,
                                .number = last == nullptr ? 1 : last->number + 1,
                                .status = *status, .day = time->day, .who = (*person)->id,
                                .channel = given.channel, .note = given.note}};
    put_live(at->bikes, change);
    if (ok = shop_.write(std::move(change), given.order); !ok) return std::unexpected(ok.error());
    return recall(number);
  });
}

Result<RecallView> RecallDesk::close(const std::string& number, const RecallClosing& given) {
  return while_overtaken([&]() -> Result<RecallView> {
    const auto at = touched_by(number);
    if (!at) return std::unexpected(at.error());
    const auto person = person_called(*at->state, given.who, "who");
    if (!person) return std::unexpected(person.error());
    if (Result<void> ok = fits(given.note, "note"); !ok) return std::unexpected(ok.error());
    if (at->recall->closed) {
      return refuse(Code::kRefused, fmt::format("recall {} is closed already", number),
                    {.field = "recall", .value = number});
    }
    const RecallLine line = recall_line(*at->state, at->now, *at->recall, at->bikes);
    if ((line.fixed < line.riders || line.held > 0) && trim(given.note).empty()) {
      return refuse(Code::kRefused,
                    fmt::format("{}; {} order{} on stop-sale: say in the note why it is closed all "
                                "the same",
                                line.progress, line.held, line.held == 1 ? "" : "s"),
                    {.field = "note"});
    }
    const auto time = shop_.now(*at->state);
    if (!time) return std::unexpected(time.error());
    book::Change change{.who = (*person)->id.text, .what = "recall-close", .why = number};
    change.read_at = at->state->entry;
    change.put.recalls = {*at->recall};
    change.put.recalls.front().closed = time->day;
    change.put.recalls.front().closed_by = (*person)->id.text;
    change.put.recalls.front().closing_note = given.note;
    put_live(at->bikes, change);
    if (Result<void> ok = shop_.write(std::move(change), ""); !ok) {
      return std::unexpected(ok.error());
    }
    return recall(number);
  });
}

}  // namespace rollwright::shop

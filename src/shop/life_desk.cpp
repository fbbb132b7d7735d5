#include "shop/life_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/bench_writing.hpp"
#include "build/order_flags.hpp"
#include "build/order_life.hpp"
#include "shop/agreeing.hpp"
#include "shop/bench_desk.hpp"
#include "shop/life_moves.hpp"
#include "shop/life_view.hpp"
#include "shop/order_input.hpp"
#include "shop/shop.hpp"
#include "shop/spec_versions.hpp"
#include "shop/supply_side.hpp"
#include "shop/workshop_pieces.hpp"

namespace rollwright::shop {
namespace {

using enum trade::OrderState;
using Said = std::map<std::string, std::string>;

constexpr std::size_t kLongestSaid = 200;
constexpr std::size_t kLongestName = 120;

Result<trade::OrderState> state_to(const std::string& word) {
  const auto state = trade::state_named(word);
  if (state) return *state;
  std::vector<std::string> words;
  for (const trade::OrderState each : trade::all_states()) words.emplace_back(trade::word_of(each));
  return refuse(Code::kBadInput, "no state is called so; there are " + listed(words),
                {.field = "to", .value = word});
}

Result<void> words_are_lines(const MoveGiven& given) {
  if (Result<void> ok = one_line("note", given.note, kLongestSaid); !ok) return ok;
  for (const auto& [key, text] : given.said) {
    if (Result<void> ok = one_line(("said." + key).c_str(), text, kLongestSaid); !ok) return ok;
  }
  return {};
}

/// The order with what the move to Agreed brings along.
Result<void> take_terms(const MoveGiven& given, trade::OrderState to, trade::Order& order) {
  if (to != kAgreed && (given.promised || given.deposit_cents)) {
    return refuse(Code::kBadInput, "a day promised and a deposit go with the move to Agreed",
                  {.field = given.promised ? "promised" : "deposit_cents"});
  }
  if (given.promised) order.promised = given.promised;
  if (given.deposit_cents) order.deposit = {*given.deposit_cents};
  return {};
}

/// Whoever takes up an enquiry says the budget, or the order has it: then both have the same.
void take_budget(trade::Order& order, Said& said) {
  if (order.state != kDraft) return;
  if (order.budget) said.emplace("budget", trade::word_of(*order.budget));
  if (const auto budget = trade::parse_budget(said["budget"])) order.budget = *budget;
}

int next_move_number(const State& state, const trade::OrderId& order) {
  int last = 0;
  for (const trade::OrderMoved& moved : state.held.rest.order_moves) {
    if (moved.order == order) last = std::max(last, moved.number);
  }
  return last + 1;
}

}  // namespace

Result<LifeDesk::Looked> LifeDesk::looked(const std::string& order) {
  const auto found = shop_.order_at(order);
  if (!found) return std::unexpected(found.error());
  const auto record = shop_.bench().record(*found->state, *found->order,
                                           [&] { return shop_.stand_sheet_of(*found); });
  if (!record) return std::unexpected(record.error());
  return Looked{.state = found->state, .build = found->build, .order = *found->order,
                .record = *record, .now = found->now};
}

LifeAt LifeDesk::at(const Looked& looked) const {
  return {.trade = shop_.trade_, .state = *looked.state, .build = *looked.build,
          .order = looked.order, .today = looked.now.day};
}

ChangeAt LifeDesk::change_at(const Looked& looked) const {
  return {.life = at(looked), .terms = shop_.change_terms_, .sheet = *looked.record->sheet};
}

build::LifeFacts LifeDesk::facts(const Looked& looked) const {
  build::LifeFacts known = life_facts(at(looked), *looked.record->sheet, looked.record->now);
  const auto settled = build::settlement_of(cancelled_now(change_at(looked)));
  if (settled) known.settlement = settled->back;
  return known;
}

Result<const trade::Person*> LifeDesk::mover(const Looked& looked, const std::string& by) const {
  if (trim(by).empty()) {
    return refuse(Code::kBadInput, "say who of the shop does this", {.field = "by"});
  }
  return person_called(*looked.state, by, "by");
}

Result<LifeView> LifeDesk::written(book::Change change, const std::string& order,
                                   std::vector<std::string> told) {
  if (Result<void> ok = shop_.write(std::move(change), order); !ok) {
    return std::unexpected(ok.error());
  }
  auto view = look(order);
  if (view) view->done = std::move(told);
  return view;
}

Result<LifeView> LifeDesk::look(const std::string& order) {
  const auto now = looked(order);
  if (!now) return std::unexpected(now.error());
  const build::LifeFacts known = facts(*now);
  LifeView view = life_view(at(*now), known);
  view.freeze = freeze_views(change_at(*now));
  const auto version = version_to_sign(*now, {});
  if (version) view.price_to_sign_cents = version->price.cents;
  return view;
}

Result<LifeView> LifeDesk::move(const std::string& id, const MoveGiven& given,
                                const std::string& who) {
  auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto to = state_to(given.to);
  if (!to) return std::unexpected(to.error());
  const auto person = mover(*now, given.by);
  if (!person) return std::unexpected(person.error());
  Result<void> ok = words_are_lines(given);
  if (ok) ok = take_terms(given, *to, now->order);
  if (!ok) return std::unexpected(ok.error());
  build::LifeFacts known = as_moved_by(facts(*now), **person);
  known.said = given.said;
  if (ok = build::judge_move(known, *to); !ok) {
    Error error = ok.error();
    error.sentence = fmt::format("order {}: {}", id, error.sentence);
    return std::unexpected(error);
  }
  MoveDoes does = move_does(at(*now), *to);
  trade::Order order = now->order;
  order.state = *to;
  Said said = given.said;
  take_budget(order, said);
  if (!trade::is_before_agreed(order.state)) order.follow_up.reset();
  order.revision = given.revision;
  book::Change change{.who = who, .what = "move",
                      .why = fmt::format("{} to {}{}", trade::word_of(now->order.state), given.to,
                                         given.note.empty() ? "" : ": " + given.note),
                      .read_at = now->state->entry};
  if (given.said.contains("operations")) {
    const auto done = redo(*now, **person, given, change);
    if (!done) return std::unexpected(done.error());
    order.done = *done;
  }
  if (*to == kAgreed) {
    if (const auto said = odds_of_agreeing(shop_.trade_, *now->state, order.id, now->now,
                                           *order.promised)) {
      change.put.promises = {*said};
    }
  }
  change.put.order_moves = {{.order = order.id, .number = next_move_number(*now->state, order.id),
                             .from = now->order.state, .to = *to, .by = (*person)->name,
                             .day = now->now.day, .said = std::move(said), .note = given.note}};
  change.put.orders = {std::move(order)};
  change.put.stock = std::move(does.stock);
  change.put.purchases = std::move(does.purchases);
  return written(std::move(change), id, std::move(does.told));
}

Result<std::set<std::string>> LifeDesk::redo(const Looked& looked, const trade::Person& person,
                                             const MoveGiven& given, book::Change& change) const {
  build::BenchWriting writing(*looked.record->sheet, looked.record->now);
  for (const std::string& operation : split(given.said.at("operations"), ' ')) {
    if (operation.empty()) continue;
    const Result<void> ok = writing.add({.person = person, .four_eyes = kFourEyes},
                                        {.deed = trade::Deed::kRedo, .about = operation,
                                         .note = given.said.at("why_back"),
                                         .at = shop_.clock_.now()});
    if (!ok) return std::unexpected(ok.error());
  }
  change.record = {{.order = looked.order.id, .after = looked.record->now.last, .key = {},
                    .lines = writing.lines()}};
  return build::done_by(writing.now(), looked.order.done);
}

Result<LifeView> LifeDesk::flag(const std::string& id, const FlagChange& given,
                                const std::string& who) {
  const auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto person = mover(*now, given.by);
  if (!person) return std::unexpected(person.error());
  auto order = build::with_flag(now->order,
                                {.flag = given.flag, .set = given.set, .reason = given.reason,
                                 .until = given.until, .by = (*person)->name},
                                now->now.day);
  if (!order) return std::unexpected(order.error());
  order->revision = given.revision;
  book::Change change{.who = who, .what = given.set ? "set flag" : "clear flag",
                      .why = given.flag + ": " + given.reason};
  change.put.orders = {std::move(*order)};
  return written(std::move(change), id, {});
}

Result<LifeView> LifeDesk::sign(const std::string& id, const SignGiven& given,
                                const std::string& who) {
  const auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto person = mover(*now, given.by);
  if (!person) return std::unexpected(person.error());
  if (trim(given.signed_by).empty()) {
    return refuse(Code::kBadInput, "say who signed: the customer's name", {.field = "signed_by"});
  }
  if (Result<void> ok = one_line("signed_by", given.signed_by, kLongestName); !ok) {
    return std::unexpected(ok.error());
  }
  const build::LifeFacts known = facts(*now);
  std::vector<std::string> missing = build::missing_to_sign(known);
  if (!missing.empty()) {
    return refuse(Code::kRefused,
                  fmt::format("order {} cannot be signed: {}", id, join(missing, "; ")),
                  {.field = "order", .value = id});
  }
  const auto version = version_to_sign(
      *now, {.by = given.signed_by, .who = (*person)->name, .day = now->now.day});
  if (!version) return std::unexpected(version.error());
  const trade::SignedSpec& spec = *version;
  if (spec.price.cents != given.price_cents) {
    return refuse(Code::kConflict,
                  fmt::format("the price is {}, not {}: show it to the customer again",
                              shown(spec.price), shown(Money{given.price_cents})),
                  {.field = "price_cents", .value = std::to_string(given.price_cents)});
  }
  MoveDoes does = let_go_of_changed(at(*now), now->order);
  trade::Order order = now->order;
  order.revision = given.revision;
  order.spec_version = spec.version;
  order.flags.erase("Change open");
  order.flags_said.erase("Change open");
  book::Change change{.who = who, .what = "sign",
                      .why = fmt::format("version {}, {}, by {}", spec.version,
                                         shown(spec.price), spec.signed_by),
                      .read_at = now->state->entry};
  change.put.signed_specs = {spec};
  change.put.orders = {std::move(order)};
  change.put.stock = std::move(does.stock);
  change.put.purchases = std::move(does.purchases);
  return written(std::move(change), id, std::move(does.told));
}

}  // namespace rollwright::shop

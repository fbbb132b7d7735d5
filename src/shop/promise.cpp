#include "plan/promise.hpp"

#include <algorithm>
#include <chrono>

#include <fmt/format.h>

#include "shop/bike.hpp"
#include "shop/hold_for_odds.hpp"
#include "shop/no_promise.hpp"
#include "shop/promise_record.hpp"
#include "shop/shop.hpp"
#include "spec/check.hpp"

namespace rollwright::shop {
namespace {

constexpr std::size_t kMostHolds = 8;

std::string kind_word(plan::HoldKind kind) {
  switch (kind) {
    case plan::HoldKind::kArrival: return "part";
    case plan::HoldKind::kPeople:
    case plan::HoldKind::kHands:
    case plan::HoldKind::kStand: return "queue";
    default: return "work";
  }
}

std::string capital(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

/// "Hub gear, on order since 9 Nov (P-12)" for an arrival; the engine's own words for the rest.
std::string hold_words(const plan::PlanInput& input, const plan::Hold& hold) {
  if (hold.kind == plan::HoldKind::kArrival && hold.key < input.arrivals.size()) {
    return input.arrivals[hold.key].what;
  }
  return capital(plan::in_words(input, hold));
}

std::string sentence_for(const PromiseView& view, std::size_t still_to_choose) {
  std::string text = fmt::format("Ready by {}, nine times in ten.", in_words(view.day_90));
  if (still_to_choose > 0) {
    text = fmt::format("With the parts chosen so far ({} still to choose): ready by {}, nine times "
                       "in ten.",
                       still_to_choose, in_words(view.day_90));
  }
  if (view.promised) {
    text += fmt::format(" Promised: {}, which is kept in {:.0f} of 100.",
                        in_words(*view.promised), 100 * view.chance_kept.value_or(0));
  }
  if (!view.holds.empty() && view.holds.front().share > 0) {
    text += fmt::format(" What holds it most often, in {:.0f} of 100: {}.",
                        100 * view.holds.front().share, view.holds.front().what);
  }
  return text;
}

/// That the odds were set right by what came of earlier promises, and by how much.
std::string record_words(const PromiseView& view, const plan::OddsKept& odds) {
  if (odds.ready() == 0) return "No promise of the past is on record to set these odds right by.";
  const auto moved = (view.day_90 - view.day_90_simulated).count();
  const std::string by = fmt::format("what came of {} earlier promise{}", odds.ready(),
                                     odds.ready() == 1 ? "" : "s");
  if (moved == 0) return fmt::format("The day is the simulation's own: {} bears it out.", by);
  return fmt::format("That is {} day{} {} than the simulation alone says: so much {} is worth "
                     "(asked of it for 90 in 100 kept: {:.0f} in 100).",
                     std::abs(moved), std::abs(moved) == 1 ? "" : "s",
                     moved > 0 ? "later" : "sooner", by, 100 * odds.to_ask(0.9));
}

/// Why the runs give no day.
std::string beyond_words(const plan::Promise& promise, const plan::PlanInput& input,
                         const std::string& id, int draws) {
  std::string text = fmt::format("in {:.0f} of 100 runs order {} is not ready within {} days",
                                 100.0 * promise.past_horizon / draws, id, input.days);
  if (!promise.held_by.empty()) {
    text += "; what holds it: " + hold_words(input, promise.held_by.front().hold);
  }
  return text;
}

}  // namespace

std::string no_promise_because(const trade::Order& order) {
  if (order.state >= trade::OrderState::kReady) {
    return fmt::format("Order {} is {}: there is nothing left to promise.", order.id.text,
                       trade::word_of(order.state));
  }
  if (order.choices.empty()) {
    return fmt::format("Order {} has no part yet: there is no bike to promise.", order.id.text);
  }
  return {};
}

std::string no_work_left(const trade::Order& order) {
  return fmt::format("Order {} has no operation left to do: it waits for its checks and its rider.",
                     order.id.text);
}

Result<PromiseView> Shop::promise(const std::string& id, int draws, int threads) {
  const auto started = std::chrono::steady_clock::now();
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const trade::Order& order = *at->order;
  if (const std::string why = no_promise_because(order); !why.empty()) {
    return refuse(Code::kRefused, why);
  }
  const PromiseMemory::Asked asked{.state = at->state, .now = at->now, .draws = draws,
                                   .threads = threads};
  if (auto known = promises_.find(id, asked)) return *std::move(known);
  const auto reckoned =
      reckon_promise(trade_, *at->state, order, at->now,
                     {.draws = draws, .seed = kOddsSeed, .threads = threads});
  if (!reckoned) return std::unexpected(reckoned.error());
  const plan::Promise* promise = &reckoned->promise;
  const WorkshopInput* workshop = &reckoned->workshop;

  if (!promise->day_95) {
    return refuse(Code::kRefused, beyond_words(*promise, workshop->input, id, draws));
  }
  PromiseView view{.order = id, .promised = order.promised, .day_50 = *promise->day_50,
                   .day_80 = *promise->day_80, .day_90 = *promise->day_90,
                   .day_95 = *promise->day_95};
  if (order.promised) view.chance_kept = plan::chance_by(*promise, *order.promised);
  for (const plan::CurvePoint& point : promise->curve) {
    view.curve.push_back({point.day, point.probability});
  }
  for (const plan::Holder& holder : promise->held_by) {
    if (view.holds.size() == kMostHolds || holder.draws == 0) break;
    view.holds.push_back({.what = hold_words(workshop->input, holder.hold),
                          .kind = kind_word(holder.hold.kind),
                          .share = static_cast<double>(holder.draws) / draws});
  }
  view.draws = draws;
  view.placements = promise->placements;
  const spec::SpecCheck check = spec::check(trade_, *at->build, bike_of(*at->state, order));
  view.day_90_simulated = reckoned->simulated.day_90.value_or(view.day_90);
  view.promises_known = reckoned->odds.ready();
  view.sentence = sentence_for(view, check.missing_slots.size());
  view.sentence += " " + record_words(view, reckoned->odds);
  for (const auto& [waiting, part] : workshop->nobody_sells) {
    if (waiting == reckoned->index) {
      view.sentence += fmt::format(" Not reckoned with: {}, which no supplier on file sells.", part);
    }
  }
  for (const auto& [waiting, operation] : workshop->short_of_hands) {
    if (waiting == reckoned->index) {
      view.sentence += fmt::format(" {} takes more people at once than the shop has.", operation);
    }
  }
  view.seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
  promises_.put(id, asked, view);
  return view;
}

}  // namespace rollwright::shop

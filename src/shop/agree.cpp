#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/order_life.hpp"
#include "shop/agreeing.hpp"
#include "shop/hold_for_odds.hpp"
#include "shop/life_facts.hpp"
#include "shop/no_promise.hpp"
#include "shop/promise_record.hpp"
#include "shop/shop.hpp"
#include "shop/spec_versions.hpp"

// Agreeing in one go at the counter.
namespace rollwright::shop {
namespace {

constexpr int kDrawsAgreed = 1000;

/// None where the simulation gives no day.
std::optional<trade::PromiseSaid> promise_said(const PromiseReckoned& reckoned,
                                               const trade::OrderId& order, Day today,
                                               Day promised) {
  const plan::Promise& simulated = reckoned.simulated;
  if (!simulated.day_90) return {};
  const double chance = plan::chance_by(reckoned.promise, promised);
  return trade::PromiseSaid{.order = order,
                            .said = today,
                            .promised = promised,
                            .in_100 = static_cast<int>(std::lround(100 * chance)),
                            .day_50 = *simulated.day_50,
                            .day_90 = *simulated.day_90,
                            .ready = {},
                            .odds = odds_said(simulated)};
}

Result<void> day_and_deposit(Day promised, std::int64_t deposit_cents, Day today, Money price) {
  if (promised <= today) {
    return refuse(Code::kOutOfRange, "the day promised must lie in the future",
                  {.field = "promised", .value = iso(promised)});
  }
  if (0 <= deposit_cents && deposit_cents <= price.cents) return {};
  return refuse(Code::kOutOfRange,
                fmt::format("the deposit must lie between nothing and the price of {}",
                            shown(price)),
                {.field = "deposit_cents", .value = std::to_string(deposit_cents)});
}

}  // namespace

std::optional<trade::PromiseSaid> odds_of_agreeing(const trade::Trade& trade, const State& state,
                                                   const trade::OrderId& order,
                                                   const LocalTime& now, Day promised) {
  const trade::Order& held = *state.orders.at(order);
  if (!no_promise_because(held).empty()) return {};
  const auto reckoned = reckon_promise(trade, state, held, now,
                                       {.draws = kDrawsAgreed, .seed = kOddsSeed, .threads = 2});
  return reckoned ? promise_said(*reckoned, order, now.day, promised) : std::nullopt;
}

Result<OrderView> Shop::agree(const std::string& id, Day promised, std::int64_t deposit_cents,
                              std::int64_t revision, const std::string& who) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  trade::Order order = *at->order;
  const auto sheet = this->sheet(id);
  if (!sheet) return std::unexpected(sheet.error());
  const build::LifeFacts facts =
      life_facts({.trade = trade_, .state = *at->state, .build = *at->build, .order = order,
                  .today = at->now.day},
                 *sheet, build::bench_state(*sheet, {}));
  if (Result<void> ok = day_and_deposit(promised, deposit_cents, at->now.day, facts.price); !ok) {
    return std::unexpected(ok.error());
  }
  const std::vector<std::string> missing = build::missing_at_the_counter(facts);
  if (!missing.empty()) {
    return refuse(Code::kRefused,
                  fmt::format("order {} cannot be agreed: {}", id, join(missing, "; ")));
  }
  order.revision = revision;
  order.state = trade::OrderState::kAgreed;
  order.follow_up.reset();
  order.promised = promised;
  order.deposit = {deposit_cents};
  book::Change change{.who = who, .what = "agree",
                      .why = fmt::format("promised {}", in_words(promised, true))};
  // The customer signs what is agreed; what was signed before and is the same needs no new version.
  if (facts.signed_version == 0 || !facts.changed_since_signed.empty()) {
    change.put.signed_specs = {
        next_version(trade_, *at->state, order,
                     {.by = order.rider.name, .who = who, .day = at->now.day})};
    order.spec_version = change.put.signed_specs.front().version;
  }
  if (const auto said = odds_of_agreeing(trade_, *at->state, order.id, at->now, promised)) {
    change.put.promises = {*said};
  }
  change.put.orders = {std::move(order)};
  if (Result<void> written = write(std::move(change), id); !written) {
    return std::unexpected(written.error());
  }
  return this->order(id);
}

}  // namespace rollwright::shop

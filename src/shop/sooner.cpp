#include <algorithm>
#include <chrono>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bike.hpp"
#include "shop/hold_for_odds.hpp"
#include "shop/no_promise.hpp"
#include "shop/promise_record.hpp"
#include "shop/shop.hpp"
#include "shop/sooner_ways.hpp"
#include "shop/supply_side.hpp"
#include "spec/check.hpp"

namespace rollwright::shop {
namespace {

constexpr int kThreads = 2;
constexpr std::size_t kMostTogether = 4;
/// Half a day more is what another way has to bring to be taken on top.
constexpr double kWorthTaking = 0.5;
/// Of other promises: what moves less is not worth a line.
constexpr double kMovesAtLeast = 0.02;

/// One shop, simulated: as it is or as it would be.
struct Simulated {
  std::shared_ptr<const State> state;
  WorkshopInput workshop;
  std::map<std::string, plan::Promise> promises;  // by order
  int index = 0;                                  // of the order asked about
};

/// Asks the simulation the same question of one shop after the other.
class Asking {
 public:
  Asking(const trade::Trade& trade, const State& state, const trade::Order& order,
         const LocalTime& now, int draws)
      : trade_(trade), state_(state), order_(order), now_(now), draws_(draws) {}

  Result<Simulated> simulate(const WhatIf& what_if) {
    ++runs;
    Simulated shop{.state = state_if(state_, order_, what_if), .workshop = {}, .promises = {}};
    auto workshop = workshop_if(trade_, *shop.state, order_.id, now_, what_if);
    if (!workshop) return std::unexpected(workshop.error());
    shop.workshop = std::move(*workshop);
    const auto index = index_of(shop.workshop, order_.id);
    if (!index) {
      return refuse(Code::kRefused, no_work_left(order_));
    }
    shop.index = *index;
    std::vector<int> asked;
    for (int i = 0; i < static_cast<int>(shop.workshop.orders.size()); ++i) {
      if (i == *index || shop.workshop.orders[static_cast<std::size_t>(i)]->promised) {
        asked.push_back(i);
      }
    }
    const plan::PlanInput& input = shop.workshop.input;
    const plan::OrdersSeen seen = orders_seen(state_, shop.workshop, now_.day);
    const auto day = plan::day_in_turn(input, *index, seen, odds_.to_ask(kToldAt), options());
    if (!day) return std::unexpected(day.error());
    const auto promises = plan::promises(
        *day ? plan::in_turn(input, *index, seen, **day) : input, asked, options());
    if (!promises) return std::unexpected(promises.error());
    for (const plan::Promise& promise : *promises) {
      const auto i = static_cast<std::size_t>(promise.order);
      shop.promises[shop.workshop.orders[i]->id.text] = plan::as_kept(promise, odds_);
    }
    return shop;
  }

  int runs = 0;

 private:
  plan::PromiseOptions options() const {
    return {.draws = draws_, .seed = kOddsSeed, .threads = kThreads};
  }

  const trade::Trade& trade_;
  const State& state_;
  const trade::Order& order_;
  LocalTime now_;
  int draws_;
  plan::OddsKept odds_ = odds_kept(state_, now_.day);
};

std::vector<OtherPromiseView> others_moved(const Simulated& as_is, const Simulated& then,
                                           const std::string& own) {
  std::vector<OtherPromiseView> moved;
  for (const trade::Order* order : as_is.workshop.orders) {
    if (order->id.text == own || !order->promised || !then.promises.contains(order->id.text)) {
      continue;
    }
    OtherPromiseView other{
        .order = order->id.text,
        .rider = order->rider.name,
        .promised = *order->promised,
        .chance_before = plan::chance_by(as_is.promises.at(order->id.text), *order->promised),
        .chance_after = plan::chance_by(then.promises.at(order->id.text), *order->promised)};
    if (std::abs(other.chance_after - other.chance_before) >= kMovesAtLeast) {
      moved.push_back(std::move(other));
    }
  }
  std::ranges::stable_sort(moved, {}, [](const OtherPromiseView& other) {
    return other.chance_after - other.chance_before;
  });
  return moved;
}

Result<WayView> way_view(const Way& way, const Simulated& as_is, const Simulated& then,
                         const trade::Order& order) {
  const plan::Promise& now = as_is.promises.at(order.id.text);
  const plan::Promise& other = then.promises.at(order.id.text);
  const auto gain = plan::gain(now, other);
  if (!gain) return std::unexpected(gain.error());
  WayView view{.kind = way.kind,
               .what = way.what,
               .note = way.note,
               .price_cents = way.price.cents,
               .price_is_most = way.price_is_most,
               .day_50 = other.day_50,
               .day_90 = other.day_90,
               .days_50 = gain->days_50,
               .days_90 = gain->days_90,
               .mean_days = gain->mean_days,
               .share_sooner = gain->share_sooner,
               .chance_kept = {},
               .others = others_moved(as_is, then, order.id.text),
               .slot = way.slot.text,
               .part = way.part.text};
  if (order.promised) view.chance_kept = plan::chance_by(other, *order.promised);
  return view;
}

bool wins(const WayView& view) { return view.mean_days >= kWorthTaking; }

/// What a day costs; free days first, then the most days.
bool cheaper_day(const WayView& a, const WayView& b) {
  const auto per_day = [](const WayView& view) {
    return static_cast<double>(std::max<std::int64_t>(0, view.price_cents)) / view.mean_days;
  };
  return std::pair(per_day(a), -a.mean_days) < std::pair(per_day(b), -b.mean_days);
}

std::string sentence_for(const SoonerView& view) {
  if (view.ways.empty() && view.together.empty()) {
    return view.no_help.empty()
               ? "Nothing is known that would make it sooner."
               : fmt::format("None of the {} ways looked at makes it half a day sooner.",
                             view.no_help.size());
  }
  std::string text;
  if (!view.ways.empty()) {
    const WayView& best = *std::ranges::max_element(view.ways, {}, &WayView::mean_days);
    text = fmt::format("What alone wins most, {:.1f} days on average: {}.", best.mean_days,
                       best.what);
  } else {
    text = "No way alone makes it half a day sooner.";
  }
  if (view.together.size() > 1) {
    text += fmt::format(" {} ways together win {:.1f} days.", view.together.size(),
                        view.together.back().way.mean_days);
  }
  return text;
}

/// Judges ways for one order: each alone, and then the best on top of the best.
class Judge {
 public:
  Judge(const trade::Trade& trade, const trade::BuildTemplate& build, const Reckoned& reckoned,
        const trade::Order& order, const LocalTime& now, int draws)
      : trade_(trade), build_(build), reckoned_(reckoned), order_(order), now_(now),
        asking_(trade, *reckoned.state, order, now, draws) {}

  Result<SoonerView> judge() {
    auto as_is = asking_.simulate({});
    if (!as_is) return std::unexpected(as_is.error());
    as_is_ = std::move(*as_is);
    const plan::Promise& promise = as_is_.promises.at(order_.id.text);
    if (!promise.day_90) {
      return refuse(Code::kRefused,
                    fmt::format("order {} is not ready within {} days in more than one run of ten; "
                                "see its promise for what holds it",
                                order_.id.text, as_is_.workshop.input.days));
    }
    SoonerView view{.order = order_.id.text, .sentence = {}, .promised = order_.promised};
    view.day_50 = *promise.day_50;
    view.day_90 = *promise.day_90;
    if (order_.promised) view.chance_kept = plan::chance_by(promise, *order_.promised);
    if (Result<void> ok = each_alone(view); !ok) return std::unexpected(ok.error());
    if (Result<void> ok = on_top(view); !ok) return std::unexpected(ok.error());
    std::ranges::stable_sort(view.ways, cheaper_day);
    view.sentence = sentence_for(view);
    view.runs = asking_.runs;
    return view;
  }

 private:
  struct Judged {
    Way way;
    Simulated shop;
    WayView view;
  };

  /// Ways from the shop as it is, or would be after others; each simulated. A way whose bike does
  /// not fit with what was chosen besides is left out.
  Result<std::vector<Judged>> judged_from(const Simulated& shop, const WhatIf& taken) {
    std::vector<Judged> all;
    const trade::Order& order = *shop.state->orders.at(order_.id);
    for (Way& way : ways_sooner({.trade = trade_, .state = *shop.state, .order = order,
                                 .workshop = shop.workshop,
                                 .promise = shop.promises.at(order_.id.text),
                                 .reckoned = reckoned_, .lead_times = *reckoned_.lead_times,
                                 .now = now_})) {
      const WhatIf both = with(taken, way.change);
      if (!still_fits(both)) continue;
      auto then = asking_.simulate(both);
      if (!then) return std::unexpected(then.error());
      auto view = way_view(way, as_is_, *then, order_);
      if (!view) return std::unexpected(view.error());
      all.push_back({std::move(way), std::move(*then), std::move(*view)});
    }
    return all;
  }

  bool still_fits(const WhatIf& what_if) const {
    if (what_if.choices.size() < 2) return true;  // one alone was judged by the fit engine
    const auto state = state_if(*reckoned_.state, order_, what_if);
    const spec::SpecCheck check =
        spec::check(trade_, build_, bike_of(*state, *state->orders.at(order_.id)));
    return check.verdict < trade::Verdict::kNotKnown;
  }

  Result<void> each_alone(SoonerView& view) {
    auto all = judged_from(as_is_, {});
    if (!all) return std::unexpected(all.error());
    for (Judged& judged : *all) {
      (wins(judged.view) ? view.ways : view.no_help).push_back(judged.view);
    }
    alone_ = std::move(*all);
    return {};
  }

  /// Always the way that wins most on top of those taken, as long as it brings half a day.
  Result<void> on_top(SoonerView& view) {
    std::vector<Judged> candidates = std::move(alone_);
    WhatIf taken;
    double won = 0;
    Money price;
    std::set<std::string> said;
    while (view.together.size() < kMostTogether) {
      std::erase_if(candidates, [&](const Judged& c) { return said.contains(c.way.what); });
      if (candidates.empty()) break;
      Judged& best = *std::ranges::max_element(candidates, {}, [](const Judged& c) {
        return std::pair(c.view.mean_days, -c.way.price.cents);
      });
      if (best.view.mean_days < won + kWorthTaking) break;
      won = best.view.mean_days;
      price = price + best.way.price;
      taken = with(taken, best.way.change);
      said.insert(best.way.what);
      best.view.price_cents = price.cents;
      const bool most_before = !view.together.empty() && view.together.back().way.price_is_most;
      best.view.price_is_most = best.view.price_is_most || most_before;
      view.together.push_back({best.view, static_cast<int>(view.together.size()) + 1});
      const Simulated shop = std::move(best.shop);
      auto next = judged_from(shop, taken);
      if (!next) return std::unexpected(next.error());
      candidates = std::move(*next);
    }
    return {};
  }

  const trade::Trade& trade_;
  const trade::BuildTemplate& build_;
  const Reckoned& reckoned_;
  const trade::Order& order_;
  LocalTime now_;
  Asking asking_;
  Simulated as_is_;
  std::vector<Judged> alone_;
};

}  // namespace

Result<SoonerView> Shop::sooner(const std::string& id, int draws) {
  const auto started = std::chrono::steady_clock::now();
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const trade::Order& order = *at->order;
  if (const std::string why = no_promise_because(order); !why.empty()) {
    return refuse(Code::kRefused, why);
  }
  const auto reckoned_now = reckoned(*at);
  if (!reckoned_now) return std::unexpected(reckoned_now.error());
  auto view = Judge(trade_, *at->build, **reckoned_now, order, at->now, draws).judge();
  if (!view) return view;
  view->draws = draws;
  view->seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
  return view;
}

}  // namespace rollwright::shop

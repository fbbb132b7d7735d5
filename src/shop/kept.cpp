#include <algorithm>
#include <functional>
#include <map>

#include <fmt/format.h>

#include "plan/said_and_kept.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"
#include "supply/replay.hpp"

namespace rollwright::shop {
namespace {

using Promises = std::vector<const trade::PromiseSaid*>;

bool is_kept(const trade::PromiseSaid& promise) {
  return promise.ready && *promise.ready <= promise.promised;
}

int days_between(Day from, Day to) { return static_cast<int>((to - from).count()); }

KeptBandView band_of(std::string words, const Promises& promises) {
  std::vector<plan::Said> said;
  for (const trade::PromiseSaid* promise : promises) {
    said.push_back({.chance = promise->in_100 / 100.0, .kept = is_kept(*promise)});
  }
  const plan::SaidAndKept sum = plan::said_and_kept(said);
  return {.words = std::move(words),
          .promises = sum.promises,
          .kept = sum.kept,
          .said = sum.promises == 0 ? 0 : sum.expected / sum.promises,
          .least = sum.least,
          .most = sum.most};
}

std::vector<KeptBandView> bands_of(const Promises& promises) {
  constexpr int kEdges[] = {0, 50, 70, 80, 90, 95, 101};
  std::vector<KeptBandView> bands;
  for (std::size_t i = 0; i + 1 < std::size(kEdges); ++i) {
    Promises inside;
    std::ranges::copy_if(promises, std::back_inserter(inside), [&](const auto* promise) {
      return promise->in_100 >= kEdges[i] && promise->in_100 < kEdges[i + 1];
    });
    if (inside.empty()) continue;
    bands.push_back(band_of(fmt::format("{} to {} in 100", kEdges[i], kEdges[i + 1] - 1), inside));
  }
  return bands;
}

std::vector<KeptMonthView> months_of(const Promises& promises) {
  std::map<std::string, KeptMonthView> months;
  for (const trade::PromiseSaid* promise : promises) {
    const std::string month = iso(promise->promised).substr(0, 7);
    KeptMonthView& view = months[month];
    view.month = month;
    ++view.promises;
    if (is_kept(*promise)) {
      ++view.kept;
    } else {
      view.days_late += days_between(promise->promised, *promise->ready);  // a sum so far
    }
  }
  std::vector<KeptMonthView> views;
  for (auto& [month, view] : months) {
    if (view.kept < view.promises) view.days_late /= view.promises - view.kept;
    views.push_back(std::move(view));
  }
  return views;
}

std::vector<OtherWayView> other_ways_of(const Promises& promises) {
  struct Way {
    const char* words;
    std::function<Day(const trade::PromiseSaid&)> day;
  };
  const Way ways[] = {
      {"the day of five in ten", [](const auto& p) { return p.day_50; }},
      {"the day of five in ten and two weeks",
       [](const auto& p) { return p.day_50 + std::chrono::days(14); }},
      {"the day of nine in ten", [](const auto& p) { return p.day_90; }},
  };
  std::vector<OtherWayView> views;
  for (const Way& way : ways) {
    OtherWayView view{.words = way.words};
    for (const trade::PromiseSaid* promise : promises) {
      const Day day = way.day(*promise);
      if (*promise->ready <= day) ++view.kept;
      view.days_longer += days_between(promise->promised, day);
    }
    if (!promises.empty()) view.days_longer /= static_cast<double>(promises.size());
    views.push_back(std::move(view));
  }
  return views;
}

std::vector<KeptLineView> lines_of(const Promises& promises) {
  std::vector<KeptLineView> lines;
  for (const trade::PromiseSaid* promise : promises) {
    lines.push_back({.order = promise->order.text,
                     .said = promise->said,
                     .promised = promise->promised,
                     .in_100 = promise->in_100,
                     .ready = promise->ready,
                     .days_late = days_between(promise->promised, *promise->ready),
                     .kept = is_kept(*promise)});
  }
  std::ranges::stable_sort(lines, std::greater(), &KeptLineView::promised);
  return lines;
}

/// Of the deliveries ordered in the year up to today.
void add_deliveries(const trade::Trade& trade, const State& state, Day today, KeptView& view) {
  const auto group_of = supply::lead_time_groups(trade, state.held.parts);
  const auto replayed =
      supply::replay_deliveries(trade.lead_times, group_of, state.held.receipts,
                                state.held.offers, today - std::chrono::days(365));
  view.deliveries = static_cast<int>(replayed.size());
  for (const int in_100 : {50, 80, 90, 95}) {
    DeliveryBandView band{.in_100 = in_100};
    for (const supply::ReplayedDelivery& one : replayed) {
      // Here by the first day that has the chance: fewer days did not have it yet.
      if (one.below < in_100 / 100.0) ++band.came;
    }
    if (!replayed.empty()) band.share = static_cast<double>(band.came) / view.deliveries;
    view.delivery_bands.push_back(band);
  }
}

std::string sentence_for(const KeptView& view) {
  const KeptBandView& all = view.all;
  if (all.promises == 0) {
    return view.open == 0 ? "No promise is on record yet."
                          : fmt::format("{} promised, none of them ready yet.", view.open);
  }
  std::string text = fmt::format(
      "{} of {} promises were kept, {:.0f} of 100; said were {:.0f} of 100.", all.kept,
      all.promises, 100.0 * all.kept / all.promises, 100 * all.said);
  if (all.kept < all.least) {
    text += fmt::format(" That is fewer than chance explains ({} to {}): the odds were too sure.",
                        all.least, all.most);
  } else if (all.kept > all.most) {
    text += fmt::format(" That is more than chance explains ({} to {}): the odds were too careful.",
                        all.least, all.most);
  } else {
    text += fmt::format(" Had the odds been true, chance alone would give {} to {}.", all.least,
                        all.most);
  }
  return text;
}

}  // namespace

Result<KeptView> Shop::kept() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  Promises known;
  KeptView view;
  for (const trade::PromiseSaid& promise : (*current)->held.promises) {
    if (promise.ready) {
      known.push_back(&promise);
    } else {
      ++view.open;
    }
  }
  view.all = band_of("all", known);
  view.bands = bands_of(known);
  view.months = months_of(known);
  view.other_ways = other_ways_of(known);
  view.lines = lines_of(known);
  add_deliveries(trade_, **current, time->day, view);
  view.sentence = sentence_for(view);
  return view;
}

}  // namespace rollwright::shop

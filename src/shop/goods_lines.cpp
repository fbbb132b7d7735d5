#include "shop/goods_lines.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/text.hpp"
#include "base/working_days.hpp"
#include "shop/counted.hpp"
#include "shop/freight.hpp"
#include "shop/goods_marks.hpp"
#include "shop/miscounts.hpp"
#include "shop/supply_side.hpp"
#include "supply/goods_in.hpp"

namespace rollwright::shop {
namespace {

constexpr int kLately = 14;  // days in which a delivery is looked at again

std::string with_rider(const State& state, const trade::OrderId& id) {
  const auto order = state.orders.find(id);
  return order == state.orders.end() ? id.text : id.text + " " + order->second->rider.name;
}

/// The day after so many working days; nothing when the odds do not reach so far.
std::optional<Day> day_after(const LinesAt& at, int days) {
  if (days > supply::kOddsDays) return std::nullopt;
  return add_working_days(at.today, days, at.state.settings.closed);
}

void add_orders(const LinesAt& at, const trade::PurchaseLine& line, const supply::DayOdds& odds,
                ArrivalLine& view) {
  for (const supply::Cover& cover : at.covers) {
    if (cover.purchase != line.id) continue;
    view.orders.push_back(with_rider(at.state, cover.need.order));
    if (!view.needed_by || cover.need.needed_by < *view.needed_by) {
      view.needed_by = cover.need.needed_by;
    }
  }
  if (line.order && view.orders.empty()) view.orders.push_back(with_rider(at.state, *line.order));
  if (view.needed_by && !odds.by.empty()) {
    const int days =
        working_days_between(at.today, *view.needed_by, at.state.settings.closed);
    view.in_time = supply::within(odds, days);
  }
}

/// Working days beyond the day confirmed, or beyond that on which nine in ten such lines are here.
int overdue_by(const LinesAt& at, const trade::PurchaseLine& line) {
  const std::vector<Day>& closed = at.state.settings.closed;
  if (line.confirmed) {
    return std::max(0, working_days_between(*line.confirmed, at.today, closed));
  }
  if (!line.legs.empty()) return 0;
  for (const trade::Offer& offer : at.state.held.offers) {
    if (offer.supplier != line.supplier || offer.part != line.part) continue;
    const int usual = supply::days_for(at.lead_times.delivery(offer), 0.9);
    return std::max(0, working_days_between(trade::waited_since(line), at.today, closed) - usual);
  }
  return 0;
}

void add_road(const LinesAt& at, const trade::PurchaseLine& line, ArrivalLine& view) {
  const trade::FreightWay* way = at.lead_times.way_of(line);
  if (way == nullptr) {
    for (const trade::LegDone& leg : line.legs) view.legs.push_back({leg.leg, leg.day});
    if (!line.legs.empty()) view.where = "left the supplier on " + in_short(line.legs.back().day);
    return;
  }
  view.mode = way->mode;
  const std::vector<std::string> names = supply::all_legs(*way);
  for (std::size_t k = 0; k < names.size(); ++k) {
    const bool is_done = k < line.legs.size();
    view.legs.push_back({names[k], is_done ? std::optional(line.legs[k].day) : std::nullopt});
  }
  if (line.legs.empty()) {
    view.where = "with the supplier";
  } else if (line.legs.size() < names.size()) {
    view.where = names[line.legs.size()] + " since " + in_short(line.legs.back().day);
  } else {
    view.where = "every leg done on " + in_short(line.legs.back().day);
  }
  for (const supply::FreightMode& mode :
       freight_modes(at.state, at.lead_times, line, at.today)) {
    const auto day_50 = day_after(at, supply::days_for(mode.days, 0.5));
    const auto day_90 = day_after(at, supply::days_for(mode.days, 0.9));
    if (!day_50 || !day_90) continue;
    view.modes.push_back({.mode = mode.mode, .carrier = mode.carrier, .usual = mode.usual,
                          .cost_cents = mode.cost_cents, .extra_cents = mode.extra_cents,
                          .day_50 = *day_50, .day_90 = *day_90, .basis = mode.basis});
  }
}

std::string days_words(int days) { return days == 1 ? "1 day" : fmt::format("{} days", days); }

std::string clock_of(const trade::Claim& claim, int left) {
  if (claim.settled) return fmt::format("{} on {}", claim.outcome, in_short(*claim.settled));
  if (claim.told) return fmt::format("told on {}, no answer yet", in_short(*claim.told));
  if (left < 0) return fmt::format("the time to claim ended {} ago", days_words(-left));
  if (left == 0) return "today is the last day to claim";
  return fmt::format("{} left to claim, until {}", days_words(left), in_short(claim.tell_by));
}

ClaimView claim_view(const trade::Claim& claim, int number, Day today) {
  const auto left = static_cast<int>((claim.tell_by - today).count());
  return {.number = number,
          .trouble = std::string(trade::word_of(claim.trouble)),
          .pieces = claim.pieces,
          .carrier = claim.carrier,
          .found = claim.found,
          .tell_by = claim.tell_by,
          .days_left = left,
          .clock = clock_of(claim, left),
          .pressing = !claim.told && !claim.settled && left <= 1,
          .terms = claim.terms,
          .told = claim.told,
          .settled = claim.settled,
          .outcome = claim.outcome,
          .note = claim.note,
          .photos = {}};
}

bool has_open_claim(const ArrivalLine& line) {
  return std::ranges::any_of(line.claims, [](const ClaimView& each) { return !each.settled; });
}

/// The day under which a line stands on the page.
std::optional<Day> expected_on(const ArrivalLine& line, bool by_legs) {
  return line.confirmed && !by_legs ? line.confirmed : line.day_50;
}

std::string sentence_of(const ArrivalsView& view) {
  std::size_t to_come = 0;
  std::size_t overdue = 0;
  std::size_t today = 0;
  std::size_t here = 0;
  for (const ArrivalGroup& group : view.groups) {
    if (group.kind == "here") here += group.lines.size();
    if (group.kind == "overdue") overdue += group.lines.size();
    if (group.day == view.today) today += group.lines.size();
    if (group.kind != "here") to_come += group.lines.size();
  }
  if (to_come + here + view.quarantine.size() + view.claims.size() == 0) {
    return "Nothing is under way.";
  }
  std::vector<std::string> more;
  if (today > 0) more.push_back(fmt::format("{} today", today));
  if (overdue > 0) more.push_back(fmt::format("{} overdue", overdue));
  std::string text = fmt::format("{} to come{}{}.", counted(to_come, "line is", "lines are"),
                                 more.empty() ? "" : ", ", join(more, ", "));
  if (here > 0) text += fmt::format(" {} to be looked at.", counted(here, "waits", "wait"));
  if (!view.quarantine.empty()) {
    text += fmt::format(" {} in quarantine.", counted(view.quarantine.size(), "is", "are"));
  }
  const auto pressing = std::ranges::count_if(view.claims, [](const ArrivalLine& line) {
    return std::ranges::any_of(line.claims, &ClaimView::pressing);
  });
  if (pressing > 0) {
    text += fmt::format(" {} to be told today or tomorrow.",
                        counted(static_cast<std::size_t>(pressing), "claim has", "claims have"));
  }
  return text;
}

}  // namespace

ArrivalLine arrival_line(const LinesAt& at, const trade::PurchaseLine& line) {
  const trade::GoodsIn pieces = trade::goods_in_of(line);
  const auto supplier = at.state.suppliers.find(line.supplier);
  ArrivalLine view{.id = line.id,
                   .part = line.part.text,
                   .name = at.state.name_of(line.part),
                   .supplier = line.supplier.text,
                   .supplier_name = supplier == at.state.suppliers.end() ? line.supplier.text
                                                                         : supplier->second->name,
                   .order = {},
                   .orders = {},
                   .placed = line.placed,
                   .confirmed = line.confirmed,
                   .state = std::string(trade::word_of(line.state)),
                   .word = std::string(supply::word_of(pieces)),
                   .ordered = pieces.ordered,
                   .to_come = trade::is_under_way(line.state) ? pieces.outstanding() : 0,
                   .to_look_at = pieces.to_look_at,
                   .accepted = pieces.accepted,
                   .quarantined = pieces.quarantined,
                   .sent_back = pieces.sent_back,
                   .written_off = pieces.written_off,
                   .asks_serial = asks_serial(at.trade, at.state, line.part)};
  if (line.order) view.order = line.order->text;
  supply::DayOdds odds;
  if (trade::pieces_to_come(line) > 0) {
    odds = at.lead_times.left(line, at.today, at.state.settings.closed);
    view.day_50 = day_after(at, supply::days_for(odds, 0.5));
    view.day_90 = day_after(at, supply::days_for(odds, 0.9));
    view.basis = at.lead_times.basis_of_left(line, at.today, at.state.settings.closed);
    view.receipts = at.lead_times.receipts_behind(line, at.today, at.state.settings.closed);
  }
  if (view.to_come > 0) {
    view.days_overdue = overdue_by(at, line);
    add_road(at, line, view);
  }
  add_orders(at, line, odds, view);
  for (const trade::Marked& marked : line.marked) {
    view.marked.push_back({marked.serial, marked.lot, marked.pieces,
                           std::string(trade::word_of(marked.place)), marked.day});
  }
  int number = 0;
  for (const trade::Claim& claim : line.claims) {
    view.claims.push_back(claim_view(claim, ++number, at.today));
  }
  for (const trade::Receipt& receipt : deliveries_of(at.state, line)) {
    view.deliveries.push_back({receipt.received, receipt.quantity, receipt.condition});
  }
  return view;
}

ArrivalsView arrivals_view(const LinesAt& at) {
  ArrivalsView view{.today = at.today, .steps = supply::all_steps(),
                    .troubles = {"wrong", "damage seen", "damage hidden", "short"},
                    .carriers = trade::all_carriers()};
  std::erase(view.carriers, "any");
  ArrivalGroup here{.kind = "here", .day = {}, .lines = {}};
  ArrivalGroup overdue{.kind = "overdue", .day = {}, .lines = {}};
  ArrivalGroup no_day{.kind = "no day", .day = {}, .lines = {}};
  std::map<Day, ArrivalGroup> days;
  for (const trade::PurchaseLine& line : at.state.held.purchases) {
    ArrivalLine shown = arrival_line(at, line);
    if (shown.quarantined > 0) view.quarantine.push_back(shown);
    if (has_open_claim(shown)) view.claims.push_back(shown);
    if (!shown.deliveries.empty() &&
        at.today - shown.deliveries.front().day <= std::chrono::days(kLately)) {
      view.lately.push_back(shown);
    }
    if (shown.to_look_at > 0) here.lines.push_back(shown);
    if (shown.to_come == 0) continue;
    const std::optional<Day> day = expected_on(shown, !line.legs.empty());
    if (shown.days_overdue > 0) {
      overdue.lines.push_back(std::move(shown));
    } else if (!day) {
      no_day.lines.push_back(std::move(shown));
    } else {
      ArrivalGroup& group = days[*day];
      group.kind = "day";
      group.day = *day;
      group.lines.push_back(std::move(shown));
    }
  }
  std::ranges::stable_sort(overdue.lines, std::greater<>{}, &ArrivalLine::days_overdue);
  const auto first_end = [](const ArrivalLine& line) {
    Day end = Day::max();
    for (const ClaimView& claim : line.claims) {
      if (!claim.settled && !claim.told) end = std::min(end, claim.tell_by);
    }
    return end;
  };
  std::ranges::stable_sort(view.claims, {}, first_end);
  std::ranges::stable_sort(view.lately, std::greater<>{}, [](const ArrivalLine& line) {
    return line.deliveries.front().day;
  });
  if (!here.lines.empty()) view.groups.push_back(std::move(here));
  if (!overdue.lines.empty()) view.groups.push_back(std::move(overdue));
  for (auto& [day, group] : days) view.groups.push_back(std::move(group));
  if (!no_day.lines.empty()) view.groups.push_back(std::move(no_day));
  view.sentence = sentence_of(view);
  return view;
}

}  // namespace rollwright::shop

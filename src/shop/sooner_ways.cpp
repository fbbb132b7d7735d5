#include "shop/sooner_ways.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "shop/bike.hpp"
#include "shop/freight.hpp"
#include "shop/supply_side.hpp"
#include "supply/baskets.hpp"
#include "supply/buying.hpp"

namespace rollwright::shop {
namespace {

/// What holds the bike more seldom is not worth money.
constexpr double kHoldsAtLeast = 0.02;
constexpr int kLaterMinutes = 120;
constexpr int kMostMinutesADay = 600;
constexpr std::int64_t kOvertimePercent = 125;
constexpr std::size_t kMostPeople = 3;

/// Indices of arrivals, or sets of skills, on whose account the bike waits.
std::vector<std::uint64_t> what_holds(const Standing& at, std::set<plan::HoldKind> kinds) {
  std::vector<std::uint64_t> keys;
  const double draws = static_cast<double>(at.promise.ready_minutes.size());
  for (const plan::Holder& holder : at.promise.held_by) {
    if (!kinds.contains(holder.hold.kind) || holder.draws_on_chain < kHoldsAtLeast * draws) continue;
    if (std::ranges::find(keys, holder.hold.key) == keys.end()) keys.push_back(holder.hold.key);
  }
  return keys;
}

/// Pieces of a part that the order waits for in one arrival.
int pieces_waited_for(const Standing& at, const WorkshopInput::Arriving& arriving) {
  int pieces = 0;
  for (const supply::Cover& cover : at.reckoned.covers) {
    if (cover.need.order == at.order.id && cover.need.part == arriving.part &&
        cover.source != supply::Source::kShelf) {
      pieces += cover.need.quantity;
    }
  }
  return std::max(1, pieces);
}

Money price_of_purchase(const trade::Supplier& supplier, const trade::Offer& offer, int pieces) {
  const int quantity = supply::in_packs(offer, pieces);
  const Money goods = supply::unit_cost(offer, quantity) * quantity;
  return goods + supply::extra_for(supply::terms_of(supplier), goods);
}

/// The line as it would be if it were ordered now for the order.
trade::PurchaseLine ordered_now(const Standing& at, const trade::Offer& offer, int pieces) {
  return {.id = fmt::format("{} as if from {}", offer.part.text, offer.supplier.text),
          .supplier = offer.supplier, .part = offer.part, .quantity = supply::in_packs(offer, pieces), .order = at.order.id,
          .placed = day_placed(at.state, offer.supplier, at.now)};
}

void add_other_suppliers(const Standing& at, const WorkshopInput::Arriving& arriving,
                         std::vector<Way>& ways) {
  const auto& purchases = at.state.held.purchases;
  const auto line = std::ranges::find(purchases, arriving.purchase, &trade::PurchaseLine::id);
  if (line == purchases.end()) return;  // not bought yet: the soonest is reckoned with already
  const int pieces = pieces_waited_for(at, arriving);
  for (const trade::Offer& offer : at.state.held.offers) {
    const auto supplier = at.state.suppliers.find(offer.supplier);
    if (offer.part != arriving.part || offer.supplier == line->supplier ||
        supplier == at.state.suppliers.end()) {
      continue;
    }
    Way way{.kind = "other supplier",
            .what = fmt::format("Buy {} once more, from {}", at.state.name_of(offer.part),
                                supplier->second->name),
            .note = fmt::format("{} stays on order and goes to the shelf, unless {} takes it back.",
                                line->id,
                                at.state.suppliers.contains(line->supplier)
                                    ? at.state.suppliers.at(line->supplier)->name
                                    : line->supplier.text),
            .price = price_of_purchase(*supplier->second, offer, pieces)};
    way.change.bought.push_back(ordered_now(at, offer, pieces));
    ways.push_back(std::move(way));
  }
}

Way freight_way(const Standing& at, const WorkshopInput::Arriving& arriving,
                const supply::FreightMode& mode) {
  return {.kind = "freight",
          .what = fmt::format("Let {} come by {}", at.state.name_of(arriving.part), mode.mode),
          .note = fmt::format("Said to the supplier before the goods leave; {}.", mode.basis),
          .price = Money{*mode.extra_cents}};
}

void add_freight(const Standing& at, const WorkshopInput::Arriving& arriving,
                 std::vector<Way>& ways) {
  const auto& purchases = at.state.held.purchases;
  const auto line = std::ranges::find(purchases, arriving.purchase, &trade::PurchaseLine::id);
  if (line != purchases.end()) {
    for (const auto& mode : freight_modes(at.state, at.lead_times, *line, at.now.day)) {
      if (mode.usual || !mode.extra_cents) continue;
      ways.push_back(freight_way(at, arriving, mode));
      ways.back().change.modes[line->id] = mode.mode;
    }
    return;
  }
  const trade::Offer* offer = soonest_offer(at.state, at.lead_times, arriving.part);
  if (offer == nullptr) return;
  const int pieces = pieces_waited_for(at, arriving);
  for (const auto& mode : freight_modes(at.state, at.lead_times, *offer, pieces, at.now.day)) {
    if (mode.usual || !mode.extra_cents) continue;
    ways.push_back(freight_way(at, arriving, mode));
    trade::PurchaseLine bought = ordered_now(at, *offer, pieces);
    bought.mode = mode.mode;
    ways.back().change.bought.push_back(std::move(bought));
  }
}

/// Parts that could stand in for one that holds the bike, in one slot.
struct Stands {
  const spec::PartChoice* choice = nullptr;
  Day here = {};
  Money dearer;
};

std::vector<Stands> stand_ins(const Standing& at, const spec::SlotChoices& slot,
                              const trade::PartId& held) {
  std::vector<Stands> found;
  const auto here_now = at.reckoned.arrivals.find(held);
  const std::optional<Money>& today = at.reckoned.choices.best.price;
  for (const spec::PartChoice& choice : slot.parts) {
    const auto here = at.reckoned.arrivals.find(choice.part);
    const bool open = choice.status <= spec::Status::kOpenWithCare && !choice.gone;
    if (!open || choice.part == held || here == at.reckoned.arrivals.end()) continue;
    const bool sooner =
        here_now == at.reckoned.arrivals.end() || here->second < here_now->second;
    if (!sooner || !today || !choice.best.price) continue;
    found.push_back({&choice, here->second, *choice.best.price - *today});
  }
  return found;
}

void add_other_part(const Standing& at, const spec::SlotChoices& slot, const Stands& stand,
                    std::vector<Way>& ways) {
  const trade::Slot* known = trade::find_slot(at.trade, slot.slot);
  Way way{.kind = "other part",
          .what = fmt::format("Choose another {}: {}",
                              known == nullptr ? slot.slot.text : known->name,
                              at.state.name_of(stand.choice->part)),
          .note = {},
          .price = stand.dearer,
          .slot = slot.slot,
          .part = stand.choice->part};
  if (!trade::is_before_agreed(at.order.state)) way.note = "The rider has to agree to the changed specification.";
  if (stand.choice->status != spec::Status::kOpen) {
    way.note += std::string(way.note.empty() ? "" : " ") +
                std::string(stand.choice->status == spec::Status::kOpenWithAdapter
                                ? "It needs an adapter."
                                : "It fits with care.");
  }
  way.change.choices[slot.slot] = stand.choice->part;
  ways.push_back(std::move(way));
}

void add_other_parts(const Standing& at, const trade::PartId& held, std::vector<Way>& ways) {
  if (!trade::is_before_agreed(at.order.state) && !gathers_parts(at.order)) return;
  for (const spec::SlotChoices& slot : at.reckoned.choices.slots) {
    const auto chosen = at.order.choices.find(slot.slot);
    if (chosen == at.order.choices.end() || chosen->second != held) continue;
    const std::vector<Stands> found = stand_ins(at, slot, held);
    if (found.empty()) continue;
    const auto cheapest = std::ranges::min_element(found, {}, [](const Stands& s) {
      return std::pair(s.dearer.cents, s.here);
    });
    const auto soonest = std::ranges::min_element(found, {}, [](const Stands& s) {
      return std::pair(s.here, s.dearer.cents);
    });
    add_other_part(at, slot, *cheapest, ways);
    if (soonest != cheapest) add_other_part(at, slot, *soonest, ways);
  }
}

void add_loans(const Standing& at, std::vector<Way>& ways) {
  const auto covers = covers_of(at.trade, at.state, at.now.day);
  for (const supply::Loan& loan : supply::possible_loans(
           covers, at.state.held.purchases, at.lead_times,
           {.today = at.now.day, .confidence = at.state.settings.promise_confidence,
            .closed = at.state.settings.closed})) {
    if (loan.borrower != at.order.id) continue;
    Way way{.kind = "borrow",
            .what = fmt::format("Borrow {} of {} from order {}", loan.quantity,
                                at.state.name_of(loan.part), loan.lender.text),
            .note = fmt::format("{} gets its name and is here by {}, when it is needed, in {:.0f} "
                                "of 100.",
                                loan.replacement, in_short(loan.lender_needs),
                                100 * loan.replaced_in_time),
            .price = {}};
    way.change.borrowed.push_back(loan);
    ways.push_back(std::move(way));
  }
}

/// Minutes that the person would be at work longer.
int minutes_more(const plan::Person& person, const plan::LongerDays& longer) {
  int more = 0;
  const auto later = plan::with_longer_days(person.hours, longer);
  for (std::size_t i = 0; i < later.size(); ++i) more += later[i].to - person.hours[i].to;
  return more;
}

void add_longer_days(const Standing& at, std::vector<Way>& ways) {
  if (!at.promise.day_50) return;
  const plan::PlanInput& input = at.workshop.input;
  const plan::LongerDays longer{
      .first = 1, .last = static_cast<int>((*at.promise.day_50 - input.first_day).count()),
      .minutes = kLaterMinutes, .most = kMostMinutesADay};
  std::set<std::string> taken;
  for (const std::uint64_t skills :
       what_holds(at, {plan::HoldKind::kPeople, plan::HoldKind::kHours})) {
    for (const plan::Person& person : input.people) {
      if ((person.skills & skills) == 0 || taken.size() == kMostPeople) continue;
      const int more = minutes_more(person, longer);
      if (more == 0 || !taken.insert(person.id).second) continue;
      const auto& people = at.state.held.people;
      const auto known = std::ranges::find(people, trade::PersonId(person.id), &trade::Person::id);
      Way way{.kind = "longer days",
              .what = fmt::format("{} stays two hours longer until {}",
                                  known == people.end() ? person.id : known->name,
                                  in_words(*at.promise.day_50)),
              .note = fmt::format("At most {:.0f} h in all, ten hours on one day; the contract and "
                                  "local law come first.",
                                  more / 60.0),
              .price = Money{at.state.settings.hourly_rate.cents * more * kOvertimePercent / 6000},
              .price_is_most = true};
      way.change.longer_days[person.id] = longer;
      ways.push_back(std::move(way));
    }
  }
}

void add_first(const Standing& at, std::vector<Way>& ways) {
  const std::set<plan::HoldKind> queue = {plan::HoldKind::kPeople, plan::HoldKind::kStand,
                                          plan::HoldKind::kHands};
  if (what_holds(at, queue).empty()) return;
  Way way{.kind = "first",
          .what = fmt::format("Take order {} up before all others", at.order.id.text),
          .note = {},
          .price = {}};
  way.change.first = true;
  ways.push_back(std::move(way));
}

}  // namespace

std::vector<Way> ways_sooner(const Standing& at) {
  std::vector<Way> ways;
  for (const std::uint64_t arrival : what_holds(at, {plan::HoldKind::kArrival})) {
    if (arrival >= at.workshop.arriving.size()) continue;
    const WorkshopInput::Arriving& arriving = at.workshop.arriving[arrival];
    add_freight(at, arriving, ways);
    add_other_suppliers(at, arriving, ways);
    add_other_parts(at, arriving.part, ways);
  }
  add_loans(at, ways);
  add_longer_days(at, ways);
  add_first(at, ways);
  return ways;
}

}  // namespace rollwright::shop

#include "spec/trials/enumeration.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "spec/evaluate.hpp"

namespace rollwright::spec::testing {

using trade::Verdict;

namespace {

trade::PartId id_of(const trade::Part* part) {
  return part != nullptr ? part->id : trade::PartId();
}

bool matches(const Selection& selection, const std::vector<trade::SlotId>& slots,
             const Enumeration::Row& row) {
  for (std::size_t i = 0; i < slots.size(); ++i) {
    const auto chosen = selection.find(slots[i]);
    if (chosen != selection.end() && chosen->second != row.parts[i]) return false;
  }
  return true;
}

}  // namespace

std::int64_t milligrams_of(Mass mass) { return std::llround(mass.in(gram) * 1000); }

Figures figures_of(const Catalogue& catalogue, const std::vector<const trade::Part*>& parts) {
  Figures figures{.ready = Day::min()};
  const auto slots = slots_of(catalogue);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i] == nullptr) continue;
    const int pieces = slots[i]->quantity;
    figures.cents += pieces * parts[i]->price.cents;
    const auto mass = trade::mass_of(*parts[i]);
    figures.milligrams += mass ? pieces * milligrams_of(*mass) : 0;
    figures.masses_not_known += mass ? 0 : pieces;
    const auto arrival = catalogue.arrivals.find(parts[i]->id);
    if (arrival == catalogue.arrivals.end()) {
      figures.ready.reset();
    } else if (figures.ready) {
      figures.ready = std::max(*figures.ready, arrival->second);
    }
  }
  return figures;
}

Bests bests_of(const std::vector<const Figures*>& bikes) {
  Bests bests;
  std::optional<std::pair<int, std::int64_t>> lightest;
  for (const Figures* bike : bikes) {
    bests.price = std::min(bests.price.value_or(Money{bike->cents}), Money{bike->cents});
    lightest = std::min(lightest.value_or(bike->mass()), bike->mass());
    if (bike->ready) bests.ready = std::min(bests.ready.value_or(*bike->ready), *bike->ready);
  }
  if (lightest) {
    bests.masses_not_known = lightest->first;
    bests.mass = static_cast<double>(lightest->second) / 1000 * gram;
  }
  return bests;
}

Enumeration::Enumeration(const Catalogue& catalogue) : catalogue_(catalogue) {
  for (const trade::Slot* slot : slots_of(catalogue)) {
    slots_.push_back(slot->id);
    candidates_.push_back(candidates_for(catalogue, slot->id));
  }
  Bike bike{.order = catalogue.order, .rider = catalogue.rider};
  std::vector<const trade::Part*> parts(slots_.size(), nullptr);
  fill(0, bike, parts);
}

void Enumeration::fill(std::size_t slot, Bike& bike, std::vector<const trade::Part*>& parts) {
  if (slot == slots_.size()) return judge(bike, parts);
  for (const trade::Part* part : candidates_[slot]) {
    bike.parts.erase(slots_[slot]);
    if (part != nullptr) bike.parts[slots_[slot]] = part;
    parts[slot] = part;
    fill(slot + 1, bike, parts);
  }
  bike.parts.erase(slots_[slot]);
}

void Enumeration::judge(const Bike& bike, const std::vector<const trade::Part*>& parts) {
  Row row{.figures = figures_of(catalogue_, parts)};
  for (const trade::Part* part : parts) row.parts.push_back(id_of(part));
  for (const trade::Rule& rule : catalogue_.trade.rules) {
    row.verdicts.push_back(evaluate(catalogue_.trade, rule, bike).verdict);
    row.worst = std::max(row.worst, row.verdicts.back());
  }
  rows_.push_back(std::move(row));
}

std::vector<const Enumeration::Row*> Enumeration::agreeing(const Selection& selection,
                                                           const Selection& named) const {
  std::set<trade::PartId> gone;
  for (const trade::Part& part : catalogue_.parts) {
    // Each kind of these catalogues has one slot, so that a part tells its slot.
    const bool is_named = std::ranges::any_of(
        named, [&](const auto& choice) { return choice.second == part.id; });
    if (part.gone && !is_named) gone.insert(part.id);
  }
  std::vector<const Row*> rows;
  for (const Row& row : rows_) {
    const bool has_gone = std::ranges::any_of(
        row.parts, [&](const trade::PartId& part) { return gone.contains(part); });
    if (!has_gone && matches(selection, slots_, row)) rows.push_back(&row);
  }
  return rows;
}

std::vector<const Enumeration::Row*> Enumeration::complete(const Selection& selection,
                                                           const Selection& named,
                                                           Verdict at_most) const {
  std::vector<const Row*> rows = agreeing(selection, named);
  std::erase_if(rows, [&](const Row* row) { return row->worst > at_most; });
  return rows;
}

Verdict Enumeration::best(const Selection& selection, const Selection& named,
                          const std::vector<std::string>* rules) const {
  Verdict best = Verdict::kDoesNotFit;
  for (const Row* row : agreeing(selection, named)) {
    Verdict worst = Verdict::kFits;
    for (std::size_t r = 0; r < row->verdicts.size(); ++r) {
      const bool counts =
          rules == nullptr ||
          std::ranges::find(*rules, catalogue_.trade.rules[r].id) != rules->end();
      if (counts) worst = std::max(worst, row->verdicts[r]);
    }
    best = std::min(best, worst);
  }
  return best;
}

}  // namespace rollwright::spec::testing

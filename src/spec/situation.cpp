#include "spec/situation.hpp"

#include <algorithm>
#include <cmath>

#include "base/index.hpp"

namespace rollwright::spec {

namespace {

Figure figure_of(const trade::Part* part, int pieces, const Arrivals* arrivals) {
  Figure figure;
  if (part == nullptr) return figure;
  figure.price = part->price.cents * pieces;
  const auto mass = trade::mass_of(*part);
  figure.mass = pieces * (mass ? std::llround(mass->in(kg) / Figure::kMassUnit)
                               : Figure::kMassNotKnown);
  if (arrivals == nullptr) return figure;
  const auto arrival = arrivals->find(part->id);
  figure.day = arrival == arrivals->end()
                   ? Figure::kNever
                   : static_cast<std::int32_t>(arrival->second.time_since_epoch().count());
  return figure;
}

/// What no bike reaches, so that a share that is not known breaks every limit there is.
constexpr std::int64_t kTooMuch = std::int64_t{1} << 50;
constexpr std::int64_t kForbids = -1;

std::int64_t limit_in(const SumLimit& limit, bool base_known, Facts facts) {
  using Kind = SumLimit::Kind;
  if (limit.kind == Kind::kNotApplying) return HeldSum::kNoLimit;
  const bool known = limit.kind == Kind::kLimit && base_known;
  if (!known && facts == Facts::kKnown) return kForbids;
  if (limit.kind == Kind::kNotKnown) return HeldSum::kNoLimit;
  return static_cast<std::int64_t>(std::floor(limit.limit / WholeSum::kUnit + 0.5));
}

HeldSum held_in(const WholeSum& sum, const Situation& situation, Facts facts) {
  HeldSum held;
  for (int d = 0; d < situation.slots(); ++d) {
    auto& amounts = held.amount.emplace_back();
    for (const WholeSum::Share& share : sum.shares[at(d)]) {
      const bool too_much = !share.known && facts == Facts::kKnown;
      amounts.push_back(too_much ? kTooMuch : share.amount);
    }
    held.limit.emplace_back(sum.shares[at(d)].size(), HeldSum::kNoLimit);
  }
  for (const WholeSum::Limit& limit : sum.limits) {
    if (limit.slot < 0) {
      held.limit_of_all =
          std::min(held.limit_of_all, limit_in(limit.by_candidate[0], sum.base.known, facts));
      continue;
    }
    auto& own = held.limit[at(limit.slot)];
    for (std::size_t i = 0; i < own.size(); ++i) {
      own[i] = std::min(own[i], limit_in(limit.by_candidate[i], sum.base.known, facts));
    }
  }
  return held;
}

/// Some limit holds for every bike, whatever stands in its slot.
bool always_limits(const HeldSum& held, const Outlook& outlook) {
  if (held.limit_of_all < HeldSum::kNoLimit) return true;
  for (std::size_t d = 0; d < held.limit.size(); ++d) {
    bool all = true;
    for (std::size_t i = 0; i < held.limit[d].size(); ++i) {
      all &= outlook.usable[d][i] == 0 || held.limit[d][i] < HeldSum::kNoLimit;
    }
    if (all) return true;
  }
  return false;
}

void forbid(const HeldSum& held, Outlook& outlook) {
  const bool limited = always_limits(held, outlook);
  for (std::size_t d = 0; d < outlook.usable.size(); ++d) {
    for (std::size_t i = 0; i < outlook.usable[d].size(); ++i) {
      const bool too_much = limited && held.amount[d][i] >= kTooMuch;
      if (too_much || held.limit[d][i] < 0 || held.limit_of_all < 0) outlook.usable[d][i] = 0;
    }
  }
}

/// Whether some choice of candidates, fitting or not, could break the sum.
bool can_be_broken(const HeldSum& held, const Outlook& outlook) {
  std::int64_t most = 0;
  std::int64_t limit = held.limit_of_all;
  for (std::size_t d = 0; d < outlook.usable.size(); ++d) {
    std::int64_t own = 0;
    for (std::size_t i = 0; i < outlook.usable[d].size(); ++i) {
      if (outlook.usable[d][i] == 0) continue;
      own = std::max(own, held.amount[d][i]);
      limit = std::min(limit, held.limit[d][i]);
    }
    most += own;
  }
  return most > limit;
}

}  // namespace

Situation situation_of(const Compiled& compiled, const Diagram& diagram,
                       std::span<const Fixed> decided, std::span<const Fixed> named,
                       const Arrivals* arrivals) {
  Situation situation{.compiled = compiled, .diagram = diagram, .has_days = arrivals != nullptr,
                      .decided = std::vector<int>(compiled.domains.size(), -1),
                      .offered = {}, .figures = {}};
  for (std::size_t d = 0; d < compiled.domains.size(); ++d) {
    const Domain& domain = compiled.domains[d];
    std::vector<char>& offered = situation.offered.emplace_back();
    std::vector<Figure>& figures = situation.figures.emplace_back();
    for (std::size_t i = 0; i < domain.parts.size(); ++i) {
      const trade::Part* part = domain.parts[i];
      const bool on_some_bike = !diagram.nothing && diagram.slots[d].family_of[i] >= 0;
      offered.push_back(on_some_bike && (part == nullptr || !part->gone));
      figures.push_back(figure_of(part, domain.slot->quantity, arrivals));
    }
  }
  for (const Fixed& choice : named) {
    const bool on_some_bike =
        !diagram.nothing && diagram.slots[at(choice.domain)].family_of[at(choice.candidate)] >= 0;
    situation.offered[at(choice.domain)][at(choice.candidate)] = on_some_bike;
  }
  for (const Fixed& choice : decided) situation.decided[at(choice.domain)] = choice.candidate;
  return situation;
}

Situations situations_of(const Compiled& compiled, std::span<const Fixed> decided,
                         std::span<const Fixed> named, const Arrivals* arrivals) {
  Situations both{.known = situation_of(compiled, *compiled.known, decided, named, arrivals),
                  .possible = {}};
  if (compiled.possible != nullptr) {
    both.possible.emplace(
        situation_of(compiled, *compiled.possible, decided, named, arrivals));
  }
  return both;
}

Outlook outlook_of(const Situation& situation, Facts facts) {
  Outlook outlook{.usable = situation.offered, .sums = {}};
  std::vector<HeldSum> sums;
  for (const WholeSum& sum : situation.diagram.whole_sums) {
    sums.push_back(held_in(sum, situation, facts));
    forbid(sums.back(), outlook);
  }
  for (HeldSum& sum : sums) {
    if (can_be_broken(sum, outlook)) outlook.sums.push_back(std::move(sum));
  }
  return outlook;
}

}  // namespace rollwright::spec

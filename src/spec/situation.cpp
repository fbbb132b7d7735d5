#include "spec/situation.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/index.hpp"

namespace rollwright::spec {

namespace {

/// kNever: the part is not among the arrivals.
std::int32_t day_of(const trade::Part& part, const Arrivals& arrivals) {
  const auto arrival = arrivals.find(part.id);
  return arrival == arrivals.end()
             ? Figure::kNever
             : static_cast<std::int32_t>(arrival->second.time_since_epoch().count());
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

/// Whether some choice of candidates, fitting or not, could break the sum: what is decided, save in
/// one slot at most, and anything in the others.
bool can_be_broken(const HeldSum& held, const Outlook& outlook, const std::vector<int>& decided) {
  std::int64_t most = 0;
  std::int64_t most_more = 0;  // when one decided slot holds its greatest amount instead
  std::int64_t limit = held.limit_of_all;
  for (std::size_t d = 0; d < outlook.usable.size(); ++d) {
    std::int64_t greatest = 0;
    for (std::size_t i = 0; i < outlook.usable[d].size(); ++i) {
      if (outlook.usable[d][i] == 0) continue;
      greatest = std::max(greatest, held.amount[d][i]);
      limit = std::min(limit, held.limit[d][i]);
    }
    const std::int64_t own = decided[d] < 0 ? greatest : held.amount[d][at(decided[d])];
    most += own;
    most_more = std::max(most_more, greatest - own);
  }
  return most + most_more > limit;
}

/// Parts that are on some bike and can still be had, and those that somebody named.
void offer(Situation& situation, std::span<const Fixed> named) {
  const auto on_some_bike = [&](std::size_t d, std::size_t i) {
    return !situation.diagram.nothing && situation.diagram.slots[d].family_of[i] >= 0;
  };
  for (std::size_t d = 0; d < situation.compiled.domains.size(); ++d) {
    const Domain& domain = situation.compiled.domains[d];
    std::vector<char>& offered = situation.offered.emplace_back();
    for (std::size_t i = 0; i < domain.parts.size(); ++i) {
      const bool gone = domain.parts[i] != nullptr && domain.parts[i]->gone;
      offered.push_back(!gone && on_some_bike(d, i));
    }
  }
  for (const Fixed& choice : named) {
    situation.offered[at(choice.domain)][at(choice.candidate)] =
        on_some_bike(at(choice.domain), at(choice.candidate));
  }
}

/// By slot and candidate.
std::vector<std::vector<Figure>> figures_with_days(const Compiled& compiled,
                                                   const Arrivals* arrivals) {
  std::vector<std::vector<Figure>> figures;
  for (const Domain& domain : compiled.domains) {
    std::vector<Figure>& own = figures.emplace_back(domain.figures);
    for (std::size_t i = 0; arrivals != nullptr && i < own.size(); ++i) {
      if (domain.parts[i] != nullptr) own[i].day = day_of(*domain.parts[i], *arrivals);
    }
  }
  return figures;
}

}  // namespace

Situations situations_of(const Compiled& compiled, std::span<const Fixed> decided,
                         std::span<const Fixed> named, const Arrivals* arrivals) {
  Situation known{.compiled = compiled, .diagram = *compiled.known,
                  .has_days = arrivals != nullptr,
                  .decided = std::vector<int>(compiled.domains.size(), -1), .offered = {},
                  .figures = figures_with_days(compiled, arrivals)};
  for (const Fixed& choice : decided) known.decided[at(choice.domain)] = choice.candidate;
  Situations both{.known = std::move(known), .possible = {}};
  if (compiled.possible != nullptr) {
    both.possible.emplace(Situation{.compiled = compiled, .diagram = *compiled.possible,
                                    .has_days = both.known.has_days,
                                    .decided = both.known.decided, .offered = {},
                                    .figures = both.known.figures});
    offer(*both.possible, named);
  }
  offer(both.known, named);
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
    if (can_be_broken(sum, outlook, situation.decided)) outlook.sums.push_back(std::move(sum));
  }
  return outlook;
}

}  // namespace rollwright::spec

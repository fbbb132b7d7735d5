#include "spec/whole_sum.hpp"

#include <algorithm>
#include <cmath>

#include "base/index.hpp"

namespace rollwright::spec {

namespace {

WholeSum::Share share_of(double amount, bool known) {
  return {std::llround(amount / WholeSum::kUnit), known};
}

bool operator==(const WholeSum::Share& a, const WholeSum::Share& b) {
  return a.amount == b.amount && a.known == b.known;
}

std::vector<std::vector<WholeSum::Share>> shares_of(const Compiled& compiled,
                                                    const Constraint& constraint) {
  std::vector<std::vector<WholeSum::Share>> shares;
  for (const Domain& domain : compiled.domains) shares.emplace_back(domain.parts.size());
  for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
    const int d = constraint.slots[place];
    const Domain& domain = compiled.domains[at(d)];
    for (std::size_t i = 0; i < domain.parts.size(); ++i) {
      const Constraint::Share& share = constraint.shares[place][at(domain.group_of[i])];
      shares[at(d)][i] = share_of(share.amount, share.known);
    }
  }
  return shares;
}

WholeSum::Limit limit_of(const Compiled& compiled, const Constraint& constraint) {
  // The constraint's limits are for the terms that hang on slots: the base is taken off already.
  if (constraint.guards.empty()) return {.slot = -1, .by_candidate = constraint.limits};
  const auto place = at(constraint.guards.front());
  WholeSum::Limit limit{.slot = constraint.slots[place], .by_candidate = {}};
  for (const int group : compiled.domains[at(limit.slot)].group_of) {
    limit.by_candidate.push_back(
        constraint.limits[at(constraint.class_of[place][at(group)])]);
  }
  return limit;
}

bool same_shares(const WholeSum& sum, const WholeSum::Share& base,
                 const std::vector<std::vector<WholeSum::Share>>& shares) {
  return sum.base == base && std::ranges::equal(sum.shares, shares, [](auto& a, auto& b) {
           return std::ranges::equal(a, b, [](auto& x, auto& y) { return x == y; });
         });
}

}  // namespace

bool sums_can_be_held(const Compiled& compiled, std::span<const int> constraints) {
  return std::ranges::all_of(constraints, [&](int c) {
    const Constraint& constraint = compiled.constraints[at(c)];
    return constraint.guards.size() <= 1 && !constraint.limits.empty() &&
           verdict_of_failure(constraint.form.rule->severity) == trade::Verdict::kDoesNotFit;
  });
}

std::vector<WholeSum> whole_sums_of(const Compiled& compiled, std::span<const int> constraints) {
  std::vector<WholeSum> sums;
  for (const int c : constraints) {
    const Constraint& constraint = compiled.constraints[at(c)];
    const WholeSum::Share base = share_of(constraint.base_amount, constraint.base_known);
    auto shares = shares_of(compiled, constraint);
    auto sum = std::ranges::find_if(
        sums, [&](const WholeSum& known) { return same_shares(known, base, shares); });
    if (sum == sums.end()) {
      sums.push_back({.rules = {}, .shares = std::move(shares), .base = base, .limits = {}});
      sum = sums.end() - 1;
    }
    sum->rules.push_back(c);
    sum->limits.push_back(limit_of(compiled, constraint));
  }
  return sums;
}

void add_limit_signature(const std::vector<WholeSum>& sums, int slot, int candidate,
                         std::vector<int>& signature) {
  for (const WholeSum& sum : sums) {
    for (const WholeSum::Limit& limit : sum.limits) {
      if (limit.slot != slot) continue;
      const SumLimit& own = limit.by_candidate[at(candidate)];
      const auto same = std::ranges::find_if(limit.by_candidate, [&](const SumLimit& other) {
        return other.kind == own.kind && other.limit == own.limit;
      });
      signature.push_back(static_cast<int>(same - limit.by_candidate.begin()));
    }
  }
}

}  // namespace rollwright::spec

#include "spec/search.hpp"

#include "base/index.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace rollwright::spec {

namespace {

using Kind = Constraint::Kind;

/// Rules over several slots are enumerated once no more combinations than this are left.
constexpr long long kMostEnumerated = 256;
constexpr long long kMostJudged = 32;  // when each combination must be judged afresh

template <class Visit>
void for_each_group(const Bits& bits, const Domain& domain, Visit visit) {
  for (std::size_t w = 0; w < domain.words; ++w) {
    for (std::uint64_t word = bits[domain.first_word + w]; word != 0; word &= word - 1) {
      visit(static_cast<int>(w * 64) + std::countr_zero(word));
    }
  }
}

bool any_left(const Bits& bits, const Domain& domain) {
  for (std::size_t w = 0; w < domain.words; ++w) {
    if (bits[domain.first_word + w] != 0) return true;
  }
  return false;
}

std::size_t patience(Kind kind) {
  if (kind == Kind::kSum) return 2;
  return kind == Kind::kTable || kind == Kind::kLarge ? 1 : 0;
}

}  // namespace

Search::Search(const Compiled& compiled, trade::Verdict level, Budget& budget,
               const std::vector<char>* enabled)
    : compiled_(compiled),
      level_(static_cast<int>(level)),
      budget_(budget),
      enabled_(enabled),
      waits_(compiled.constraints.size(), 0) {}

std::optional<Bits> Search::start(std::span<const Fixed> fixed) {
  Bits bits(compiled_.words, 0);
  for (const Domain& domain : compiled_.domains) {
    for (int group = 0; group < domain.groups(); ++group) {
      if (domain.offered[at(group)]) insert(bits, domain, group);
    }
  }
  for (const Fixed& choice : also_offered_) {
    insert(bits, compiled_.domains[at(choice.domain)], choice.group);
  }
  for (const Fixed& choice : fixed) {
    const Domain& domain = compiled_.domains[at(choice.domain)];
    for (std::size_t w = 0; w < domain.words; ++w) bits[domain.first_word + w] = 0;
    insert(bits, domain, choice.group);
  }
  for (const Domain& domain : compiled_.domains) {
    if (!any_left(bits, domain)) return std::nullopt;
  }
  if (!fixed_rules_hold()) return std::nullopt;
  for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
    const Constraint& constraint = compiled_.constraints[c];
    if (!on(static_cast<int>(c)) || constraint.kind == Kind::kFixed) continue;
    waits_[c] = 1;
    waiting_[patience(constraint.kind)].push_back(static_cast<int>(c));
  }
  if (!propagate(bits)) return std::nullopt;
  return bits;
}

bool Search::fixed_rules_hold() const {
  for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
    const Constraint& constraint = compiled_.constraints[c];
    if (constraint.kind != Kind::kFixed || !on(static_cast<int>(c))) continue;
    if (static_cast<int>(constraint.verdict({})) > level_) return false;
  }
  return true;
}

bool Search::decide(Bits& bits, int domain, int group) {
  const Domain& own = compiled_.domains[at(domain)];
  if (!has(bits, own, group)) return false;
  for (std::size_t w = 0; w < own.words; ++w) bits[own.first_word + w] = 0;
  insert(bits, own, group);
  touch(domain);
  return propagate(bits);
}

bool Search::take_away(Bits& bits, int domain, int group) {
  const Domain& own = compiled_.domains[at(domain)];
  erase(bits, own, group);
  if (!any_left(bits, own)) return false;
  touch(domain);
  return propagate(bits);
}

Answer Search::complete(Bits bits, const Bits& wanted, std::vector<int>& solution) {
  while (true) {
    if (!budget_.spend()) return Answer::kGaveUp;
    const int domain = pick(bits);
    if (domain < 0) break;
    const int group = first(bits, domain, wanted);
    Bits with = bits;
    if (decide(with, domain, group)) {
      const Answer answer = complete(std::move(with), wanted, solution);
      if (answer != Answer::kNo) return answer;
    }
    if (!take_away(bits, domain, group)) return Answer::kNo;
  }
  if (!sums_hold(bits)) return Answer::kNo;
  solution.clear();
  for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) {
    solution.push_back(first(bits, d, bits));
  }
  return Answer::kYes;
}

void Search::touch(int domain) {
  for (const int c : compiled_.domains[at(domain)].constraints) {
    if (waits_[at(c)] != 0 || !on(c)) continue;
    waits_[at(c)] = 1;
    waiting_[patience(compiled_.constraints[at(c)].kind)].push_back(c);
  }
}

bool Search::propagate(Bits& bits) {
  bool alive = true;
  while (true) {
    std::vector<int>* next = nullptr;
    for (auto& waiting : waiting_) {
      if (!waiting.empty()) {
        next = &waiting;
        break;
      }
    }
    if (next == nullptr) return alive;
    const int constraint = next->back();
    next->pop_back();
    waits_[at(constraint)] = 0;
    // After a failure the rest is only taken off the lists.
    if (alive) alive = revise(constraint, bits);
  }
}

bool Search::revise(int number, Bits& bits) {
  const Constraint& constraint = compiled_.constraints[at(number)];
  switch (constraint.kind) {
    case Kind::kFixed: return true;
    case Kind::kUnary: return revise_unary(constraint, bits);
    case Kind::kBinary: return revise_binary(constraint, bits);
    case Kind::kTable:
    case Kind::kLarge: return revise_many(constraint, bits);
    case Kind::kSum: return revise_sum(constraint, bits);
  }
  return true;
}

bool Search::revise_unary(const Constraint& constraint, Bits& bits) {
  const int slot = constraint.slots[0];
  const Domain& domain = compiled_.domains[at(slot)];
  bool changed = false;
  for_each_group(bits, domain, [&](int group) {
    const int chosen[1] = {constraint.class_of[0][at(group)]};
    if (static_cast<int>(constraint.verdict(chosen)) <= level_) return;
    erase(bits, domain, group);
    changed = true;
  });
  if (changed) touch(slot);
  return any_left(bits, domain);
}

bool Search::revise_binary(const Constraint& constraint, Bits& bits) {
  for (std::size_t place = 0; place < 2; ++place) {
    const Domain& own = compiled_.domains[at(constraint.slots[place])];
    const int other_slot = constraint.slots[1 - place];
    const Domain& other = compiled_.domains[at(other_slot)];
    const std::vector<Bits>& rows = constraint.allowed[level_][place];
    bool changed = false;
    bool any = false;
    for (std::size_t w = 0; w < other.words; ++w) {
      std::uint64_t allowed = 0;
      for_each_group(bits, own, [&](int group) { allowed |= rows[at(group)][w]; });
      std::uint64_t& word = bits[other.first_word + w];
      changed |= (word & ~allowed) != 0;
      word &= allowed;
      any |= word != 0;
    }
    if (!any) return false;
    if (changed) touch(other_slot);
  }
  return true;
}

void Search::list_classes(const Constraint& constraint, const Bits& bits) {
  const std::size_t arity = constraint.slots.size();
  alive_.resize(std::max(alive_.size(), arity));
  supported_.resize(std::max(supported_.size(), arity));
  counts_.assign(arity, 0);
  for (std::size_t place = 0; place < arity; ++place) {
    std::vector<char>& seen = supported_[place];
    seen.assign(at(constraint.classes[place]), 0);
    alive_[place].clear();
    for_each_group(bits, compiled_.domains[at(constraint.slots[place])], [&](int group) {
      const int class_number = constraint.class_of[place][at(group)];
      if (seen[at(class_number)] != 0) return;
      seen[at(class_number)] = 1;
      alive_[place].push_back(class_number);
    });
    counts_[place] = static_cast<int>(alive_[place].size());
    seen.assign(seen.size(), 0);
  }
}

bool Search::revise_many(const Constraint& constraint, Bits& bits) {
  list_classes(constraint, bits);
  long long combinations = 1;
  int undecided = 0;
  const long long most = constraint.kind == Kind::kTable ? kMostEnumerated : kMostJudged;
  for (const int count : counts_) {
    undecided += count > 1 ? 1 : 0;
    combinations = std::min(combinations * count, most + 1);
  }
  if (combinations > most && undecided > 1) return true;
  mark_supported(constraint);
  return keep_supported(constraint, bits);
}

void Search::mark_supported(const Constraint& constraint) {
  const std::size_t arity = constraint.slots.size();
  std::vector<int> position(arity, 0);
  std::vector<int> chosen(arity, 0);
  do {
    for (std::size_t place = 0; place < arity; ++place) {
      chosen[place] = alive_[place][at(position[place])];
    }
    if (static_cast<int>(constraint.verdict(chosen)) > level_) continue;
    for (std::size_t place = 0; place < arity; ++place) {
      supported_[place][at(chosen[place])] = 1;
    }
  } while (next_combination(position, counts_));
}

bool Search::keep_supported(const Constraint& constraint, Bits& bits) {
  for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
    const int slot = constraint.slots[place];
    const Domain& domain = compiled_.domains[at(slot)];
    bool changed = false;
    for_each_group(bits, domain, [&](int group) {
      if (supported_[place][at(constraint.class_of[place][at(group)])] != 0) return;
      erase(bits, domain, group);
      changed = true;
    });
    if (!any_left(bits, domain)) return false;
    if (changed) touch(slot);
  }
  return true;
}

std::optional<double> Search::widest_limit(const Constraint& constraint, const Bits& bits) {
  using LimitKind = SumLimit::Kind;
  if (constraint.limits.empty()) return std::nullopt;
  const bool unknown_is_allowed = level_ >= static_cast<int>(trade::Verdict::kNotKnown);
  list_classes(constraint, bits);
  std::vector<int> counts;
  for (const int place : constraint.guards) counts.push_back(counts_[at(place)]);
  std::vector<int> position(counts.size(), 0);
  double widest = -std::numeric_limits<double>::infinity();
  do {
    std::size_t number = 0;
    for (std::size_t i = 0; i < counts.size(); ++i) {
      const int chosen = alive_[at(constraint.guards[i])][at(position[i])];
      number += constraint.guard_strides[i] * at(chosen);
    }
    const SumLimit& limit = constraint.limits[number];
    if (limit.kind == LimitKind::kNotApplying) return std::nullopt;
    const bool is_known = limit.kind == LimitKind::kLimit && constraint.base_known;
    if (!is_known && !unknown_is_allowed) continue;
    if (limit.kind == LimitKind::kNotKnown) return std::nullopt;
    widest = std::max(widest, limit.limit);
  } while (next_combination(position, counts));
  return widest;
}

bool Search::revise_sum(const Constraint& constraint, Bits& bits) {
  // A failing CLAIM only asks for care: from that level on there is nothing to prune.
  const auto failure = verdict_of_failure(constraint.form.rule->severity);
  if (static_cast<int>(failure) <= level_) return true;
  const std::optional<double> limit = widest_limit(constraint, bits);
  return !limit || keep_within(constraint, *limit, bits);
}

bool Search::keep_within(const Constraint& constraint, double limit, Bits& bits) {
  const bool unknown_is_allowed = level_ >= static_cast<int>(trade::Verdict::kNotKnown);
  const std::size_t arity = constraint.slots.size();
  std::vector<double> least(arity, std::numeric_limits<double>::infinity());
  double total = 0;
  for (std::size_t place = 0; place < arity; ++place) {
    for_each_group(bits, compiled_.domains[at(constraint.slots[place])], [&](int group) {
      const Constraint::Share& share = constraint.shares[place][at(group)];
      if (share.known || unknown_is_allowed) least[place] = std::min(least[place], share.amount);
    });
    total += least[place];
  }
  // Wider than the slack of the exact judgement, so that rounding never takes a good part away.
  const double room = limit + 1e-6 * std::max({1.0, std::abs(limit), std::abs(total)});
  if (!(total <= room)) return false;
  for (std::size_t place = 0; place < arity; ++place) {
    const int slot = constraint.slots[place];
    const Domain& domain = compiled_.domains[at(slot)];
    bool changed = false;
    for_each_group(bits, domain, [&](int group) {
      const Constraint::Share& share = constraint.shares[place][at(group)];
      const bool is_fine = (share.known || unknown_is_allowed) &&
                           total - least[place] + share.amount <= room;
      if (is_fine) return;
      erase(bits, domain, group);
      changed = true;
    });
    if (!any_left(bits, domain)) return false;
    if (changed) touch(slot);
  }
  return true;
}

bool Search::sums_hold(const Bits& bits) {
  std::vector<int> chosen;
  for (std::size_t c = 0; c < compiled_.constraints.size(); ++c) {
    const Constraint& constraint = compiled_.constraints[c];
    if (constraint.kind != Kind::kSum || !on(static_cast<int>(c))) continue;
    chosen.clear();
    for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
      const int group = first(bits, constraint.slots[place], bits);
      chosen.push_back(constraint.class_of[place][at(group)]);
    }
    if (static_cast<int>(constraint.judged(chosen)) > level_) return false;
  }
  return true;
}

int Search::count(const Bits& bits, int domain) const {
  const Domain& own = compiled_.domains[at(domain)];
  int count = 0;
  for (std::size_t w = 0; w < own.words; ++w) count += std::popcount(bits[own.first_word + w]);
  return count;
}

int Search::first(const Bits& bits, int domain, const Bits& wanted) const {
  const Domain& own = compiled_.domains[at(domain)];
  int fallback = -1;
  for (std::size_t w = 0; w < own.words; ++w) {
    const std::uint64_t word = bits[own.first_word + w];
    const std::uint64_t better = word & wanted[own.first_word + w];
    const int base = static_cast<int>(w * 64);
    if (better != 0) return base + std::countr_zero(better);
    if (word != 0 && fallback < 0) fallback = base + std::countr_zero(word);
  }
  return fallback;
}

int Search::pick(const Bits& bits) const {
  int best = -1;
  double best_score = std::numeric_limits<double>::infinity();
  for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) {
    const int alive = count(bits, d);
    if (alive < 2) continue;
    const double degree = static_cast<double>(compiled_.domains[at(d)].constraints.size()) + 1;
    const double score = alive / degree;
    if (score < best_score) {
      best_score = score;
      best = d;
    }
  }
  return best;
}

}  // namespace rollwright::spec

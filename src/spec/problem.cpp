#include "spec/problem.hpp"

#include <algorithm>
#include <set>

#include "spec/compiled.hpp"
#include "spec/diagram.hpp"
#include "trade/pseudo.hpp"

namespace rollwright::spec {

namespace {

/// More combinations of classes than this are judged when needed instead of tabulated.
constexpr std::size_t kMostTabulated = 16384;
/// A sum over more slots than this is pruned by bounds.
constexpr std::size_t kMostSlotsOfTabulatedSum = 3;

Problems twins_among(std::span<const trade::Part> parts) {
  Problems problems;
  std::set<trade::PartId> seen;
  for (const trade::Part& part : parts) {
    if (seen.insert(part.id).second) continue;
    problems.push_back({Code::kContradiction,
                        "two parts of the catalogue are both numbered " + part.id.text});
  }
  return problems;
}

Domain domain_for(const ProblemInput& input, const trade::Slot& slot, bool required) {
  Domain domain{.slot = &slot, .required = required};
  const std::vector<trade::KindId> kinds = trade::kinds_for(input.trade, input.build, slot.id);
  for (const trade::Part& part : input.parts) {
    if (std::ranges::find(kinds, part.kind) != kinds.end()) domain.parts.push_back(&part);
  }
  if (!required) domain.parts.push_back(nullptr);
  for (const trade::Part* part : domain.parts) {
    domain.figures.push_back(figure_of(part, slot.quantity));
  }
  return domain;
}

void lay_domains(const ProblemInput& input, Compiled& compiled) {
  const auto listed_in = [](const std::vector<trade::SlotId>& slots, const trade::SlotId& slot) {
    return std::ranges::find(slots, slot) != slots.end();
  };
  for (const trade::Slot& slot : input.trade.slots) {
    const bool required = listed_in(input.build.required, slot.id);
    if (!required && !listed_in(input.build.optional, slot.id)) continue;
    compiled.domain_of.emplace(slot.id, static_cast<int>(compiled.domains.size()));
    compiled.domains.push_back(domain_for(input, slot, required));
  }
}

/// Finds the slots of the build that the rule looks at, and what the other operands come to.
void lay_scope(const Compiled& compiled, Constraint& constraint) {
  std::set<int> scope;
  const auto& operands = constraint.form.operands;
  for (const trade::Operand& operand : operands) {
    const auto domain = compiled.domain_of.find(operand.slot);
    if (domain != compiled.domain_of.end()) scope.insert(domain->second);
    const trade::Part* pseudo = operand.slot.text == "order"   ? &compiled.order
                                : operand.slot.text == "rider" ? &compiled.rider
                                                               : nullptr;
    constraint.base.push_back(held_by(operand, pseudo));
  }
  constraint.slots.assign(scope.begin(), scope.end());
  for (const int slot : constraint.slots) {
    std::vector<int> own;
    const trade::SlotId& id = compiled.domains[static_cast<std::size_t>(slot)].slot->id;
    for (std::size_t i = 0; i < operands.size(); ++i) {
      if (operands[i].slot == id) own.push_back(static_cast<int>(i));
    }
    constraint.operands.push_back(std::move(own));
  }
}

std::vector<Held> held_by_candidate(const Constraint& constraint, std::size_t place,
                                    const trade::Part* part) {
  std::vector<Held> values;
  for (const int operand : constraint.operands[place]) {
    values.push_back(held_by(constraint.form.operands[static_cast<std::size_t>(operand)], part));
  }
  return values;
}

/// Class of every candidate of every slot of the rule: `class_of` is by candidate until the groups
/// are known.
void lay_classes(const Compiled& compiled, Constraint& constraint) {
  for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
    const Domain& domain = compiled.domains[static_cast<std::size_t>(constraint.slots[place])];
    std::vector<std::vector<Held>> distinct;
    std::vector<int> class_of;
    for (const trade::Part* part : domain.parts) {
      std::vector<Held> values = held_by_candidate(constraint, place, part);
      const auto found = std::ranges::find(distinct, values);
      class_of.push_back(static_cast<int>(found - distinct.begin()));
      if (found == distinct.end()) distinct.push_back(std::move(values));
    }
    constraint.classes.push_back(static_cast<int>(distinct.size()));
    constraint.held.push_back(std::move(distinct));
    constraint.class_of.push_back(std::move(class_of));
  }
}

/// Candidates that are of the same class for every rule form one group.
void lay_groups(Compiled& compiled) {
  std::vector<std::vector<std::vector<int>>> signatures;  // [domain][candidate]
  for (const Domain& domain : compiled.domains) signatures.emplace_back(domain.parts.size());
  for (std::size_t c = 0; c < compiled.constraints.size(); ++c) {
    const Constraint& constraint = compiled.constraints[c];
    for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
      const auto slot = static_cast<std::size_t>(constraint.slots[place]);
      compiled.domains[slot].constraints.push_back(static_cast<int>(c));
      for (std::size_t i = 0; i < signatures[slot].size(); ++i) {
        signatures[slot][i].push_back(constraint.class_of[place][i]);
      }
    }
  }
  for (std::size_t slot = 0; slot < compiled.domains.size(); ++slot) {
    Domain& domain = compiled.domains[slot];
    std::map<std::vector<int>, int> group_of;
    for (std::size_t i = 0; i < domain.parts.size(); ++i) {
      const auto [found, is_new] = group_of.emplace(signatures[slot][i], domain.groups());
      if (is_new) {
        domain.representative.push_back(static_cast<int>(i));
        domain.offered.push_back(false);
      }
      domain.group_of.push_back(found->second);
      const bool gone = domain.parts[i] != nullptr && domain.parts[i]->gone;
      if (!gone) domain.offered[static_cast<std::size_t>(found->second)] = true;
    }
    domain.first_word = compiled.words;
    domain.words = (domain.representative.size() + 63) / 64;
    compiled.words += domain.words;
  }
}

/// From classes by candidate to classes by group.
void regroup(const Compiled& compiled, Constraint& constraint) {
  for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
    const Domain& domain = compiled.domains[static_cast<std::size_t>(constraint.slots[place])];
    std::vector<int> by_group;
    for (const int candidate : domain.representative) {
      by_group.push_back(constraint.class_of[place][static_cast<std::size_t>(candidate)]);
    }
    constraint.class_of[place] = std::move(by_group);
  }
}

/// Strides for numbering combinations; returns how many there are, or nothing when too many.
std::optional<std::size_t> lay_strides(std::span<const int> counts,
                                       std::vector<std::size_t>& strides) {
  std::size_t product = 1;
  strides.assign(counts.size(), 0);
  for (std::size_t i = counts.size(); i-- > 0;) {
    strides[i] = product;
    product *= static_cast<std::size_t>(std::max(counts[i], 1));
    if (product > kMostTabulated) return std::nullopt;
  }
  return product;
}

void tabulate(Constraint& constraint) {
  if (std::ranges::find(constraint.classes, 0) != constraint.classes.end()) return;
  std::vector<int> combination(constraint.slots.size(), 0);
  std::vector<std::uint8_t> table;
  do {
    table.push_back(static_cast<std::uint8_t>(constraint.judged(combination)));
  } while (next_combination(combination, constraint.classes));
  constraint.table = std::move(table);
}

void lay_matrix(const Compiled& compiled, Constraint& constraint) {
  for (int level = 0; level < kLevels; ++level) {
    for (std::size_t place = 0; place < 2; ++place) {
      const Domain& own = compiled.domains[static_cast<std::size_t>(constraint.slots[place])];
      const Domain& other = compiled.domains[static_cast<std::size_t>(constraint.slots[1 - place])];
      std::vector<Bits>& rows = constraint.allowed[level][place];
      rows.assign(own.representative.size(), Bits(other.words, 0));
      for (std::size_t g = 0; g < own.representative.size(); ++g) {
        for (std::size_t h = 0; h < other.representative.size(); ++h) {
          int chosen[2];
          chosen[place] = constraint.class_of[place][g];
          chosen[1 - place] = constraint.class_of[1 - place][h];
          if (static_cast<int>(constraint.verdict(chosen)) > level) continue;
          rows[g][h / 64] |= std::uint64_t{1} << (h % 64);
        }
      }
    }
  }
}

Constraint::Share share_of(const Constraint& constraint, std::size_t place, int class_number) {
  Constraint::Share share;
  const std::vector<Held>& values = constraint.held[place][static_cast<std::size_t>(class_number)];
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto operand = static_cast<std::size_t>(constraint.operands[place][i]);
    if (operand < constraint.form.terms || operand >= constraint.form.needed) continue;
    const double* number = values[i].known() ? std::get_if<double>(values[i].value) : nullptr;
    if (number != nullptr) {
      share.amount += constraint.form.factors[operand - constraint.form.terms] * *number;
    } else if (!values[i].empty()) {
      share.known = false;
    }
  }
  return share;
}

void lay_guards(Constraint& constraint) {
  std::vector<int> counts;
  for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
    const bool guards = std::ranges::any_of(constraint.operands[place], [&](int operand) {
      return static_cast<std::size_t>(operand) < constraint.form.terms;
    });
    if (!guards) continue;
    constraint.guards.push_back(static_cast<int>(place));
    counts.push_back(constraint.classes[place]);
  }
  if (!lay_strides(counts, constraint.guard_strides)) return;
  if (std::ranges::find(counts, 0) != counts.end()) return;
  std::vector<int> combination(counts.size(), 0);
  std::vector<Held> all = constraint.base;
  do {
    for (std::size_t i = 0; i < counts.size(); ++i) {
      const auto place = static_cast<std::size_t>(constraint.guards[i]);
      const auto& values = constraint.held[place][static_cast<std::size_t>(combination[i])];
      for (std::size_t v = 0; v < values.size(); ++v) {
        all[static_cast<std::size_t>(constraint.operands[place][v])] = values[v];
      }
    }
    constraint.limits.push_back(sum_limit(constraint.form, all));
  } while (next_combination(combination, counts));
}

void lay_sum(Constraint& constraint) {
  for (std::size_t place = 0; place < constraint.slots.size(); ++place) {
    std::vector<Constraint::Share> shares;
    for (const int class_number : constraint.class_of[place]) {
      shares.push_back(share_of(constraint, place, class_number));
    }
    constraint.shares.push_back(std::move(shares));
  }
  // Terms that hang on no slot of the build (the order's load) lower every limit alike.
  for (std::size_t i = constraint.form.terms; i < constraint.form.needed; ++i) {
    const Held& held = constraint.base[i];
    const double* number = held.known() ? std::get_if<double>(held.value) : nullptr;
    if (number != nullptr) {
      const double factor = constraint.form.factors[i - constraint.form.terms];
      constraint.base_amount += factor * *number;
    } else if (!held.empty()) {
      constraint.base_known = false;
    }
  }
  lay_guards(constraint);
  for (SumLimit& limit : constraint.limits) limit.limit -= constraint.base_amount;
}

void finish(const Compiled& compiled, Constraint& constraint) {
  using Kind = Constraint::Kind;
  regroup(compiled, constraint);
  const std::size_t arity = constraint.slots.size();
  const bool is_sum = constraint.form.rule->shape == trade::RuleShape::kSum;
  if (is_sum && arity > kMostSlotsOfTabulatedSum) {
    constraint.kind = Kind::kSum;
    lay_sum(constraint);
    return;
  }
  const auto combinations = lay_strides(constraint.classes, constraint.strides);
  if (arity > 2 && !combinations) {
    constraint.kind = Kind::kLarge;
    return;
  }
  if (combinations) tabulate(constraint);
  constraint.kind = arity == 0   ? Kind::kFixed
                    : arity == 1 ? Kind::kUnary
                    : arity == 2 ? Kind::kBinary
                                 : Kind::kTable;
  if (constraint.kind == Kind::kBinary) lay_matrix(compiled, constraint);
}

Problems missing_slots(const ProblemInput& input) {
  Problems problems;
  for (const auto* slots : {&input.build.required, &input.build.optional}) {
    for (const trade::SlotId& slot : *slots) {
      if (trade::find_slot(input.trade, slot) != nullptr) continue;
      problems.push_back({Code::kNotFound, "build " + input.build.id + " has a slot " + slot.text +
                                               " that the trade does not know"});
    }
  }
  return problems;
}

}  // namespace

Result<Problem> compile(ProblemInput input, const DiagramSettings& settings) {
  Problems problems = missing_slots(input);
  std::ranges::move(twins_among(input.parts), std::back_inserter(problems));
  if (!problems.empty()) return std::unexpected(problems.front());

  auto compiled = std::make_shared<Compiled>(
      Compiled{input.trade, input.build, std::move(input.order), std::move(input.rider)});
  lay_domains(input, *compiled);
  for (const trade::Rule& rule : input.trade.rules) {
    Constraint& constraint = compiled->constraints.emplace_back();
    constraint.form = form_of(input.trade, rule);
    lay_scope(*compiled, constraint);
    lay_classes(*compiled, constraint);
  }
  lay_groups(*compiled);
  for (Constraint& constraint : compiled->constraints) finish(*compiled, constraint);
  const auto fold = [&](Facts facts) -> std::shared_ptr<const Diagram> {
    const bool has_tree = compiled->known && !compiled->known->nothing;
    const SlotTree* tree = has_tree ? &compiled->known->tree : nullptr;
    std::optional<Diagram> diagram = diagram_of(*compiled, settings, facts, tree);
    return diagram ? std::make_shared<const Diagram>(std::move(*diagram)) : nullptr;
  };
  compiled->known = fold(Facts::kKnown);
  if (compiled->known != nullptr) compiled->possible = fold(Facts::kAny);
  return Problem(std::move(compiled));
}

Result<std::vector<Fixed>> fixed_by(const Compiled& compiled, const Selection& selection) {
  std::vector<Fixed> fixed;
  for (const auto& [slot, id] : selection) {
    const auto domain = compiled.domain_of.find(slot);
    if (domain == compiled.domain_of.end()) {
      return refuse(Code::kNotFound, "build " + compiled.build.id + " has no slot " + slot.text);
    }
    const Domain& own = compiled.domains[static_cast<std::size_t>(domain->second)];
    const auto found = std::ranges::find_if(own.parts, [&](const trade::Part* part) {
      return part == nullptr ? id.empty() : part->id == id;
    });
    if (found == own.parts.end() && id.empty()) {
      return refuse(Code::kContradiction, "the " + own.slot->name + " cannot be left out");
    }
    if (found == own.parts.end()) {
      return refuse(Code::kNotFound, "no part " + id.text + " in the catalogue can be the " +
                                         own.slot->name + " of build " + compiled.build.id);
    }
    const auto candidate = static_cast<int>(found - own.parts.begin());
    fixed.push_back({domain->second, candidate, own.group_of[static_cast<std::size_t>(candidate)]});
  }
  std::ranges::sort(fixed, {}, &Fixed::domain);
  return fixed;
}

}  // namespace rollwright::spec

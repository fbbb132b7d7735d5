#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "spec/rule_form.hpp"

namespace rollwright::spec {

/// Sets of groups as bits, one run of words per slot, all slots in one array.
using Bits = std::vector<std::uint64_t>;

/// Verdicts that a complete bike may be held to: kFits, kFitsWith, kFitsWithCare, kNotKnown.
inline constexpr int kLevels = 4;

/// One rule over the slots of a build, made ready for searching. The parts of a slot that no rule
/// can tell apart form a *group* (the unit of the search); those that this rule cannot tell apart
/// form a *class* of this rule.
struct Constraint {
  enum class Kind {
    kFixed,   // looks at no slot of the build: one verdict for every bike
    kUnary,   // one slot
    kBinary,  // two slots: a matrix of bits per level
    kTable,   // three or more: every combination of classes tabulated
    kLarge,   // too many combinations to tabulate; judged when needed
    kSum,     // a sum over many slots: pruned by bounds, judged when all is chosen
  };
  Kind kind = Kind::kFixed;
  RuleForm form;
  std::vector<int> slots;                    // indexes of domains, ascending
  std::vector<std::vector<int>> class_of;    // [place in slots][group]
  std::vector<int> classes;                  // how many, by place

  // What the operands come to: `base` for those that hang on no slot of the build, the rest by
  // place and class, parallel to `operands`.
  std::vector<Held> base;
  std::vector<std::vector<int>> operands;             // [place]: indexes into form.operands
  std::vector<std::vector<std::vector<Held>>> held;   // [place][class]

  std::vector<std::uint8_t> table;   // verdict by combination; empty for kLarge and kSum
  std::vector<std::size_t> strides;  // of the combination's number, by place

  /// kBinary: [level][place][group] gives the run of words that allows groups of the other place.
  std::vector<Bits> allowed[kLevels][2];

  // kSum: what each group adds (by place and group), and what limits the total.
  struct Share {
    double amount = 0;   // what is known of it
    bool known = true;
  };
  std::vector<std::vector<Share>> shares;
  double base_amount = 0;  // of the terms that hang on no slot of the build
  bool base_known = true;
  std::vector<int> guards;          // places whose slots decide whether the sum applies and its limit
  std::vector<SumLimit> limits;     // by combination of the guards' classes; empty: do not prune
  std::vector<std::size_t> guard_strides;

  /// The exact verdict for one class per place.
  [[nodiscard]] trade::Verdict verdict(std::span<const int> chosen) const;
  [[nodiscard]] trade::Verdict judged(std::span<const int> chosen) const;
};

/// Runs through every combination of `counts[i]` values; false when the last one was reached.
[[nodiscard]] bool next_combination(std::span<int> combination, std::span<const int> counts);

}  // namespace rollwright::spec

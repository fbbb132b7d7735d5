#pragma once

#include <optional>
#include <span>
#include <vector>

#include "spec/compiled.hpp"

namespace rollwright::spec {

/// Steps that a call may still take.
struct Budget {
  long long left = 0;
  long long spent = 0;

  [[nodiscard]] bool spend() {
    if (left <= 0) return false;
    --left;
    ++spent;
    return true;
  }
};

enum class Answer { kNo, kYes, kGaveUp };

/// Looks for complete bikes on which no rule is worse than one level.
///
/// Method: backtracking over the slots, smallest domain first. Between decisions every rule takes
/// away the groups that it can no longer allow: matrices of bits for pairs, enumeration for rules
/// over more slots once few combinations are left, bounds for sums. When every slot is decided,
/// sums are judged exactly; the other rules are exact by then.
class Search {
 public:
  /// `enabled`, when given, says by constraint which rules count.
  Search(const Compiled& compiled, trade::Verdict level, Budget& budget,
         const std::vector<char>* enabled = nullptr);

  [[nodiscard]] int level() const { return level_; }
  /// Lets groups count though all their parts are discontinued.
  void also_offer(std::span<const Fixed> groups) { also_offered_ = groups; }

  /// What is left of the domains with these slots decided, or nothing when they clash.
  [[nodiscard]] std::optional<Bits> start(std::span<const Fixed> fixed);
  /// Decides a slot, or takes a group away, and draws the conclusions. False: nothing is left.
  [[nodiscard]] bool decide(Bits& bits, int domain, int group);
  [[nodiscard]] bool take_away(Bits& bits, int domain, int group);
  /// A complete bike within `bits`, by preference one with groups of `wanted`. kYes fills
  /// `solution` with one group per domain.
  [[nodiscard]] Answer complete(Bits bits, const Bits& wanted, std::vector<int>& solution);

 private:
  [[nodiscard]] bool fixed_rules_hold() const;
  bool propagate(Bits& bits);
  bool revise(int constraint, Bits& bits);
  bool revise_unary(const Constraint& constraint, Bits& bits);
  bool revise_binary(const Constraint& constraint, Bits& bits);
  bool revise_many(const Constraint& constraint, Bits& bits);
  bool revise_sum(const Constraint& constraint, Bits& bits);
  bool keep_within(const Constraint& constraint, double limit, Bits& bits);
  /// The widest limit that the guards still allow; nothing when the sum cannot be pruned.
  std::optional<double> widest_limit(const Constraint& constraint, const Bits& bits);
  void list_classes(const Constraint& constraint, const Bits& bits);
  void mark_supported(const Constraint& constraint);
  bool keep_supported(const Constraint& constraint, Bits& bits);
  bool sums_hold(const Bits& bits);

  void touch(int domain);
  [[nodiscard]] int count(const Bits& bits, int domain) const;
  [[nodiscard]] int first(const Bits& bits, int domain, const Bits& wanted) const;
  [[nodiscard]] int pick(const Bits& bits) const;
  [[nodiscard]] bool on(int constraint) const {
    return enabled_ == nullptr || (*enabled_)[static_cast<std::size_t>(constraint)] != 0;
  }

  const Compiled& compiled_;
  const int level_;
  Budget& budget_;
  const std::vector<char>* enabled_;
  std::span<const Fixed> also_offered_;
  std::vector<int> waiting_[3];  // constraints to revise, cheap ones first
  std::vector<char> waits_;      // by constraint
  // Room for revise_many: the classes alive by place, and those found supported.
  std::vector<std::vector<int>> alive_;
  std::vector<std::vector<char>> supported_;
  std::vector<int> counts_;
};

}  // namespace rollwright::spec

#pragma once

#include <compare>
#include <optional>
#include <string>
#include <vector>

#include "spec/bests.hpp"
#include "spec/trials/generated_catalogue.hpp"

namespace rollwright::spec::testing {

/// What a complete bike comes to. Mass in whole milligrams, so that sums are exact.
struct Figures {
  std::int64_t cents = 0;
  std::int64_t milligrams = 0;  // of the parts whose mass is known
  int masses_not_known = 0;     // pieces
  std::optional<Day> ready;     // nothing: some part cannot be had

  [[nodiscard]] auto mass() const { return std::pair(masses_not_known, milligrams); }
};
[[nodiscard]] std::int64_t milligrams_of(Mass mass);
[[nodiscard]] Figures figures_of(const Catalogue& catalogue,
                                 const std::vector<const trade::Part*>& parts);
/// The best of each figure by itself. Empty for no bikes.
[[nodiscard]] Bests bests_of(const std::vector<const Figures*>& bikes);

/// Every complete bike, what each rule says of it and what it comes to, by plain enumeration with
/// `evaluate`. Shares no code with the engines of the room.
class Enumeration {
 public:
  explicit Enumeration(const Catalogue& catalogue);

  struct Row {
    std::vector<trade::PartId> parts;      // by slot of `slots()`; empty id: left empty
    std::vector<trade::Verdict> verdicts;  // by rule
    trade::Verdict worst = trade::Verdict::kFits;
    Figures figures;
  };
  [[nodiscard]] const std::vector<Row>& rows() const { return rows_; }
  [[nodiscard]] const std::vector<trade::SlotId>& slots() const { return slots_; }

  /// Bikes that agree with the selection, whatever the rules say. Discontinued parts count only in
  /// slots for which `named` names them.
  [[nodiscard]] std::vector<const Row*> agreeing(const Selection& selection,
                                                 const Selection& named) const;
  /// Of those, the ones on which no rule is worse than this.
  [[nodiscard]] std::vector<const Row*> complete(const Selection& selection,
                                                 const Selection& named,
                                                 trade::Verdict at_most) const;
  /// Worst verdict of the best bike that agrees with the selection, kDoesNotFit when there is none.
  /// No `rules`: all of them.
  [[nodiscard]] trade::Verdict best(const Selection& selection, const Selection& named,
                                    const std::vector<std::string>* rules = nullptr) const;

 private:
  void fill(std::size_t slot, Bike& bike, std::vector<const trade::Part*>& parts);
  void judge(const Bike& bike, const std::vector<const trade::Part*>& parts);

  const Catalogue& catalogue_;
  std::vector<trade::SlotId> slots_;
  std::vector<std::vector<const trade::Part*>> candidates_;
  std::vector<Row> rows_;
};

}  // namespace rollwright::spec::testing

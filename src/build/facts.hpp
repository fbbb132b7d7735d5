#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "trade/order.hpp"
#include "trade/part.hpp"
#include "trade/trade.hpp"

namespace rollwright::build {

/// The bike as its traits and values see it: the chosen part of each slot, and what the order says,
/// which is asked like a slot ("order.region", "rider.rider_inseam").
struct BikeFacts {
  const trade::BuildTemplate* build = nullptr;
  std::map<trade::SlotId, const trade::Part*> parts;  // not owned; one for each filled slot
  trade::Part order;
  trade::Part rider;
};

/// The part in the slot (the pseudo slots included), or null when nothing is chosen.
[[nodiscard]] const trade::Part* part_at(const BikeFacts& bike, const trade::SlotId& slot);

/// Asks facts of one bike and keeps account of those that are not known, so that a value is either
/// computed from facts or becomes a question, never a guess.
class FactReader {
 public:
  FactReader(const trade::Trade& trade, const BikeFacts& bike) : trade_(&trade), bike_(&bike) {}

  /// In the own unit of the attribute's dimension; not known is noted as a question.
  [[nodiscard]] std::optional<double> number(const std::string& slot, const std::string& attribute);
  [[nodiscard]] std::optional<std::string> word(const std::string& slot,
                                                const std::string& attribute);
  [[nodiscard]] std::optional<bool> flag(const std::string& slot, const std::string& attribute);
  /// The same without a question, for facts that a value can do without.
  [[nodiscard]] std::optional<double> number_if_known(const std::string& slot,
                                                      const std::string& attribute) const;
  [[nodiscard]] std::optional<std::string> word_if_known(const std::string& slot,
                                                         const std::string& attribute) const;

  [[nodiscard]] bool filled(const std::string& slot) const;
  /// Whether parts of the kind in this slot state the attribute at all: a hub without a motor has
  /// no "placement", and nobody is asked for it.
  [[nodiscard]] bool can_state(const std::string& slot, const std::string& attribute) const;
  /// "rear rim (Fjell 622-25)", or the slot's name when nothing is chosen.
  [[nodiscard]] std::string named(const std::string& slot) const;
  void ask(std::string question);

  [[nodiscard]] const std::vector<std::string>& questions() const { return questions_; }
  [[nodiscard]] const trade::Trade& trade() const { return *trade_; }
  [[nodiscard]] const BikeFacts& bike() const { return *bike_; }

 private:
  const trade::Fact* fact(const std::string& slot, const std::string& attribute);

  const trade::Trade* trade_;
  const BikeFacts* bike_;
  std::vector<std::string> questions_;
};

/// Whether parts of this kind state the attribute; every kind states `mass`, and a kind that the
/// trade does not list may state anything.
[[nodiscard]] bool can_state(const trade::Trade& trade, const trade::Part& part,
                             const std::string& attribute);

/// "rear rim (Fjell 622-25): effective rim diameter (ERD) is not known", or that nothing is chosen.
[[nodiscard]] std::string not_known_sentence(const trade::Trade& trade, const BikeFacts& bike,
                                             const trade::Operand& operand);

}  // namespace rollwright::build

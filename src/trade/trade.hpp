#pragma once

#include <map>
#include <string>
#include <vector>

#include "trade/label_sheet.hpp"
#include "trade/operation.hpp"
#include "trade/part.hpp"
#include "trade/question.hpp"
#include "trade/rule.hpp"

namespace rollwright::trade {

/// Usual lead times of a group of part kinds, for suppliers without history. Working days.
struct LeadTimePrior {
  std::string group;
  Spread stocked;   // on the wholesaler's shelf
  Spread importer;  // not stocked, at the importer
  Spread made;      // made to order
};

/// All that the trade knows, as read from data/trade. Maps are ordered, so that every walk over
/// them gives the same sequence. Immutable once loaded.
struct Trade {
  std::map<std::string, Attribute> attributes;
  std::map<KindId, PartKind> kinds;
  std::vector<Slot> slots;  // in the order in which a person thinks of a bike
  std::map<std::string, BuildTemplate> templates;
  std::map<std::string, PairTable> tables;
  std::vector<Rule> rules;  // ends made out
  std::vector<Question> questions;  // that only a person can decide
  std::map<std::string, Trait> traits;
  std::vector<Operation> operations;
  std::vector<Operation> care;  // of bikes that come back; no other bike's sheet has them
  std::vector<Reading> readings;
  std::vector<CheckLine> check_lines;
  std::map<std::string, Caution> cautions;
  std::map<std::string, LeadTimePrior> lead_times;
  std::vector<LabelSheet> label_sheets;  // in the order of their file
};

[[nodiscard]] const Slot* find_slot(const Trade& trade, const SlotId& id);
/// Of building or of care.
[[nodiscard]] const Operation* find_operation(const Trade& trade, const std::string& id);
/// Of building, then of care.
[[nodiscard]] std::vector<std::string> operation_ids(const Trade& trade);
/// An attribute that parts of this kind can state. Errors: kBadInput, with the one that was meant.
[[nodiscard]] Result<const Attribute*> attribute_of(const Trade& trade, const PartKind& kind,
                                                    const std::string& id);
/// Kinds that may fill the slot in this build.
[[nodiscard]] std::vector<KindId> kinds_for(const Trade& trade, const BuildTemplate& build,
                                            const SlotId& slot);

}  // namespace rollwright::trade

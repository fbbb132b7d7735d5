#pragma once

#include <string>
#include <vector>

#include "trade/order.hpp"
#include "trade/rule.hpp"

namespace rollwright::trade {

/// A fit rule that only a person can decide, put as a question to be answered on the order.
struct Question {
  std::string id;  // "C-013"; no fit rule has the same
  Severity severity = Severity::kFit;
  std::string ask;    // in plain words; yes means that all is well
  std::string if_no;  // what people see when the answer is no
  std::string owner;  // who answers, one of all_owners()
  bool on_the_bike = false;  // can only be answered once the bike stands: not asked before
  /// What it is about. It is asked only while a part is in each of these, and an answer that was
  /// given about other parts does not count.
  std::vector<SlotId> slots;
  std::vector<Condition> conditions;  // as of a rule
  std::string source;
  std::string file;
  int line = 0;
};

/// A rule that fails on every bike of which the question has to be asked, applies to no other, and
/// is not known where nobody can tell. So the conditions of questions mean what those of rules mean.
[[nodiscard]] Rule as_rule(const Question& question);

/// False while a question that needs the bike itself comes too early: the order is not being built.
[[nodiscard]] bool is_time_for(const Question& question, OrderState state);

/// The parts of the order that an answer rests on: those in the question's slots and in the slots
/// its conditions look at.
[[nodiscard]] std::map<SlotId, PartId> about(const Question& question, const Order& order);

/// The answer that counts, or null: nobody answered, or it was about other parts.
[[nodiscard]] const Answered* answer_to(const Question& question, const Order& order);

}  // namespace rollwright::trade

#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "trade/fact.hpp"
#include "trade/part.hpp"

namespace rollwright::trade {

/// How bad it is when a fit rule fails.
enum class Severity {
  kStop,   // STOP: safety or law; nobody may wave it through
  kFit,    // FIT: will not assemble
  kWork,   // WORK: assembles, but will not work or will wear
  kClaim,  // CLAIM: works, but the maker may refuse warranty or approval
};
[[nodiscard]] std::string_view word_of(Severity severity);

/// What a rule, a part or a whole specification comes to. Worse is greater.
enum class Verdict {
  kFits,
  kFitsWith,      // with an adapter, shim or spacer that becomes a line of the order
  kFitsWithCare,  // inside limits, or a CLAIM rule fails; a note is shown
  kNotKnown,      // somebody has to measure or ask
  kDoesNotFit,
};
[[nodiscard]] std::string_view word_of(Verdict verdict);

/// The closed list of rule shapes. There is no formula language.
enum class RuleShape {
  kSame,       // left equals right (numbers within `tolerance`)
  kOneOf,      // left is among right (a set of words), or among `words`
  kAtLeast,    // left + offset >= right
  kAtMost,     // left + offset <= right
  kWithin,     // low <= left <= high; or |left - right| <= tolerance
  kPairTable,  // (left, right) is a row of `table`; the row may name an adapter or ask for care
  kNeeds,      // when left holds (flag is yes, word among `words`, or the slot is filled), `slots`
               // must be filled or right must hold
  kSum,        // share of the sum of `terms`, + offset <= right
  kComputed,   // `compute` names a calculation; its answer must lie within right[0]..right[1]; a
               // limit that the file leaves out is a literal infinity
};
[[nodiscard]] std::string_view word_of(RuleShape shape);

/// "fork.steerer_length", "order.load", "rider.mass", or a literal amount. A reference names a slot
/// (or the pseudo slots `order` and `rider`, whose facts come from the order) and an attribute.
struct Operand {
  SlotId slot;            // empty for a literal
  std::string attribute;  // of the slot; "*filled" asks only whether the slot is filled
  Value literal = 0.0;

  [[nodiscard]] bool is_literal() const { return slot.empty(); }
  friend bool operator==(const Operand&, const Operand&) = default;
};

/// A rule applies only to bikes for which each of its conditions holds. A condition on a fact that
/// is not known makes the rule's outcome not known.
struct Condition {
  Operand operand;
  std::vector<std::string> words;  // operand's word (or one of its words) is among these;
                                   // "yes"/"no" for flags; empty asks "*filled"
  bool negated = false;
};

/// One row of a pair table. Cells are words, or "*" for any; numbers are matched as ranges, ends
/// included ("*" is everything), in the own unit of the attribute's dimension.
struct TableRow {
  std::vector<Value> cells;                 // one per left/right operand, as the file writes it
  std::vector<std::pair<double, double>> ranges;  // parallel to cells; used when numeric
  Verdict verdict = Verdict::kFits;
  std::string note;     // adapter's name, or what care is needed
  std::string adapter;  // part kind or part of the adapter line, may be empty
  int line = 0;
  std::string source;   // who says so
};

struct PairTable {
  std::string id;
  std::vector<std::string> columns;
  std::vector<bool> numeric;  // per column
  std::vector<TableRow> rows;
  std::string source;
};

/// A fit rule. One is made for each end when the file says so ("C-025 front", "C-025 rear").
struct Rule {
  std::string id;    // "C-025"
  std::string end;   // "front", "rear" or empty
  Severity severity = Severity::kFit;
  RuleShape shape = RuleShape::kSame;
  std::vector<Operand> left;   // usually one; several for tables and computed rules
  std::vector<Operand> right;  // usually one; low and high for kWithin are right[0], right[1]
  std::vector<Operand> terms;  // of a sum
  std::vector<SlotId> slots;   // that kNeeds asks for
  std::vector<std::string> words;
  double offset = 0;
  double tolerance = 0;
  double share = 1;     // of a sum: the part of it that counts, over 0 to 1 (an axle's share)
  std::string table;    // pair table's id
  std::string compute;  // calculation's name
  std::vector<Condition> conditions;
  /// What people see when it fails; {left}, {right}, {slot.attribute}, {part slot} are filled in.
  std::string sentence;
  std::string source;
  std::string file;
  int line = 0;

  /// "C-025 rear"
  [[nodiscard]] std::string name() const { return end.empty() ? id : id + " " + end; }
};

/// Every slot that the rule looks at, pseudo slots left out, sorted, each once.
[[nodiscard]] std::vector<SlotId> scope_of(const Rule& rule);

}  // namespace rollwright::trade

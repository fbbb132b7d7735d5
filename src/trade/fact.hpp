#pragma once

#include <string>
#include <variant>
#include <vector>

#include "base/clock.hpp"
#include "base/id.hpp"
#include "units/unit_table.hpp"

namespace rollwright::trade {

/// What can be said of a part. Words are the trade's own tokens ("ZS44/28.6", "DR-12F"); numbers are
/// in the own unit of the attribute's dimension (mm, kg, N·m, bar, V ... see units/unit_table.hpp).
using Value = std::variant<bool, double, std::string, std::vector<std::string>>;

/// Whether we may rely on a fact. Not known never counts as "fits".
enum class Standing {
  kKnown,     // printed by the maker or in the supplier's list; `source` says which
  kMeasured,  // measured here; `by` says whom
  kNotKnown,  // somebody has to measure or ask
};
[[nodiscard]] std::string_view word_of(Standing standing);  // "known", "measured", "not known"

struct Fact {
  Standing standing = Standing::kNotKnown;
  Value value = false;  // meaningless when not known
  std::string source;   // document, supplier list, or the tool it was measured with
  std::string by;       // person, for measured facts
  Day date = {};        // when it was printed or measured
};

enum class AttributeType {
  kFlag,    // yes or no
  kNumber,  // a number of the attribute's dimension; kNone for counts and ratios
  kWord,    // one token; from `choices` unless that is empty
  kWords,   // a set of tokens
};
/// As attributes.toml writes it.
[[nodiscard]] std::string_view word_of(AttributeType type);

/// One thing that part kinds can state. The same attribute means the same on every kind.
struct Attribute {
  std::string id;    // "steerer_diameter_upper"
  std::string name;  // "steerer, upper diameter"
  AttributeType type = AttributeType::kWord;
  Dimension dimension = Dimension::kNone;  // of a number
  std::string unit;                        // shown and assumed when a file gives a bare number
  std::vector<std::string> choices;        // allowed words; empty allows any
  std::string help;                        // how to measure or where to read it
};

/// "28.6 mm", "yes", "ZS44/28.6", "A, B": as a person reads it.
[[nodiscard]] std::string shown(const Attribute& attribute, const Value& value);

/// Reads what a file or page gives for an attribute ("28.6 mm", "yes", "IS|PM" for words).
/// Errors: kBadInput, kOutOfRange (not among the choices), each saying what would be right.
[[nodiscard]] Result<Value> parse_value(const Attribute& attribute, std::string_view text);

}  // namespace rollwright::trade

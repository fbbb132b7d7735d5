#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

/// What the code on a label says: a short text that a scanner types and a person can type too.
///
///   RW:O:2041:Y            an order
///   RW:W:2041:FRONT:A      a wheel of it
///   RW:B:HB-0412:W         the bin of a part
///
/// Letters count in upper case, so that a caps lock spoils nothing and a QR code stays small. The
/// last character is a check character.
///
/// Method:  ISO/IEC 7064, pure system MOD 37-2, over the letter of the kind and what it names, the
///          colons left out; the hyphen takes the value 36, which the standard keeps for the check
///          character "*" alone. As 37 is prime and 2 no divisor of it, every single changed
///          character and every swap of two neighbours is found, at any length.
/// Source:  [check-character] in docs/sources.md.
namespace rollwright::trade {

enum class LabelKind { kOrder, kKit, kWheel, kBin, kPerson, kTool };
[[nodiscard]] const std::vector<LabelKind>& all_label_kinds();
[[nodiscard]] std::string_view word_of(LabelKind kind);  // "order", "kit", "wheel", "bin" ...
[[nodiscard]] std::optional<LabelKind> label_kind_named(std::string_view word);

struct LabelCode {
  LabelKind kind = LabelKind::kOrder;
  std::string id;     // of the order, part, person or tool, as `label_id` makes it; never empty
  std::string wheel;  // "FRONT" or "REAR" of a wheel, otherwise empty
  friend bool operator==(const LabelCode&, const LabelCode&) = default;
};

/// An id as codes know it: ASCII letters in upper case, everything else as it is.
[[nodiscard]] std::string label_id(std::string id);

/// The text. What is neither letter, digit nor a lone hyphen is written as "--" and two hexadecimal
/// digits for each byte.
[[nodiscard]] std::string write_label_code(const LabelCode& code);

/// Errors: kBadInput saying that it is none of ours, or that it is mistyped.
[[nodiscard]] Result<LabelCode> parse_label_code(std::string_view text);

/// The check character of ISO/IEC 7064 MOD 37-2 for a text of 0-9, A-Z and '-'.
[[nodiscard]] char check_character(std::string_view text);

}  // namespace rollwright::trade

#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "build/bench_state.hpp"
#include "trade/maker_list.hpp"

/// What a maker confirmed or built, held line by line against what was signed.
namespace rollwright::build {

enum class Differs { kSame, kOtherQuantity, kOtherOption, kOtherPart, kMissing, kExtra };
[[nodiscard]] std::string_view word_of(Differs differs);  // "same", "other part", "missing" ...

/// One line of the signed specification with the line of the list that stands for it. Of two that
/// differ in several ways, the part goes before the option and the option before the quantity.
struct ComparedLine {
  std::string position;
  Differs differs = Differs::kSame;
  std::optional<trade::MakerLine> ordered;  // none: extra
  std::optional<trade::MakerLine> listed;   // none: missing
  bool contradicts = false;  // the list states an option of the order otherwise: not that part
  /// "size: M instead of S 46", "colour: red, which was not ordered", "2 pieces instead of 1"
  std::vector<std::string> details;
};

/// Method:   lines of one position that name the same thing with the same options count as one. In
///           a position first lines of the same thing and options are paired, then those of the same
///           thing, then what is left of the order with what is left of the list, in their order.
///           The same thing is the same part of the catalogue, or, where one side names none, the
///           same article. Options that the list leaves out are those of the part; an option that it
///           states must be as ordered. Every piece of either side is in exactly one line.
/// Order:    positions as they are ordered, then those that are only in the list.
/// Ignores:  serial numbers and notes.
[[nodiscard]] std::vector<ComparedLine> compare(const std::vector<trade::MakerLine>& ordered,
                                                const std::vector<trade::MakerLine>& listed);

/// All that a line says of what is built, as one text: two lines with one key say the same. Empty
/// for no line. `trade::DifferenceAnswer` keeps it.
[[nodiscard]] std::string line_key(const std::optional<trade::MakerLine>& line);

/// The newest answer that was given to just this difference, or null.
[[nodiscard]] const trade::DifferenceAnswer* answer_to(
    const ComparedLine& line, const std::vector<const trade::DifferenceAnswer*>& answers);

/// A place where another number was read here than the maker's list states.
struct OtherNumber {
  std::string position;
  std::string stated;
  std::string read;
};
/// Of pieces that came with the bike: what was put on here in place of another has its own number.
/// Letters count alike in upper and lower case.
[[nodiscard]] std::vector<OtherNumber> other_numbers(const std::vector<trade::MakerLine>& listed,
                                                     const BenchState& bench);

}  // namespace rollwright::build

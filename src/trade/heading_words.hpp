#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace rollwright::trade {

/// Small letters and digits with single spaces, accents folded, what stands in brackets taken out:
/// "Art.-Nr." -> "art nr", "Gewicht [g]" -> "gewicht".
[[nodiscard]] std::string folded(std::string_view text);
/// The unit that a heading states in brackets or at its end: "Weight (g)" -> "g"; else empty.
[[nodiscard]] std::string unit_in(std::string_view heading);

struct HeadingWord {
  std::string_view word;     // folded
  std::string_view goes_to;  // plain target or attribute
};
/// Usual headings of suppliers' lists in English, German, French, Dutch, Spanish and Italian.
/// Source: common practice, from memory.
[[nodiscard]] const std::vector<HeadingWord>& heading_words();

/// Words of lists for yes, no and the three sorts of availability; folded. From memory too.
[[nodiscard]] const std::vector<HeadingWord>& value_words();

}  // namespace rollwright::trade

#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace rollwright::plan {

/// Largest benchmark text read, in bytes.
inline constexpr std::size_t kMostProjectText = 16 * 1024 * 1024;

/// A line that says something, with its number in the file (from 1).
struct TextLine {
  int number = 0;
  std::string_view text;  // trimmed
};

/// Hands out the lines of a benchmark file one after another: blank lines, ruled lines (*** or ---)
/// and lines that start with # are passed over; LF and CRLF both end a line.
///
/// The text must outlive this.
class ProjectText {
 public:
  /// Errors: kTooLarge over `kMostProjectText` bytes, kBadInput for bytes that are not UTF-8.
  [[nodiscard]] static Result<ProjectText> open(std::string_view text, std::string file);

  /// The next line, or nothing at the end of the text.
  std::optional<TextLine> next();
  /// The next line as whole numbers 0 to `most`, at least `least_count` of them.
  /// Errors: kBadInput when the text ends (naming `what`), for a word that is not a whole number
  ///         and for too few; kOutOfRange for a number outside 0 to `most`.
  Result<std::vector<int>> numbers(std::string_view what, std::size_t least_count, int most);

  /// Number of the line handed out last.
  [[nodiscard]] int line() const { return line_; }
  [[nodiscard]] Place place(std::string field = {}, std::string value = {}) const {
    return {.file = file_, .line = line_, .field = std::move(field), .value = std::move(value)};
  }

 private:
  ProjectText(std::string_view text, std::string file) : rest_(text), file_(std::move(file)) {}

  std::string_view rest_;
  std::string file_;
  int line_ = 0;
};

/// The pieces of a line between blanks.
[[nodiscard]] std::vector<std::string_view> words_of(std::string_view line);

}  // namespace rollwright::plan

#pragma once

#include <expected>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace rollwright {

/// Why the world refused. One table in base/result.cpp maps each code to its word, its exit code and
/// its HTTP status; a test walks it.
enum class Code {
  kBadInput,       // a field is missing, malformed or of the wrong type
  kOutOfRange,     // a value leaves the range its field states
  kContradiction,  // two values that are each fine cannot both hold
  kNotFound,       // no such order, part, file
  kConflict,       // somebody else changed it first, or it exists already
  kRefused,        // the state of the thing forbids this; the sentence says what is missing
  kNotAllowed,     // this person may not do this
  kDamaged,        // stored data does not verify
  kUnavailable,    // disk, network, port, database
  kTooLarge,       // more than the stated limit
};

struct CodeRow {
  Code code;
  std::string_view word;  // stable, used in JSON: "bad input"
  int exit_code;          // of the command line
  int http_status;
};

[[nodiscard]] const CodeRow& row_of(Code code);
[[nodiscard]] const std::vector<CodeRow>& all_codes();

/// Where in the user's own material the trouble is. Empty fields are unknown.
struct Place {
  std::string file;
  int line = 0;  // from 1; 0 when there is none
  std::string field;
  std::string value;
};

/// A refusal: a code for programs and a sentence for the owner of the shop. The sentence says what
/// is wrong and what would be right.
struct Error {
  Code code = Code::kBadInput;
  std::string sentence;
  Place place = {};

  /// "parts.csv, line 12, field mass, value "abc": a mass is a number with a unit, as in 410 g."
  [[nodiscard]] std::string full() const;
};

template <class T>
using Result = std::expected<T, Error>;

[[nodiscard]] inline std::unexpected<Error> refuse(Code code, std::string sentence,
                                                   Place place = {}) {
  return std::unexpected(Error{code, std::move(sentence), std::move(place)});
}

/// Many refusals at once, so that a file is mended in one go. Empty means all is well.
using Problems = std::vector<Error>;

/// A promise that we ourselves must keep. Always on: prints file, line, condition, and stops.
[[noreturn]] void broken_promise(const char* condition, const char* file, int line);

}  // namespace rollwright

#define ROLLWRIGHT_PROMISE(condition)                                      \
  (static_cast<bool>(condition) ? static_cast<void>(0)                     \
                                : ::rollwright::broken_promise(#condition, __FILE__, __LINE__))

#include "base/result.hpp"

#include <cstdio>
#include <cstdlib>

#include <fmt/format.h>

namespace rollwright {

const std::vector<CodeRow>& all_codes() {
  static const std::vector<CodeRow> kRows = {
      {Code::kBadInput, "bad input", 2, 400},
      {Code::kOutOfRange, "out of range", 2, 422},
      {Code::kContradiction, "contradiction", 2, 422},
      {Code::kNotFound, "not found", 3, 404},
      {Code::kConflict, "conflict", 4, 409},
      {Code::kRefused, "refused", 5, 409},
      {Code::kNotAllowed, "not allowed", 6, 403},
      {Code::kDamaged, "damaged", 7, 500},
      {Code::kUnavailable, "unavailable", 8, 503},
      {Code::kTooLarge, "too large", 2, 413},
  };
  return kRows;
}

const CodeRow& row_of(Code code) {
  for (const CodeRow& row : all_codes()) {
    if (row.code == code) return row;
  }
  broken_promise("every code has a row", __FILE__, __LINE__);
}

std::string Error::full() const {
  std::string where;
  const auto add = [&where](const std::string& piece) {
    if (!where.empty()) where += ", ";
    where += piece;
  };
  if (!place.file.empty()) add(place.file);
  if (place.line > 0) add(fmt::format("line {}", place.line));
  if (!place.field.empty()) add("field " + place.field);
  if (!place.value.empty()) add(fmt::format("value \"{}\"", place.value));
  return where.empty() ? sentence : where + ": " + sentence;
}

void broken_promise(const char* condition, const char* file, int line) {
  std::fprintf(stderr, "rollwright: broken promise at %s:%d: %s\n", file, line, condition);
  std::abort();
}

}  // namespace rollwright

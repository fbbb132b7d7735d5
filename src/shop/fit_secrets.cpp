#include "shop/fit_secrets.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/people_desk.hpp"

namespace rollwright::shop {
namespace {

/// Beginnings that are tried first, from memory; a list of millions would belong to an online service.
constexpr std::array<std::string_view, 12> kTriedFirst = {
    "password", "passwort", "1234567890", "0123456789", "qwertyuiop", "qwertzuiop",
    "letmein",  "iloveyou", "rollwright", "bicycle",    "welcome",    "changeme"};

std::unexpected<Error> bad(const char* field, std::string sentence) {
  return refuse(Code::kBadInput, std::move(sentence), {.field = field});
}

std::size_t characters_of(const std::string& text) {
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

/// With nothing left but `word` and digits, signs or blanks around it.
bool is_hardly_more_than(const std::string& text, std::string_view word) {
  if (word.empty()) return false;
  std::string left = lowered(text);
  for (std::size_t at = left.find(word); at != std::string::npos; at = left.find(word)) {
    left.erase(at, word.size());
  }
  return left.size() < text.size() && std::ranges::none_of(left, [](char c) {
    return ('a' <= c && c <= 'z') || static_cast<unsigned char>(c) >= 0x80U;
  }) && left.size() <= 4;
}

bool is_one_again_and_again(const std::string& text) {
  return std::ranges::all_of(text, [&text](char c) { return c == text.front(); });
}

bool is_run(const std::string& digits, int step) {
  for (std::size_t i = 1; i < digits.size(); ++i) {
    if ((digits[i - 1] - '0' + step + 10) % 10 != digits[i] - '0') return false;
  }
  return true;
}

}  // namespace

Result<void> fit_password(const std::string& words, const std::string& person,
                          const std::string& name) {
  if (characters_of(words) < PeopleDesk::kLeastPassword) {
    return bad("password", fmt::format("a password has at least {} characters; a few words that do "
                                       "not belong together are easy to keep",
                                       PeopleDesk::kLeastPassword));
  }
  if (words.size() > PeopleDesk::kMostPassword) {
    return bad("password",
               fmt::format("a password has at most {} bytes", PeopleDesk::kMostPassword));
  }
  const bool is_tried_first = std::ranges::any_of(kTriedFirst, [&words](std::string_view word) {
    return is_hardly_more_than(words, word);
  });
  if (is_tried_first || is_one_again_and_again(words) ||
      is_hardly_more_than(words, lowered(person)) || is_hardly_more_than(words, lowered(name))) {
    return bad("password", "this password is guessed at the first try; take a few words that do not "
                           "belong together");
  }
  return {};
}

Result<void> fit_pin(const std::string& digits) {
  const bool is_number =
      std::ranges::all_of(digits, [](char c) { return '0' <= c && c <= '9'; });
  if (digits.size() < 4 || digits.size() > 8 || !is_number) {
    return bad("pin", "a PIN is 4 to 8 digits");
  }
  if (is_one_again_and_again(digits) || is_run(digits, 1) || is_run(digits, -1)) {
    return bad("pin", "this PIN is guessed at the first try; take digits that do not follow from "
                      "one another");
  }
  return {};
}

}  // namespace rollwright::shop

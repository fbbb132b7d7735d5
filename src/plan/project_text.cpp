#include "plan/project_text.hpp"

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"

namespace rollwright::plan {
namespace {

bool says_nothing(std::string_view line) {
  return line.empty() || line.front() == '#' ||
         line.find_first_not_of('*') == std::string_view::npos ||
         line.find_first_not_of('-') == std::string_view::npos;
}

/// A word from the file, short enough to show.
std::string shown(std::string_view word) {
  const std::string part = shortened(word);
  return part.size() == word.size() ? part : part + "…";
}

}  // namespace

std::vector<std::string_view> words_of(std::string_view line) {
  constexpr std::string_view kBlank = " \t\r";
  std::vector<std::string_view> words;
  std::size_t start = line.find_first_not_of(kBlank);
  while (start != std::string_view::npos) {
    const std::size_t end = line.find_first_of(kBlank, start);
    words.push_back(line.substr(start, end - start));
    start = line.find_first_not_of(kBlank, end);
  }
  return words;
}

Result<ProjectText> ProjectText::open(std::string_view text, std::string file) {
  if (text.size() > kMostProjectText) {
    return refuse(Code::kTooLarge,
                  fmt::format("A project's text may have {} bytes; this has {}.", kMostProjectText,
                              text.size()),
                  {.file = std::move(file)});
  }
  if (!is_utf8(text)) {
    return refuse(Code::kBadInput, "This is not text in UTF-8.", {.file = std::move(file)});
  }
  return ProjectText(text, std::move(file));
}

std::optional<TextLine> ProjectText::next() {
  while (!rest_.empty()) {
    const std::size_t end = rest_.find('\n');
    const std::string_view line = trim(rest_.substr(0, end));
    rest_ = end == std::string_view::npos ? std::string_view{} : rest_.substr(end + 1);
    ++line_;
    if (!says_nothing(line)) return TextLine{line_, line};
  }
  return std::nullopt;
}

Result<std::vector<int>> ProjectText::numbers(std::string_view what, std::size_t least_count,
                                              int most) {
  const std::optional<TextLine> line = next();
  if (!line) {
    return refuse(Code::kBadInput,
                  fmt::format("The text ends here; a line with {} should follow.", what), place());
  }
  std::vector<int> numbers;
  for (const std::string_view word : words_of(line->text)) {
    const std::optional<long long> number = to_whole(word);
    if (!number) {
      return refuse(Code::kBadInput, "This should be a whole number.",
                    place(std::string(what), shown(word)));
    }
    if (*number < 0 || *number > most) {
      return refuse(Code::kOutOfRange, fmt::format("This should be 0 to {}.", most),
                    place(std::string(what), shown(word)));
    }
    numbers.push_back(static_cast<int>(*number));
  }
  if (numbers.size() < least_count) {
    return refuse(Code::kBadInput,
                  fmt::format("The line has {} numbers; it should have at least {}.",
                              numbers.size(), least_count),
                  place(std::string(what)));
  }
  return numbers;
}

}  // namespace rollwright::plan

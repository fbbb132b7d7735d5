#include "aids/given.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::aids {

namespace {

constexpr std::size_t kLongest = 20'000;  // characters in one field that is no file

Result<double> whole_number(const std::string& text) {
  const auto number = to_whole(text);
  if (number && std::abs(*number) <= 1'000'000) return static_cast<double>(*number);
  return refuse(Code::kBadInput, "this is a whole number, as in 36", {.value = text});
}

Result<double> plain_of(const std::string& text) {
  const auto number = to_number(text);
  if (number) return *number;
  return refuse(Code::kBadInput, "this is a plain number, as in 0.5", {.value = text});
}

/// Spaces or commas between; a decimal comma would be taken for a new number, so it is refused.
Result<std::vector<double>> several(const Input& input, std::string text) {
  std::ranges::replace(text, ',', ' ');
  std::vector<double> numbers;
  for (const std::string& piece : split(text, ' ')) {
    if (piece.empty()) continue;
    const auto number = input.kind == InputKind::kCounts ? whole_number(piece) : plain_of(piece);
    if (!number) return std::unexpected(number.error());
    numbers.push_back(*number);
  }
  return numbers;
}

Result<std::vector<double>> numbers_in(const Input& input, const std::string& text) {
  if (input.kind == InputKind::kCounts || input.kind == InputKind::kNumbers) {
    return several(input, text);
  }
  const auto one = [](Result<double> number) -> Result<std::vector<double>> {
    if (!number) return std::unexpected(number.error());
    return std::vector<double>{*number};
  };
  switch (input.kind) {
    case InputKind::kAmount: return one(parse_amount(text, input.dimension, input.unit));
    case InputKind::kNumber: return one(plain_of(text));
    case InputKind::kCount: return one(whole_number(text));
    default: return std::vector<double>();
  }
}

/// "there is no field teeh; meant is teeth"
Error no_such_field(const Aid& aid, const std::string& key) {
  std::vector<std::string> keys;
  for (const Input& input : aid.inputs) keys.push_back(input.key);
  const auto near = nearest(key, keys);
  return {Code::kBadInput,
          fmt::format("{} has no such field{}; its fields are {}", aid.id,
                      near ? ": is " + *near + " meant?" : "", listed(keys)),
          {.field = key}};
}

Result<void> check_choice(const Input& input, const std::string& text) {
  if (std::ranges::count(input.choices, text) > 0) return {};
  return refuse(Code::kBadInput, "this is one of " + listed(input.choices), {.value = text});
}

}  // namespace

std::string_view word_of(InputKind kind) {
  switch (kind) {
    case InputKind::kAmount: return "amount";
    case InputKind::kNumber: return "number";
    case InputKind::kCount: return "count";
    case InputKind::kCounts: return "counts";
    case InputKind::kNumbers: return "numbers";
    case InputKind::kChoice: return "choice";
    case InputKind::kText: return "text";
    case InputKind::kFile: return "file";
  }
  broken_promise("every kind of input has a word", __FILE__, __LINE__);
}

Result<Given> Given::read(const Aid& aid, const Typed& typed) {
  for (const auto& [key, text] : typed) {
    if (std::ranges::count(aid.inputs, key, &Input::key) == 0) {
      return std::unexpected(no_such_field(aid, key));
    }
  }
  Given given;
  for (const Input& input : aid.inputs) {
    const auto found = typed.find(input.key);
    const std::string text(trim(found == typed.end() ? input.preset : found->second));
    const auto named = [&](Error error) {
      error.place.field = input.key;
      return std::unexpected(std::move(error));
    };
    if (input.kind == InputKind::kFile) {
      if (text.empty()) return named({Code::kBadInput, input.label + " is missing"});
      given.words_[input.key] = found->second;
      continue;
    }
    if (text.size() > kLongest) {
      return named({Code::kTooLarge, fmt::format("at most {} characters go here", kLongest)});
    }
    if (text.empty()) {
      if (input.preset.empty()) continue;
      return named({Code::kBadInput, fmt::format("{} is missing, as in {}", input.label,
                                                 input.preset)});
    }
    if (input.kind == InputKind::kChoice) {
      if (const auto ok = check_choice(input, text); !ok) return named(ok.error());
    }
    const auto numbers = numbers_in(input, text);
    if (!numbers) return named(numbers.error());
    given.numbers_[input.key] = *numbers;
    given.words_[input.key] = text;
  }
  return given;
}

int Given::count(const std::string& key) const {
  return static_cast<int>(std::lround(number(key)));
}

std::vector<int> Given::counts(const std::string& key) const {
  std::vector<int> whole;
  for (const double number : numbers_of(key)) whole.push_back(static_cast<int>(number));
  return whole;
}

const std::string& Given::word(const std::string& key) const {
  const auto found = words_.find(key);
  ROLLWRIGHT_PROMISE(found != words_.end());
  return found->second;
}

bool Given::has(const std::string& key) const { return words_.contains(key); }

const std::vector<double>& Given::numbers_of(const std::string& key) const {
  const auto found = numbers_.find(key);
  ROLLWRIGHT_PROMISE(found != numbers_.end());
  return found->second;
}

Input amount(std::string key, std::string label, Dimension dimension, std::string preset,
             std::string help) {
  const std::size_t space = preset.rfind(' ');
  std::string unit(space == std::string::npos ? own_unit(dimension) : preset.substr(space + 1));
  return {.key = std::move(key), .label = std::move(label), .kind = InputKind::kAmount,
          .dimension = dimension, .unit = std::move(unit), .preset = std::move(preset),
          .choices = {}, .help = std::move(help)};
}

namespace {

Input without_unit(InputKind kind, std::string key, std::string label, std::string preset,
                   std::string help) {
  return {.key = std::move(key), .label = std::move(label), .kind = kind, .unit = "",
          .preset = std::move(preset), .choices = {}, .help = std::move(help)};
}

}  // namespace

Input plain_number(std::string key, std::string label, std::string preset, std::string help) {
  return without_unit(InputKind::kNumber, std::move(key), std::move(label), std::move(preset),
                      std::move(help));
}
Input count(std::string key, std::string label, std::string preset, std::string help) {
  return without_unit(InputKind::kCount, std::move(key), std::move(label), std::move(preset),
                      std::move(help));
}
Input counts(std::string key, std::string label, std::string preset, std::string help) {
  return without_unit(InputKind::kCounts, std::move(key), std::move(label), std::move(preset),
                      std::move(help));
}
Input plain_numbers(std::string key, std::string label, std::string preset, std::string help) {
  return without_unit(InputKind::kNumbers, std::move(key), std::move(label), std::move(preset),
                      std::move(help));
}
Input text(std::string key, std::string label, std::string preset, std::string help) {
  return without_unit(InputKind::kText, std::move(key), std::move(label), std::move(preset),
                      std::move(help));
}
Input file(std::string key, std::string label, std::string media, std::string help) {
  Input input = without_unit(InputKind::kFile, std::move(key), std::move(label), "",
                             std::move(help));
  input.media = std::move(media);
  return input;
}
Input choice(std::string key, std::string label, std::vector<std::string> words,
             std::string help) {
  Input input = without_unit(InputKind::kChoice, std::move(key), std::move(label), words.front(),
                             std::move(help));
  input.choices = std::move(words);
  return input;
}

Input millimetres(std::string key, std::string label, const std::string& preset,
                  std::string help) {
  return amount(std::move(key), std::move(label), Dimension::kLength, preset + " mm",
                std::move(help));
}
Input starting_with(Input field, std::string preset) {
  field.preset = std::move(preset);
  return field;
}

Row row(std::string name, const Shown& shown, std::string note) {
  const std::string unit = shown.unit.empty() ? std::string(own_unit(shown.dimension)) : shown.unit;
  const int decimals = shown.decimals >= 0 ? shown.decimals : gauge_decimals(shown.dimension);
  Row made{.name = std::move(name), .value = with_unit(shown.own_units, unit, decimals),
           .us = us_customary(shown.own_units, shown.dimension).value_or(""),
           .note = std::move(note)};
  if (shown.dimension == Dimension::kLength) {
    const bool far = shown.own_units >= 1000;
    made.us = with_unit(shown.own_units, "in", far ? 1 : 3);
  }
  return made;
}

}  // namespace rollwright::aids

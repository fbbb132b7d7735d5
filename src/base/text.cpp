#include "base/text.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <numeric>

#include <fmt/format.h>

namespace rollwright {

std::string_view trim(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> pieces;
  if (trim(text).empty()) return pieces;
  std::size_t start = 0;
  while (true) {
    const std::size_t end = text.find(separator, start);
    pieces.emplace_back(trim(text.substr(start, end - start)));
    if (end == std::string_view::npos) return pieces;
    start = end + 1;
  }
}

std::string join(const std::vector<std::string>& pieces, std::string_view between) {
  return fmt::format("{}", fmt::join(pieces, between));
}

std::string listed(const std::vector<std::string>& pieces) {
  if (pieces.empty()) return {};
  std::string text = pieces.front();
  for (std::size_t i = 1; i < pieces.size(); ++i) {
    text += (i + 1 == pieces.size() ? " and " : ", ") + pieces[i];
  }
  return text;
}

std::optional<double> to_number(std::string_view text) {
  text = trim(text);
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(number)) {
    return std::nullopt;
  }
  return number;
}

std::optional<long long> to_whole(std::string_view text) {
  text = trim(text);
  long long number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

std::string plain(double number) {
  if (number == 0) return "0";
  if (std::abs(number) < 1e15 && number == std::trunc(number)) {
    return fmt::format("{}", static_cast<long long>(number));
  }
  return fmt::format("{}", number);
}

std::string rounded(double number, int decimals) {
  std::string text = fmt::format("{:.{}f}", number, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::optional<std::string> nearest(std::string_view text,
                                   const std::vector<std::string>& candidates) {
  std::optional<std::string> best;
  std::size_t best_distance = std::max<std::size_t>(2, text.size() / 3) + 1;
  for (const std::string& candidate : candidates) {
    std::vector<std::size_t> row(candidate.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= text.size(); ++i) {
      std::size_t corner = row[0];
      row[0] = i;
      for (std::size_t j = 1; j <= candidate.size(); ++j) {
        const std::size_t above = row[j];
        const std::size_t swapped = corner + (text[i - 1] == candidate[j - 1] ? 0 : 1);
        row[j] = std::min({above + 1, row[j - 1] + 1, swapped});
        corner = above;
      }
    }
    if (row.back() < best_distance) {
      best_distance = row.back();
      best = candidate;
    }
  }
  return best;
}

bool is_utf8(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t more = lead < 0x80             ? 0
                             : (lead & 0xe0) == 0xc0 ? 1
                             : (lead & 0xf0) == 0xe0 ? 2
                             : (lead & 0xf8) == 0xf0 ? 3
                                                     : 4;
    if (more == 4 || i + more >= text.size() + (more == 0 ? 1 : 0)) return false;
    unsigned long point = more == 0 ? lead : lead & (0x3fU >> more);
    for (std::size_t k = 1; k <= more; ++k) {
      const auto next = static_cast<unsigned char>(text[i + k]);
      if ((next & 0xc0) != 0x80) return false;
      point = (point << 6) | (next & 0x3fU);
    }
    constexpr unsigned long kLeast[] = {0, 0x80, 0x800, 0x10000};
    if (point < kLeast[more] || point > 0x10ffff || (point >= 0xd800 && point <= 0xdfff)) {
      return false;
    }
    i += more + 1;
  }
  return true;
}

Result<std::string> read_file(const std::string& path, std::size_t most_bytes) {
  std::error_code trouble;
  const auto status = std::filesystem::status(path, trouble);
  if (trouble || !std::filesystem::exists(status)) {
    return refuse(Code::kNotFound, fmt::format("there is no file {}", path), {.file = path});
  }
  if (!std::filesystem::is_regular_file(status)) {
    return refuse(Code::kBadInput, fmt::format("{} is not a file", path), {.file = path});
  }
  const auto size = std::filesystem::file_size(path, trouble);
  if (!trouble && size > most_bytes) {
    return refuse(Code::kTooLarge,
                  fmt::format("{} has {} bytes; at most {} are read", path, size, most_bytes),
                  {.file = path});
  }
  std::ifstream stream(path, std::ios::binary);
  std::string text(std::istreambuf_iterator<char>(stream), {});
  if (!stream.good() && !stream.eof()) {
    return refuse(Code::kUnavailable, fmt::format("{} could not be read", path), {.file = path});
  }
  return text;
}

std::string lowered(std::string text) {
  for (char& c : text) c = 'A' <= c && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return text;
}

}  // namespace rollwright

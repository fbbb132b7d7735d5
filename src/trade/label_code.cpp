#include "trade/label_code.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"

namespace rollwright::trade {
namespace {

struct LabelKindRow {
  LabelKind kind;
  char letter;
  std::string_view word;
};
constexpr std::array<LabelKindRow, 6> kLabelKinds = {{{LabelKind::kOrder, 'O', "order"},
                                                      {LabelKind::kKit, 'K', "kit"},
                                                      {LabelKind::kWheel, 'W', "wheel"},
                                                      {LabelKind::kBin, 'B', "bin"},
                                                      {LabelKind::kPerson, 'P', "person"},
                                                      {LabelKind::kTool, 'T', "tool"}}};

const LabelKindRow& row_of_kind(LabelKind kind) {
  return *std::ranges::find(kLabelKinds, kind, &LabelKindRow::kind);
}

constexpr std::string_view kOurs = "RW";
constexpr std::string_view kCheckAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
constexpr std::string_view kHexadecimal = "0123456789ABCDEF";
constexpr int kModulus = 37;
constexpr std::size_t kMostTyped = 1000;

bool is_plain(char c) { return ('0' <= c && c <= '9') || ('A' <= c && c <= 'Z'); }

int check_value(char c) {
  return c == '-' ? kModulus - 1 : static_cast<int>(kCheckAlphabet.find(c));
}

bool is_checkable(std::string_view text) {
  return std::ranges::all_of(text, [](char c) { return is_plain(c) || c == '-'; });
}

/// A hyphen stands for itself unless another follows: "--" begins a byte in hexadecimal.
std::string escaped(std::string_view id) {
  std::string text;
  for (std::size_t i = 0; i < id.size(); ++i) {
    const char c = id[i];
    const bool is_lone_hyphen = c == '-' && (i + 1 == id.size() || is_plain(id[i + 1]));
    if (is_plain(c) || is_lone_hyphen) {
      text += c;
    } else {
      text += fmt::format("--{:02X}", static_cast<unsigned char>(c));
    }
  }
  return text;
}

/// Nothing where it is not what `escaped` writes.
std::optional<std::string> plain_id(std::string_view text) {
  std::string id;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.substr(i, 2) != "--") {
      id += text[i];
      continue;
    }
    if (i + 3 >= text.size()) return std::nullopt;
    const std::size_t high = kHexadecimal.find(text[i + 2]);
    const std::size_t low = kHexadecimal.find(text[i + 3]);
    if (high == std::string_view::npos || low == std::string_view::npos) return std::nullopt;
    id += static_cast<char>(high * 16 + low);
    i += 3;
  }
  if (id.empty() || !is_utf8(id) || escaped(id) != text) return std::nullopt;
  return id;
}

/// "RW:W:2041:FRONT:A" without the first and the last.
struct Pieces {
  std::string letter, id, wheel;
  [[nodiscard]] std::string checked() const { return letter + id + wheel; }
};

std::vector<std::string> between_colons(std::string_view text) {
  std::vector<std::string> pieces(1);
  for (const char c : text) {
    if (c == ':') {
      pieces.emplace_back();
    } else {
      pieces.back() += c;
    }
  }
  return pieces;
}

std::unexpected<Error> no_label_code(std::string sentence, std::string_view text) {
  return refuse(Code::kBadInput, std::move(sentence),
                {.field = "code", .value = shortened(text, 80)});
}

std::unexpected<Error> mistyped(std::string_view text) {
  return no_label_code("this code is mistyped or badly read; scan it again, or type it as it is "
                       "printed below the number",
                       text);
}

}  // namespace

const std::vector<LabelKind>& all_label_kinds() {
  static const std::vector<LabelKind> kAll = [] {
    std::vector<LabelKind> kinds;
    for (const LabelKindRow& row : kLabelKinds) kinds.push_back(row.kind);
    return kinds;
  }();
  return kAll;
}

std::string_view word_of(LabelKind kind) { return row_of_kind(kind).word; }

std::optional<LabelKind> label_kind_named(std::string_view word) {
  const auto found = std::ranges::find(kLabelKinds, word, &LabelKindRow::word);
  if (found == kLabelKinds.end()) return std::nullopt;
  return found->kind;
}

std::string label_id(std::string id) {
  for (char& c : id) {
    if ('a' <= c && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return id;
}

char check_character(std::string_view text) {
  int sum = 0;
  for (const char c : text) sum = (sum + check_value(c)) * 2 % kModulus;
  return kCheckAlphabet[static_cast<std::size_t>((kModulus + 1 - sum) % kModulus)];
}

std::string write_label_code(const LabelCode& code) {
  ROLLWRIGHT_PROMISE(!code.id.empty());
  ROLLWRIGHT_PROMISE((code.kind == LabelKind::kWheel) ==
                     (code.wheel == "FRONT" || code.wheel == "REAR"));
  const Pieces pieces{.letter = std::string(1, row_of_kind(code.kind).letter),
                      .id = escaped(label_id(code.id)), .wheel = code.wheel};
  const std::string wheel = pieces.wheel.empty() ? "" : ":" + pieces.wheel;
  return fmt::format("{}:{}:{}{}:{}", kOurs, pieces.letter, pieces.id, wheel,
                     check_character(pieces.checked()));
}

Result<LabelCode> parse_label_code(std::string_view text) {
  const std::string_view trimmed = trim(text);
  if (trimmed.size() > kMostTyped) {
    return no_label_code("this is too long for a code of a label of this shop", trimmed);
  }
  const std::vector<std::string> typed = between_colons(label_id(std::string(trimmed)));
  const auto row = typed.size() < 2 || typed[1].size() != 1
                       ? kLabelKinds.end()
                       : std::ranges::find(kLabelKinds, typed[1][0], &LabelKindRow::letter);
  if (typed[0] != kOurs || row == kLabelKinds.end()) {
    return no_label_code("this is no code of a label of this shop; one reads as in RW:O:2041:Y",
                         trimmed);
  }
  const bool is_wheel = row->kind == LabelKind::kWheel;
  if (typed.size() != (is_wheel ? 5U : 4U)) return mistyped(trimmed);
  const Pieces pieces{.letter = typed[1], .id = typed[2], .wheel = is_wheel ? typed[3] : ""};
  if (!is_checkable(pieces.checked())) return mistyped(trimmed);
  if (typed.back() != std::string(1, check_character(pieces.checked()))) return mistyped(trimmed);
  const std::optional<std::string> id = plain_id(pieces.id);
  if (!id || (is_wheel && pieces.wheel != "FRONT" && pieces.wheel != "REAR")) {
    return mistyped(trimmed);
  }
  return LabelCode{.kind = row->kind, .id = *id, .wheel = pieces.wheel};
}

}  // namespace rollwright::trade

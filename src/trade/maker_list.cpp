#include "trade/maker_list.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace rollwright::trade {

const std::vector<std::string>& setting_positions() {
  static const std::vector<std::string> kSettings = {"front_brake_lever", "region",
                                                     "assist_class"};
  return kSettings;
}

bool is_setting(std::string_view position) {
  return std::ranges::find(setting_positions(), position) != setting_positions().end();
}

std::string_view word_of(MakerListKind kind) {
  return kind == MakerListKind::kConfirmed ? "confirmed" : "as built";
}

std::optional<MakerListKind> maker_list_kind_named(std::string_view word) {
  for (const MakerListKind kind : {MakerListKind::kConfirmed, MakerListKind::kAsBuilt}) {
    if (word_of(kind) == word) return kind;
  }
  return std::nullopt;
}

std::string plain_words(std::string_view text) {
  std::vector<std::string> words;
  for (std::string& word : split(lowered(std::string(text)), ' ')) {
    if (!word.empty()) words.push_back(std::move(word));
  }
  return join(words, " ");
}

std::map<std::string, std::string> options_of(std::string_view text) {
  std::map<std::string, std::string> options;
  for (const std::string& piece : split(text, ';')) {
    const auto colon = piece.find(':');
    const std::string name = plain_words(piece.substr(0, colon));
    if (name.empty()) continue;
    options[name] = colon == std::string::npos ? "" : plain_words(piece.substr(colon + 1));
  }
  return options;
}

}  // namespace rollwright::trade

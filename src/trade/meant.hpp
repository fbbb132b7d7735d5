#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace rollwright::trade {

/// How a refusal of an unknown name ends: `; did you mean "rear_hub"?`, or the whole list when it
/// is short, or nothing.
[[nodiscard]] std::string meant(std::string_view text, const std::vector<std::string>& candidates);

/// Keys of a map as plain texts, for `meant`.
template <class Value>
[[nodiscard]] std::vector<std::string> names_in(const std::map<std::string, Value>& map) {
  std::vector<std::string> names;
  for (const auto& [name, value] : map) names.push_back(name);
  return names;
}
template <class Key, class Value>
[[nodiscard]] std::vector<std::string> names_in(const std::map<Key, Value>& map) {
  std::vector<std::string> names;
  for (const auto& [id, value] : map) names.push_back(id.text);
  return names;
}

}  // namespace rollwright::trade

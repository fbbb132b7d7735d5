#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace rollwright::http {

/// Who may do something: the roles added up.
using Roles = std::uint8_t;
inline constexpr Roles kOwner = 1;
inline constexpr Roles kDesk = 2;
inline constexpr Roles kBench = 4;
inline constexpr Roles kEverybody = kOwner | kDesk | kBench;  // who is signed in
/// Whoever is signed in, where the address names that person: "their own work".
inline constexpr Roles kSelf = 8;
/// A tablet that is a station, also while nobody is signed in at it.
inline constexpr Roles kStation = 16;
/// Who is not signed in too.
inline constexpr Roles kAnyone = 32;

/// One row: a method, a path as web/openapi.yaml writes it, and who may.
struct Right {
  const char* method;
  const char* path;
  Roles may;
};

/// Every path of the API. A test holds it against web/openapi.yaml and the routes, both ways.
[[nodiscard]] const std::vector<Right>& all_rights();

/// The row of a request; nothing for an address that has none. HEAD is as GET.
[[nodiscard]] const Right* right_of(std::string_view method, const std::vector<std::string>& path);

/// "owner" -> kOwner; nothing for a word that is no role.
[[nodiscard]] Roles role_of(std::string_view word);
/// "owner, desk": the words of roles, for the refusal.
[[nodiscard]] std::vector<std::string> words_of(Roles roles);

}  // namespace rollwright::http

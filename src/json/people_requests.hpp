#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "shop/people_desk.hpp"

/// Bodies of requests about people and signing in; errors as in requests.hpp. No error repeats a
/// password or PIN.
namespace rollwright::json {

struct SignInGiven {
  std::string person;
  std::string secret;
};
/// {person, password}, or at the bench {person, pin}.
[[nodiscard]] Result<SignInGiven> sign_in_from(std::string_view text, shop::Proof proof);

[[nodiscard]] Result<shop::OwnerGiven> owner_from(std::string_view text);

/// What is to be set, and the password of the person who sets it.
struct SecretGiven {
  std::string secret;
  std::string your_password;
};
[[nodiscard]] Result<SecretGiven> secret_from(std::string_view text, shop::Proof proof);
/// {your_password}
[[nodiscard]] Result<std::string> your_password_from(std::string_view text);
/// {name}
[[nodiscard]] Result<std::string> station_name_from(std::string_view text);

}  // namespace rollwright::json

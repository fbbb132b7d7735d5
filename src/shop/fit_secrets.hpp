#pragma once

#include <string>

#include "base/result.hpp"

namespace rollwright::shop {

/// Whether words may be a password: 10 characters or more, not the person's name over and over, not
/// one character again and again, none of the words that are tried first. Nothing else is asked: rules
/// about digits and signs make worse passwords (NIST SP 800-63B, section 5.1.1.2).
/// Errors: kBadInput naming the field `password`.
[[nodiscard]] Result<void> fit_password(const std::string& words, const std::string& person,
                                        const std::string& name);

/// Whether digits may be a PIN: 4 to 8, not one digit again and again, not a run up or down.
/// Errors: kBadInput naming the field `pin`; the sentence does not repeat the digits.
[[nodiscard]] Result<void> fit_pin(const std::string& digits);

}  // namespace rollwright::shop

#pragma once

#include <string>

#include "http/api.hpp"

namespace rollwright::http {

/// A signature is worth something only under the name of whoever is signed in: `name` is the id or
/// name that a request gives as the one who does it. While nobody has to sign in any name will do.
/// Errors: kNotFound; kNotAllowed for the name of another.
[[nodiscard]] Result<void> under_own_name(shop::Shop& shop, const Request& request,
                                          const std::string& name, const char* field);

}  // namespace rollwright::http

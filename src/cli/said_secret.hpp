#pragma once

#include <string>

#include "base/result.hpp"

namespace rollwright::cli {

/// A password or PIN: at a terminal asked for twice and not shown, else the first line of the input.
/// Never from the command line, where everybody on the machine can read it. Errors: kBadInput when
/// there is none, or the two differ.
[[nodiscard]] Result<std::string> said_secret(const char* what);

}  // namespace rollwright::cli

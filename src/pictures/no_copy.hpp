#pragma once

#include <string>

#include "base/result.hpp"

namespace rollwright::pictures {

/// The refusal to make a small copy, with the reason: "it is damaged".
[[nodiscard]] inline std::unexpected<Error> no_copy(const std::string& reason) {
  return refuse(Code::kRefused,
                "no small copy can be made of this picture: " + reason +
                    "; it is kept just as it was given",
                {.field = "picture"});
}

/// Nothing when a picture of this size may be taken apart.
[[nodiscard]] Result<void> may_be_taken_apart(std::int64_t width, std::int64_t height);

}  // namespace rollwright::pictures

#pragma once

#include "build/bench_rules.hpp"

/// What the rules of deeds share: how they name an operation, and what they miss.
namespace rollwright::build {

/// "A-20 (Fit stem and bar)"
[[nodiscard]] std::string title(const OperationNow& now);

/// The operation that the deed is about. Errors: kNotFound.
[[nodiscard]] Result<const OperationNow*> operation_of(const DeedAsked& asked);

/// "say why ...": the refusal of a deed without a note.
[[nodiscard]] std::unexpected<Error> missing_note(std::string_view why);

}  // namespace rollwright::build

#pragma once

#include <string>
#include <string_view>

#include "plan/project.hpp"

namespace rollwright::plan {

/// Reads a project in the `.sm` text of the open project scheduling benchmark library (one mode,
/// renewable resources). Jobs keep their order and are named by their number, the two dummies
/// included.
///
/// Source:  format as in the library's own files; Kolisch and Sprecher, EJOR 96 (1996).
/// Errors:  all name file and line. kBadInput for a text that is cut short, a word where a number
///          belongs, a wrong job number or count; kOutOfRange for a number outside its range;
///          kRefused for several modes or resources that are not renewable; and those of
///          `Project::make`.
[[nodiscard]] Result<Project> read_sm(std::string_view text, std::string file);

}  // namespace rollwright::plan

#pragma once

#include <string>
#include <string_view>

#include "plan/line.hpp"

namespace rollwright::plan {

/// A line as a file gives it.
struct LineFile {
  Line line;
  int takt = 0;  // time units; 0 when the file states none
};

/// Reads a line in one of the two usual benchmark texts, told apart by their first line.
///
/// `.IN2`: the number of tasks, a line with the time of each, then lines "i,j" (i comes before j,
/// from 1), ended by "-1,-1"; what follows is not read. `.alb`: headings in angle brackets:
/// "<number of tasks>", "<cycle time>", "<task times>" with lines "task time", "<precedence
/// relations>" with lines "i,j", "<end>"; other headings are passed over.
///
/// Source:  formats as in the files; Scholl 1993, and Otto, Otto and Scholl, EJOR 228 (2013).
/// Errors:  all name file and line. kBadInput for a text that is cut short, a word where a number
///          belongs, a task timed twice or not at all; kOutOfRange for a number outside its range;
///          and those of `Line::make`.
[[nodiscard]] Result<LineFile> read_line_file(std::string_view text, std::string file);

}  // namespace rollwright::plan

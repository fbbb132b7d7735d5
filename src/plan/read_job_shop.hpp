#pragma once

#include <string>
#include <string_view>

#include "plan/project.hpp"

namespace rollwright::plan {

/// Reads a job shop in the usual benchmark text: lines that start with # are remarks, then a line
/// with the numbers of jobs and machines, then a line per job with a machine (from 0) and a time
/// for each of its steps. A machine becomes a resource of one unit, a step an activity named
/// "job.step" (both from 1) that waits for the step before it; step s of job j has the index
/// (j - 1) * machines + s - 1.
///
/// Source:  Fisher and Thompson, in Muth and Thompson, Industrial Scheduling (1963), for the oldest
///          such data.
/// Errors:  all name file and line. kBadInput for a text that is cut short or goes on, a word where
///          a number belongs or a wrong count; kOutOfRange for a number outside its range;
///          kTooLarge and others of `Project::make`.
[[nodiscard]] Result<Project> read_job_shop(std::string_view text, std::string file);

}  // namespace rollwright::plan

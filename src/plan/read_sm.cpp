#include "plan/read_sm.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"
#include "plan/project_text.hpp"

namespace rollwright::plan {
namespace {

struct Counts {
  int jobs = -1;
  int renewable = -1;
};

/// The whole number right after the colon of "  - renewable                 :  4   R".
Result<int> number_after_colon(const ProjectText& text, std::string_view line, int most) {
  const std::vector<std::string_view> words = words_of(line.substr(line.find(':') + 1));
  const std::string value = words.empty() ? "" : shortened(words.front());
  const std::optional<long long> number = to_whole(value);
  const std::string field(trim(line.substr(0, std::min<std::size_t>(line.find(':'), 60))));
  if (!number) {
    return refuse(Code::kBadInput, "A whole number should follow the colon.",
                  text.place(field, value));
  }
  if (*number < 0 || *number > most) {
    return refuse(Code::kOutOfRange, fmt::format("This should be 0 to {}.", most),
                  text.place(field, value));
  }
  return static_cast<int>(*number);
}

/// Line of the heading that opens with `heading`, or a refusal when the text ends before it.
Result<int> find_heading(ProjectText& text, std::string_view heading) {
  while (const std::optional<TextLine> line = text.next()) {
    if (line->text.starts_with(heading)) return line->number;
  }
  return refuse(Code::kBadInput, fmt::format("The text ends without a line {}:", heading),
                text.place());
}

Result<void> read_count(const ProjectText& text, std::string_view line, Counts& counts) {
  const bool jobs = line.starts_with("jobs");
  const bool renewable = line.starts_with("- renewable");
  const bool other = line.starts_with("- nonrenewable") || line.starts_with("- doubly");
  if (!jobs && !renewable && !other) return {};
  const int most = jobs ? kMostActivities : kMostResources;
  const Result<int> number = number_after_colon(text, line, most);
  if (!number) return std::unexpected(number.error());
  if (jobs) counts.jobs = *number;
  if (renewable) counts.renewable = *number;
  if (other && *number > 0) {
    return refuse(Code::kRefused, "Only renewable resources can be planned here.",
                  text.place("", std::to_string(*number)));
  }
  return {};
}

Result<Counts> read_counts(ProjectText& text) {
  Counts counts;
  while (const std::optional<TextLine> line = text.next()) {
    if (line->text.starts_with("PRECEDENCE RELATIONS")) {
      if (counts.jobs >= 0 && counts.renewable >= 0) return counts;
      return refuse(Code::kBadInput,
                    "Before this line the numbers of jobs and of renewable resources should be "
                    "stated.",
                    text.place());
    }
    if (auto read = read_count(text, line->text, counts); !read) {
      return std::unexpected(read.error());
    }
  }
  return refuse(Code::kBadInput, "The text ends without a line PRECEDENCE RELATIONS:",
                text.place());
}

Result<void> check_job(const ProjectText& text, int stated, int due) {
  if (stated == due) return {};
  return refuse(Code::kBadInput, fmt::format("The line for job {} should come here.", due),
                text.place("jobnr.", std::to_string(stated)));
}

Result<void> read_successors(ProjectText& text, std::vector<Activity>& activities) {
  static_cast<void>(text.next());  // the names of the columns
  const int jobs = static_cast<int>(activities.size());
  for (int job = 1; job <= jobs; ++job) {
    const auto row = text.numbers("precedence relations", 3, kMostActivities);
    if (!row) return std::unexpected(row.error());
    if (auto due = check_job(text, (*row)[0], job); !due) return due;
    if ((*row)[1] != 1) {
      return refuse(Code::kRefused, "Only projects with one mode per job can be planned here.",
                    text.place("#modes", std::to_string((*row)[1])));
    }
    if (row->size() != static_cast<std::size_t>((*row)[2]) + 3) {
      return refuse(Code::kBadInput,
                    fmt::format("The line states {} successors and lists {}.", (*row)[2],
                                row->size() - 3),
                    text.place("#successors"));
    }
    for (std::size_t s = 3; s < row->size(); ++s) {
      const int next = (*row)[s];
      if (next < 1 || next > jobs) {
        return refuse(Code::kOutOfRange, fmt::format("Jobs are numbered 1 to {}.", jobs),
                      text.place("successors", std::to_string(next)));
      }
      activities[static_cast<std::size_t>(job - 1)].successors.push_back(next - 1);
    }
  }
  return {};
}

/// Returns the line of each job, for what shows only when the capacities are known.
Result<std::vector<int>> read_requests(ProjectText& text, std::vector<Activity>& activities,
                                       int resources) {
  static_cast<void>(text.next());  // the names of the columns
  const std::size_t columns = static_cast<std::size_t>(resources) + 3;
  std::vector<int> lines;
  for (std::size_t i = 0; i < activities.size(); ++i) {
    const auto row = text.numbers("requests and durations", columns, kMostTotalDuration);
    if (!row) return std::unexpected(row.error());
    if (auto due = check_job(text, (*row)[0], static_cast<int>(i) + 1); !due) {
      return std::unexpected(due.error());
    }
    if ((*row)[1] != 1) {
      return refuse(Code::kRefused, "Only projects with one mode per job can be planned here.",
                    text.place("mode", std::to_string((*row)[1])));
    }
    if (row->size() != columns) {
      return refuse(Code::kBadInput,
                    fmt::format("The line has {} numbers; it should have {}.", row->size(),
                                columns),
                    text.place("requests and durations"));
    }
    activities[i].name = std::to_string(i + 1);
    activities[i].duration = (*row)[2];
    activities[i].demand.assign(row->begin() + 3, row->end());
    lines.push_back(text.line());
  }
  return lines;
}

Result<void> check_demands(const std::vector<Activity>& activities,
                           const std::vector<int>& capacities, const std::vector<int>& lines,
                           Place place) {
  for (std::size_t i = 0; i < activities.size(); ++i) {
    for (std::size_t k = 0; k < capacities.size(); ++k) {
      if (activities[i].demand[k] <= capacities[k]) continue;
      place.line = lines[i];
      place.field = fmt::format("R {}", k + 1);
      place.value = std::to_string(activities[i].demand[k]);
      return refuse(Code::kContradiction,
                    fmt::format("Only {} units of this resource are available, so the job could "
                                "never start.",
                                capacities[k]),
                    std::move(place));
    }
  }
  return {};
}

/// The refusal of `Project::make`, with the place in the file that it cannot know.
Error placed(Error error, Place place) {
  place.field = std::move(error.place.field);
  place.value = std::move(error.place.value);
  error.place = std::move(place);
  return error;
}

}  // namespace

Result<Project> read_sm(std::string_view content, std::string file) {
  Result<ProjectText> opened = ProjectText::open(content, std::move(file));
  if (!opened) return std::unexpected(opened.error());
  ProjectText& text = *opened;

  const Result<Counts> counts = read_counts(text);
  if (!counts) return std::unexpected(counts.error());
  const Place precedence = text.place();
  std::vector<Activity> activities(static_cast<std::size_t>(counts->jobs));
  if (auto read = read_successors(text, activities); !read) return std::unexpected(read.error());

  if (auto found = find_heading(text, "REQUESTS/DURATIONS"); !found) {
    return std::unexpected(found.error());
  }
  const auto lines = read_requests(text, activities, counts->renewable);
  if (!lines) return std::unexpected(lines.error());

  if (auto found = find_heading(text, "RESOURCEAVAILABILITIES"); !found) {
    return std::unexpected(found.error());
  }
  static_cast<void>(text.next());  // the names of the columns
  auto capacities = text.numbers("resource availabilities",
                                 static_cast<std::size_t>(counts->renewable), kMostCapacity);
  if (!capacities) return std::unexpected(capacities.error());
  if (capacities->size() != static_cast<std::size_t>(counts->renewable)) {
    return refuse(Code::kBadInput,
                  fmt::format("The line has {} numbers for {} resources.", capacities->size(),
                              counts->renewable),
                  text.place("resource availabilities"));
  }
  if (auto fits = check_demands(activities, *capacities, *lines, text.place()); !fits) {
    return std::unexpected(fits.error());
  }
  Result<Project> project = Project::make(std::move(activities), *std::move(capacities));
  if (!project) return std::unexpected(placed(project.error(), precedence));
  return project;
}

}  // namespace rollwright::plan

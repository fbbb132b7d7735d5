#include "plan/check_project.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rollwright::plan {
namespace {

struct Event {
  long long when = 0;
  long long change = 0;  // of the units held; what ends at a moment frees them for what starts then
};

std::string called(const Project& project, int activity) {
  return project.name(activity).empty() ? std::to_string(activity) : project.name(activity);
}

long long end_of(const Project& project, const Starts& starts, int activity) {
  return static_cast<long long>(starts[static_cast<std::size_t>(activity)]) +
         project.duration(activity);
}

void check_waiting(const Project& project, const Starts& starts, std::vector<std::string>& found) {
  for (int i = 0; i < project.size(); ++i) {
    const int start = starts[static_cast<std::size_t>(i)];
    if (start < 0) {
      found.push_back(fmt::format("Activity {} starts at {}, before the project does at 0.",
                                  called(project, i), start));
    }
    for (const int next : project.successors(i)) {
      const int next_start = starts[static_cast<std::size_t>(next)];
      const long long end = end_of(project, starts, i);
      if (next_start >= end) continue;
      found.push_back(fmt::format("Activity {} starts at {}, but must wait for activity {}, which "
                                  "ends at {}.",
                                  called(project, next), next_start, called(project, i), end));
    }
  }
}

std::vector<Event> events_of(const Project& project, const Starts& starts, int resource) {
  std::vector<Event> events;
  for (int i = 0; i < project.size(); ++i) {
    const int units = project.demand(i, resource);
    if (units == 0 || project.duration(i) == 0) continue;
    events.push_back({starts[static_cast<std::size_t>(i)], units});
    events.push_back({end_of(project, starts, i), -units});
  }
  std::sort(events.begin(), events.end(),
            [](const Event& a, const Event& b) { return a.when < b.when; });
  return events;
}

void check_resource(const Project& project, const Starts& starts, int resource,
                    std::vector<std::string>& found) {
  const std::vector<Event> events = events_of(project, starts, resource);
  long long held = 0;
  for (std::size_t e = 0; e < events.size();) {
    const long long when = events[e].when;
    for (; e < events.size() && events[e].when == when; ++e) held += events[e].change;
    if (held <= project.capacity(resource)) continue;
    found.push_back(fmt::format("From {} to {} resource {} is asked for {} units and has {}.", when,
                                events[e].when, resource + 1, held, project.capacity(resource)));
  }
}

}  // namespace

std::vector<std::string> check_project(const Project& project, const Starts& starts) {
  if (starts.size() != static_cast<std::size_t>(project.size())) {
    return {fmt::format("The project has {} activities, but {} starts are given.", project.size(),
                        starts.size())};
  }
  std::vector<std::string> found;
  check_waiting(project, starts, found);
  for (int k = 0; k < project.resources(); ++k) check_resource(project, starts, k, found);
  return found;
}

}  // namespace rollwright::plan

#include "plan/read_job_shop.hpp"

#include <fmt/format.h>

#include "plan/project_text.hpp"

namespace rollwright::plan {
namespace {

struct Shop {
  int jobs = 0;
  int machines = 0;
};

Result<Shop> read_size(ProjectText& text) {
  const auto row = text.numbers("jobs and machines", 2, kMostActivities);
  if (!row) return std::unexpected(row.error());
  const Shop shop{(*row)[0], (*row)[1]};
  if (row->size() != 2) {
    return refuse(Code::kBadInput, "The line should have two numbers, jobs and machines.",
                  text.place("jobs and machines"));
  }
  if (shop.machines > kMostResources) {
    return refuse(Code::kTooLarge, fmt::format("At most {} machines can be planned here.",
                                               kMostResources),
                  text.place("machines", std::to_string(shop.machines)));
  }
  const long long steps = static_cast<long long>(shop.jobs) * shop.machines;
  if (steps > kMostActivities) {
    return refuse(Code::kTooLarge,
                  fmt::format("{} jobs of {} steps are {} activities; the most is {}.", shop.jobs,
                              shop.machines, steps, kMostActivities),
                  text.place());
  }
  return shop;
}

Result<void> read_job(ProjectText& text, const Shop& shop, int job,
                      std::vector<Activity>& activities) {
  const std::size_t due = static_cast<std::size_t>(shop.machines) * 2;
  const auto row = text.numbers(fmt::format("job {}", job), due, kMostTotalDuration);
  if (!row) return std::unexpected(row.error());
  if (row->size() != due) {
    return refuse(Code::kBadInput,
                  fmt::format("The line has {} numbers; {} machines and their times are {}.",
                              row->size(), shop.machines, due),
                  text.place(fmt::format("job {}", job)));
  }
  for (int step = 0; step < shop.machines; ++step) {
    const int machine = (*row)[static_cast<std::size_t>(step) * 2];
    if (machine >= shop.machines) {
      return refuse(Code::kOutOfRange, fmt::format("Machines are numbered 0 to {}.",
                                                   shop.machines - 1),
                    text.place(fmt::format("job {}", job), std::to_string(machine)));
    }
    Activity activity{.name = fmt::format("{}.{}", job, step + 1),
                      .duration = (*row)[static_cast<std::size_t>(step) * 2 + 1],
                      .demand = std::vector<int>(static_cast<std::size_t>(shop.machines), 0)};
    activity.demand[static_cast<std::size_t>(machine)] = 1;
    if (step + 1 < shop.machines) {
      activity.successors.push_back(static_cast<int>(activities.size()) + 1);
    }
    activities.push_back(std::move(activity));
  }
  return {};
}

}  // namespace

Result<Project> read_job_shop(std::string_view content, std::string file) {
  Result<ProjectText> opened = ProjectText::open(content, std::move(file));
  if (!opened) return std::unexpected(opened.error());
  ProjectText& text = *opened;

  const Result<Shop> shop = read_size(text);
  if (!shop) return std::unexpected(shop.error());
  const Place heading = text.place();
  std::vector<Activity> activities;
  for (int job = 1; job <= shop->jobs; ++job) {
    if (auto read = read_job(text, *shop, job, activities); !read) {
      return std::unexpected(read.error());
    }
  }
  if (text.next()) {
    return refuse(Code::kBadInput,
                  fmt::format("The text goes on after the last of {} jobs.", shop->jobs),
                  text.place());
  }
  Result<Project> project = Project::make(
      std::move(activities), std::vector<int>(static_cast<std::size_t>(shop->machines), 1));
  if (!project) {
    Error error = project.error();
    error.place.file = heading.file;
    error.place.line = heading.line;
    return std::unexpected(std::move(error));
  }
  return project;
}

}  // namespace rollwright::plan

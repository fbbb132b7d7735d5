#include "plan/line.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace rollwright::plan {
namespace {

Result<void> check_task(const LineTask& task, std::size_t count) {
  if (task.time < 0 || task.time > kMostTaskTime) {
    return refuse(Code::kOutOfRange, fmt::format("A task takes 0 to {} time units.", kMostTaskTime),
                  {.field = "time of task " + task.name, .value = std::to_string(task.time)});
  }
  for (const int next : task.successors) {
    if (0 <= next && static_cast<std::size_t>(next) < count) continue;
    return refuse(Code::kOutOfRange,
                  fmt::format("There are {} tasks; none has this number.", count),
                  {.field = "what comes after task " + task.name,
                   .value = std::to_string(next + 1)});
  }
  return {};
}

}  // namespace

Result<Line> Line::make(std::vector<LineTask> tasks) {
  if (tasks.size() > static_cast<std::size_t>(kMostLineTasks)) {
    return refuse(Code::kTooLarge, fmt::format("{} tasks are more than the {} of one line.",
                                               tasks.size(), kMostLineTasks));
  }
  Line line;
  line.predecessors_.resize(tasks.size());
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (auto fits = check_task(tasks[i], tasks.size()); !fits) {
      return std::unexpected(fits.error());
    }
    std::vector<int>& after = tasks[i].successors;
    std::sort(after.begin(), after.end());
    after.erase(std::unique(after.begin(), after.end()), after.end());
    for (const int next : after) {
      line.predecessors_[static_cast<std::size_t>(next)].push_back(static_cast<int>(i));
    }
    line.total_time_ += tasks[i].time;
    line.longest_time_ = std::max(line.longest_time_, tasks[i].time);
  }
  std::vector<std::size_t> waits;
  for (const auto& before : line.predecessors_) waits.push_back(before.size());
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (waits[i] == 0) line.order_.push_back(static_cast<int>(i));
  }
  for (std::size_t done = 0; done < line.order_.size(); ++done) {
    for (const int next : tasks[static_cast<std::size_t>(line.order_[done])].successors) {
      if (--waits[static_cast<std::size_t>(next)] == 0) line.order_.push_back(next);
    }
  }
  if (line.order_.size() != tasks.size()) {
    const auto stuck = std::find_if(waits.begin(), waits.end(), [](auto w) { return w > 0; });
    return refuse(Code::kContradiction,
                  "These tasks come before each other in a ring, or after such a ring.",
                  {.field = "task",
                   .value = tasks[static_cast<std::size_t>(stuck - waits.begin())].name});
  }
  line.tasks_ = std::move(tasks);
  return line;
}

Line Line::reversed() const {
  Line line = *this;
  for (std::size_t i = 0; i < tasks_.size(); ++i) {
    line.tasks_[i].successors = predecessors_[i];
    line.predecessors_[i] = tasks_[i].successors;
  }
  std::reverse(line.order_.begin(), line.order_.end());
  return line;
}

}  // namespace rollwright::plan

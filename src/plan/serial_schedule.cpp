#include "plan/serial_schedule.hpp"

#include <algorithm>

namespace rollwright::plan {

template <class NeighboursOf>
SerialScheduler::Links SerialScheduler::links_of(NeighboursOf neighbours_of) const {
  Links links;
  links.first.push_back(0);
  for (int i = 0; i < project_->size(); ++i) {
    const auto neighbours = neighbours_of(i);
    links.neighbours.insert(links.neighbours.end(), neighbours.begin(), neighbours.end());
    links.first.push_back(static_cast<int>(links.neighbours.size()));
  }
  return links;
}

SerialScheduler::SerialScheduler(const Project& project)
    : project_(&project),
      predecessors_(links_of([&](int i) { return project.predecessors(i); })),
      successors_(links_of([&](int i) { return project.successors(i); })),
      profile_(project),
      ends_(static_cast<std::size_t>(project.size())) {
  for (int i = 0; i < project.size(); ++i) durations_.push_back(project.duration(i));
}

int SerialScheduler::generate(const ActivityList& list, const Links& before) {
  ++schedules_;
  profile_.clear();
  int last = 0;
  for (const int activity : list) {
    const auto i = static_cast<std::size_t>(activity);
    int earliest = 0;
    for (int n = before.first[i]; n < before.first[i + 1]; ++n) {
      const int neighbour = before.neighbours[static_cast<std::size_t>(n)];
      earliest = std::max(earliest, ends_[static_cast<std::size_t>(neighbour)]);
    }
    ends_[i] = profile_.place(activity, earliest) + durations_[i];
    last = std::max(last, ends_[i]);
  }
  return last;
}

void SerialScheduler::forward(const ActivityList& list, Schedule& schedule) {
  ROLLWRIGHT_PROMISE(list.size() == ends_.size());
  schedule.makespan = generate(list, predecessors_);
  schedule.starts.resize(ends_.size());
  for (std::size_t i = 0; i < ends_.size(); ++i) {
    schedule.starts[i] = ends_[i] - durations_[i];
  }
}

// The same pass on the project seen from its end: an end there is a start here.
void SerialScheduler::backward(const ActivityList& list, Schedule& schedule) {
  ROLLWRIGHT_PROMISE(list.size() == ends_.size());
  schedule.makespan = generate(list, successors_);
  schedule.starts.resize(ends_.size());
  for (std::size_t i = 0; i < ends_.size(); ++i) {
    schedule.starts[i] = schedule.makespan - ends_[i];
  }
}

}  // namespace rollwright::plan

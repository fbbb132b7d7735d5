#include "plan/justify.hpp"

#include <algorithm>

namespace rollwright::plan {

Justifier::Justifier(const Project& project)
    : waiting_(project.waiting_order().begin(), project.waiting_order().end()),
      waited_for_(waiting_.rbegin(), waiting_.rend()),
      keys_(waiting_.size()) {
  for (int i = 0; i < project.size(); ++i) durations_.push_back(project.duration(i));
}

void Justifier::sort_by_key(const ActivityList& order, int most_key, ActivityList& list) {
  list.resize(order.size());
  // Counting is quicker only while there are not many more moments than activities.
  if (static_cast<std::size_t>(most_key) > 64 * (order.size() + 8)) {
    list = order;
    std::stable_sort(list.begin(), list.end(), [this](int a, int b) {
      return keys_[static_cast<std::size_t>(a)] < keys_[static_cast<std::size_t>(b)];
    });
    return;
  }
  counts_.assign(static_cast<std::size_t>(most_key) + 2, 0);
  for (const int key : keys_) ++counts_[static_cast<std::size_t>(key) + 1];
  for (std::size_t k = 1; k < counts_.size(); ++k) counts_[k] += counts_[k - 1];
  for (const int activity : order) {
    const int key = keys_[static_cast<std::size_t>(activity)];
    const int position = counts_[static_cast<std::size_t>(key)]++;
    list[static_cast<std::size_t>(position)] = activity;
  }
}

void Justifier::list_by_start(const Schedule& schedule, ActivityList& list) {
  keys_ = schedule.starts;
  sort_by_key(waiting_, schedule.makespan, list);
}

void Justifier::list_by_end(const Schedule& schedule, ActivityList& list) {
  for (std::size_t i = 0; i < keys_.size(); ++i) {
    keys_[i] = schedule.makespan - schedule.starts[i] - durations_[i];
  }
  sort_by_key(waited_for_, schedule.makespan, list);
}

void Justifier::justify_right(SerialScheduler& scheduler, Schedule& schedule) {
  list_by_end(schedule, list_);
  scheduler.backward(list_, schedule);
}

void Justifier::justify_left(SerialScheduler& scheduler, Schedule& schedule) {
  list_by_start(schedule, list_);
  scheduler.forward(list_, schedule);
}

void Justifier::justify_twice(SerialScheduler& scheduler, Schedule& schedule) {
  justify_right(scheduler, schedule);
  justify_left(scheduler, schedule);
}

}  // namespace rollwright::plan

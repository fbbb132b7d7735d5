#include "plan/line_bound.hpp"

#include <algorithm>
#include <numeric>

namespace rollwright::plan {
namespace {

constexpr long long kMostParts = 20;  // finest division of the takt that is tried

long long up(long long work, long long whole) { return (work + whole - 1) / whole; }

long long bound_of(const WorkMeasure& measure) {
  return up(std::accumulate(measure.work.begin(), measure.work.end(), 0LL), measure.whole);
}

template <class Count>
WorkMeasure counted(const Line& line, long long whole, Count count) {
  WorkMeasure measure{.whole = whole};
  for (int i = 0; i < line.size(); ++i) measure.work.push_back(count(line.time(i)));
  return measure;
}

/// Tasks below `small` count nothing, those that leave less than `small` count a whole station.
WorkMeasure without_small(const Line& line, long long takt, long long small) {
  return counted(line, takt, [=](long long time) {
    if (time < small) return 0LL;
    return time > takt - small ? takt : time;
  });
}

/// Rounded down to parts + 1 parts of a takt, where `parts` of them would fill a station.
WorkMeasure in_parts(const Line& line, long long takt, long long parts) {
  return counted(line, takt * parts, [=](long long time) {
    const long long scaled = (parts + 1) * time;
    return scaled % takt == 0 ? time * parts : scaled / takt * takt;
  });
}

/// Tasks of more than half count as whole less what may lie beside them, in units of `small`.
WorkMeasure beside_small(const Line& line, long long takt, long long small) {
  const long long fit = takt / small;
  return counted(line, 2 * fit, [=](long long time) {
    if (2 * time > takt) return 2 * (fit - (takt - time) / small);
    return 2 * time == takt ? fit : 2 * (time / small);
  });
}

std::vector<long long> distinct_times(const Line& line) {
  std::vector<long long> times;
  for (int i = 0; i < line.size(); ++i) {
    if (line.time(i) > 0) times.push_back(line.time(i));
  }
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

}  // namespace

std::vector<WorkMeasure> work_measures(const Line& line, int takt, std::size_t most) {
  std::vector<WorkMeasure> others;
  for (long long parts = 1; parts <= kMostParts; ++parts) {
    others.push_back(in_parts(line, takt, parts));
  }
  for (const long long small : distinct_times(line)) {
    if (2 * small > takt) break;
    others.push_back(without_small(line, takt, small));
    others.push_back(beside_small(line, takt, small));
  }
  const auto share = [](const WorkMeasure& measure) {
    return static_cast<double>(std::accumulate(measure.work.begin(), measure.work.end(), 0LL)) /
           static_cast<double>(measure.whole);
  };
  std::stable_sort(others.begin(), others.end(), [&](const WorkMeasure& a, const WorkMeasure& b) {
    return share(a) > share(b);
  });
  std::vector<WorkMeasure> measures;
  measures.push_back(counted(line, takt, [](long long time) { return time; }));
  for (WorkMeasure& other : others) {
    if (measures.size() >= most) break;
    const bool known = std::any_of(measures.begin(), measures.end(), [&](const WorkMeasure& m) {
      return m.whole == other.whole && m.work == other.work;
    });
    if (!known) measures.push_back(std::move(other));
  }
  return measures;
}

std::vector<long long> work_behind(const Line& line, int takt) {
  const auto size = static_cast<std::size_t>(line.size());
  std::vector<long long> behind(size, 0);
  std::vector<std::vector<bool>> follows(size, std::vector<bool>(size, false));
  const auto order = line.waiting_order();
  for (auto at = order.rbegin(); at != order.rend(); ++at) {
    const auto task = static_cast<std::size_t>(*at);
    for (const int next : line.successors(*at)) {
      const auto& further = follows[static_cast<std::size_t>(next)];
      for (std::size_t i = 0; i < size; ++i) follows[task][i] = follows[task][i] || further[i];
      follows[task][static_cast<std::size_t>(next)] = true;
    }
    std::vector<int> later;
    for (std::size_t i = 0; i < size; ++i) {
      if (follows[task][i]) later.push_back(static_cast<int>(i));
    }
    std::stable_sort(later.begin(), later.end(), [&](int a, int b) {
      return behind[static_cast<std::size_t>(a)] > behind[static_cast<std::size_t>(b)];
    });
    long long work = 0;
    for (const int i : later) {
      work += line.time(i);
      behind[task] = std::max(behind[task], work + behind[static_cast<std::size_t>(i)]);
    }
    const long long whole = up(behind[task], takt) * takt;
    if (line.time(*at) + behind[task] > whole) behind[task] = whole;
  }
  return behind;
}

int least_stations(const Line& line, int takt) {
  long long least = 0;
  for (const WorkMeasure& measure : work_measures(line, takt, 10'000)) {
    least = std::max(least, bound_of(measure));
  }
  const std::vector<long long> behind = work_behind(line, takt);
  const std::vector<long long> before = work_behind(line.reversed(), takt);
  for (int i = 0; i < line.size(); ++i) {
    const auto index = static_cast<std::size_t>(i);
    // The task's own station holds the end of what is before it and the start of what is behind.
    const long long through = before[index] + line.time(i) + behind[index];
    least = std::max(least, up(through, takt));
  }
  return static_cast<int>(least);
}

}  // namespace rollwright::plan

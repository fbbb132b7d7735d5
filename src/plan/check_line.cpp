#include "plan/check_line.hpp"

#include <map>

#include <fmt/format.h>

namespace rollwright::plan {

std::vector<std::string> check_line(const Line& line, const Stations& station_of, int stations,
                                    long long takt) {
  if (station_of.size() != static_cast<std::size_t>(line.size())) {
    return {fmt::format("The line has {} tasks, but {} stations are given.", line.size(),
                        station_of.size())};
  }
  std::vector<std::string> found;
  std::map<int, long long> load;
  for (int task = 0; task < line.size(); ++task) {
    const int station = station_of.at(static_cast<std::size_t>(task));
    if (station < 0 || station >= stations) {
      found.push_back(fmt::format("Task {} is at station {}; the stations are 1 to {}.",
                                  line.name(task), station + 1, stations));
    }
    load[station] += line.time(task);
    for (const int later : line.successors(task)) {
      const int other = station_of.at(static_cast<std::size_t>(later));
      if (other >= station) continue;
      found.push_back(fmt::format("Task {} at station {} comes before task {}, which is at {}.",
                                  line.name(task), station + 1, line.name(later), other + 1));
    }
  }
  for (const auto& [station, work] : load) {
    if (work <= takt) continue;
    found.push_back(fmt::format("Station {} has {} time units of work and a takt of {}.",
                                station + 1, work, takt));
  }
  return found;
}

}  // namespace rollwright::plan

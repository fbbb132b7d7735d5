#include "plan/sequence_line.hpp"

#include <algorithm>
#include <cstdlib>
#include <limits>

#include <fmt/format.h>

namespace rollwright::plan {
namespace {

constexpr int kMostRounds = 50;  // of changing places

struct MixedDay {
  const std::vector<LineModel>* models;
  std::size_t stations = 0;
  long long bikes = 0;
  std::vector<long long> total;  // work of each station

  explicit MixedDay(const std::vector<LineModel>& all) : models(&all) {
    stations = all.empty() ? 0 : all.front().work.size();
    total.assign(stations, 0);
    for (const LineModel& model : all) {
      bikes += model.count;
      for (std::size_t s = 0; s < stations; ++s) {
        total[s] += static_cast<long long>(model.count) * model.work[s];
      }
    }
  }
  [[nodiscard]] int work(std::size_t model, std::size_t station) const {
    return (*models)[model].work[station];
  }
  /// How far the work so far is from an even pace when `gone` bikes have gone.
  [[nodiscard]] long long unevenness(const std::vector<long long>& work_so_far,
                                     long long gone) const {
    long long sum = 0;
    for (std::size_t s = 0; s < stations; ++s) {
      sum += std::llabs(bikes * work_so_far[s] - gone * total[s]);
    }
    return sum;
  }
};

Result<void> check_models(const std::vector<LineModel>& models) {
  long long bikes = 0;
  for (const LineModel& model : models) {
    const std::string field = "model " + model.name;
    if (model.work.size() != models.front().work.size()) {
      return refuse(Code::kBadInput, "Every model states its work at each station of the line.",
                    {.field = field, .value = std::to_string(model.work.size())});
    }
    if (model.work.size() > static_cast<std::size_t>(kMostLineStations)) {
      return refuse(Code::kOutOfRange,
                    fmt::format("A line has at most {} stations.", kMostLineStations),
                    {.field = field, .value = std::to_string(model.work.size())});
    }
    for (const int work : model.work) {
      if (0 <= work && work <= kMostStationWork) continue;
      return refuse(Code::kOutOfRange,
                    fmt::format("Work at a station is 0 to {} time units.", kMostStationWork),
                    {.field = field, .value = std::to_string(work)});
    }
    if (model.count < 0 || model.count > kMostSequenced) {
      return refuse(Code::kOutOfRange, fmt::format("A day has 0 to {} bikes.", kMostSequenced),
                    {.field = field, .value = std::to_string(model.count)});
    }
    bikes += model.count;
  }
  if (bikes <= kMostSequenced) return {};
  return refuse(Code::kOutOfRange, fmt::format("A day has 0 to {} bikes.", kMostSequenced),
                {.value = std::to_string(bikes)});
}

long long unevenness_of(const MixedDay& day, const std::vector<int>& sequence) {
  std::vector<long long> so_far(day.stations, 0);
  long long sum = 0;
  for (std::size_t at = 0; at < sequence.size(); ++at) {
    for (std::size_t s = 0; s < day.stations; ++s) {
      so_far[s] += day.work(static_cast<std::size_t>(sequence[at]), s);
    }
    sum += day.unevenness(so_far, static_cast<long long>(at) + 1);
  }
  return sum;
}

/// Number of sets of bikes that can have gone, or more than the limit.
long long sets_of(const std::vector<LineModel>& models) {
  long long sets = 1;
  for (const LineModel& model : models) {
    sets *= model.count + 1;
    if (sets > kMostSequenceSets) break;
  }
  return sets;
}

/// A set is a number whose digits, in bases count + 1, say how many of each model have gone. Every
/// set comes after those that are one bike smaller.
std::vector<int> exact_sequence(const MixedDay& day, long long sets) {
  const std::vector<LineModel>& models = *day.models;
  std::vector<long long> weights;
  long long weight = 1;
  for (const LineModel& model : models) {
    weights.push_back(weight);
    weight *= model.count + 1;
  }
  std::vector<long long> least(static_cast<std::size_t>(sets), 0);
  std::vector<int> last(static_cast<std::size_t>(sets), -1);
  for (long long set = 1; set < sets; ++set) {
    const auto index = static_cast<std::size_t>(set);
    std::vector<long long> so_far(day.stations, 0);
    long long gone = 0;
    least[index] = std::numeric_limits<long long>::max();
    for (std::size_t m = 0; m < models.size(); ++m) {
      const long long of_model = set / weights[m] % (models[m].count + 1);
      if (of_model == 0) continue;
      gone += of_model;
      for (std::size_t s = 0; s < day.stations; ++s) so_far[s] += of_model * day.work(m, s);
      const long long before = least[static_cast<std::size_t>(set - weights[m])];
      if (before >= least[index]) continue;
      least[index] = before;
      last[index] = static_cast<int>(m);
    }
    least[index] += day.unevenness(so_far, gone);
  }
  std::vector<int> sequence;
  for (long long set = sets - 1; set > 0;) {
    const int model = last[static_cast<std::size_t>(set)];
    sequence.push_back(model);
    set -= weights[static_cast<std::size_t>(model)];
  }
  std::reverse(sequence.begin(), sequence.end());
  return sequence;
}

std::vector<int> chasing_sequence(const MixedDay& day) {
  const std::vector<LineModel>& models = *day.models;
  std::vector<int> left;
  for (const LineModel& model : models) left.push_back(model.count);
  std::vector<long long> so_far(day.stations, 0);
  std::vector<int> sequence;
  for (long long gone = 1; gone <= day.bikes; ++gone) {
    int best = -1;
    long long least = 0;
    for (std::size_t m = 0; m < models.size(); ++m) {
      if (left[m] == 0) continue;
      std::vector<long long> with = so_far;
      for (std::size_t s = 0; s < day.stations; ++s) with[s] += day.work(m, s);
      const long long uneven = day.unevenness(with, gone);
      if (best >= 0 && uneven >= least) continue;
      best = static_cast<int>(m);
      least = uneven;
    }
    const auto chosen = static_cast<std::size_t>(best);
    for (std::size_t s = 0; s < day.stations; ++s) so_far[s] += day.work(chosen, s);
    --left[chosen];
    sequence.push_back(best);
  }
  return sequence;
}

/// Neighbours change places while that helps.
void change_places(const MixedDay& day, std::vector<int>& sequence) {
  long long least = unevenness_of(day, sequence);
  for (int round = 0; round < kMostRounds; ++round) {
    const long long before = least;
    for (std::size_t at = 0; at + 1 < sequence.size(); ++at) {
      if (sequence[at] == sequence[at + 1]) continue;
      std::swap(sequence[at], sequence[at + 1]);
      const long long uneven = unevenness_of(day, sequence);
      if (uneven < least) {
        least = uneven;
      } else {
        std::swap(sequence[at], sequence[at + 1]);
      }
    }
    if (least == before) return;
  }
}

}  // namespace

Result<LineSequence> level_sequence(const std::vector<LineModel>& models) {
  if (auto fits = check_models(models); !fits) return std::unexpected(fits.error());
  const MixedDay day(models);
  const long long sets = sets_of(models);
  LineSequence sequence{.proved = sets <= kMostSequenceSets};
  if (sequence.proved) {
    sequence.models = exact_sequence(day, sets);
  } else {
    sequence.models = chasing_sequence(day);
    change_places(day, sequence.models);
  }
  sequence.unevenness = unevenness_of(day, sequence.models);
  return sequence;
}

}  // namespace rollwright::plan

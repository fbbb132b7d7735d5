#include "shop/minutes.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "shop/shop.hpp"

namespace rollwright::shop {
namespace {

MinutesLine line_of(const State& state, const trade::Operation& operation) {
  const plan::LearnedMinutes learned = minutes_of(state, operation);
  return {.operation = operation.id,
          .name = operation.name,
          .area = operation.area,
          .stated_low = operation.minutes_low,
          .stated_high = operation.minutes_high,
          .low = learned.low,
          .median = learned.median,
          .high = learned.high,
          .times = learned.times,
          .astray = learned.astray};
}

double stated_median(const MinutesLine& line) {
  return std::sqrt(line.stated_low * line.stated_high);
}

std::string sentence_for(const MinutesView& view) {
  int times = 0;
  double learned = 0;
  double stated = 0;
  for (const MinutesLine& line : view.lines) {
    times += line.times;
    learned += line.times * line.median;
    stated += line.times * stated_median(line);
  }
  if (times == 0) return "No time was taken yet: the trade's ranges stand as they are.";
  const double more = 100 * (learned / stated - 1);
  return fmt::format("{} times were taken. The same work is now reckoned with {:.0f} in 100 {} time "
                     "than the trade states.",
                     times, std::abs(more), more >= 0 ? "more" : "less");
}

}  // namespace

plan::LearnedMinutes minutes_of(const State& state, const trade::Operation& operation) {
  const auto taken = state.times->minutes.find(operation.id);
  return plan::learned_minutes(
      {.low = operation.minutes_low, .high = operation.minutes_high},
      taken == state.times->minutes.end() ? std::vector<double>() : taken->second);
}

Result<MinutesView> Shop::minutes() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  MinutesView view;
  for (const std::vector<trade::Operation>* list : {&trade_.operations, &trade_.care}) {
    for (const trade::Operation& operation : *list) {
      view.lines.push_back(line_of(**current, operation));
    }
  }
  view.sentence = sentence_for(view);
  return view;
}

}  // namespace rollwright::shop

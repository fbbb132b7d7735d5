#include "mech/gear_chart.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

std::optional<Error> chart_problem(const GearChartAsked& asked) {
  if (auto error = first_outside({{"low cadence", asked.low_cadence, 20, 200, "per minute"},
                                  {"high cadence", asked.high_cadence, 20, 200, "per minute"},
                                  {"same gear", asked.same_percent, 0, 20, "%"}})) {
    return error;
  }
  if (asked.low_cadence < asked.high_cadence) return std::nullopt;
  return Error{Code::kContradiction,
               "The low cadence is not under the high one; swap the two numbers.",
               Place{.field = "low cadence"}};
}

/// Place of a value among the different ones in the order asked for, from 1.
template <class Value, class Order>
int place_among(std::vector<Value> values, Value value, Order order) {
  std::sort(values.begin(), values.end(), order);
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return static_cast<int>(std::find(values.begin(), values.end(), value) - values.begin()) + 1;
}

Result<ChartedGear> charted(const GearFigures& figures, const GearChartAsked& asked) {
  const auto from = speed_at(figures.development, asked.low_cadence);
  if (!from) return std::unexpected(from.error());
  const auto to = speed_at(figures.development, asked.high_cadence);
  if (!to) return std::unexpected(to.error());
  const Gear& gear = figures.gear;
  return ChartedGear{.figures = figures,
                     .front_number = place_among(asked.set.fronts, gear.front, std::less<>()),
                     .rear_number = place_among(asked.set.rears, gear.rear, std::greater<>()),
                     .hub_number = place_among(asked.set.hub_ratios, gear.hub_ratio, std::less<>()),
                     .from = *from,
                     .to = *to};
}

/// Marks what repeats and what does not reach the next gear, and sums up the steps.
void tell_steps(GearChart& chart, double same_percent) {
  ChartedGear* last = nullptr;
  for (ChartedGear& gear : chart.gears) {
    if (last == nullptr) {
      last = &gear;
      chart.different = 1;
      continue;
    }
    const double step = 100 * (gear.figures.ratio / last->figures.ratio - 1);
    gear.repeats = step <= same_percent;
    if (gear.repeats) continue;
    last->reaches_up = gear.from <= last->to;
    chart.largest_step_percent = std::max(chart.largest_step_percent, step);
    ++chart.different;
    last = &gear;
  }
  if (chart.different < 2) return;
  const double whole = std::log(last->figures.ratio / chart.gears.front().figures.ratio);
  chart.mean_step_percent = 100 * std::expm1(whole / (chart.different - 1));
}

std::vector<RingSpan> ring_spans(const GearChart& chart, std::vector<int> fronts) {
  std::sort(fronts.begin(), fronts.end());
  fronts.erase(std::unique(fronts.begin(), fronts.end()), fronts.end());
  std::vector<RingSpan> spans;
  for (const int front : fronts) {
    RingSpan span{.front = front};
    for (const ChartedGear& gear : chart.gears) {
      if (gear.figures.gear.front != front) continue;
      if (span.lowest == Length{}) span.lowest = gear.figures.development;
      span.highest = gear.figures.development;
    }
    spans.push_back(span);
  }
  return spans;
}

/// Share of [low, high] that the other rings' spans cover together. The spans are in order of their
/// lower ends, as rings are, so one sweep upwards does.
void tell_shared(std::vector<RingSpan>& spans) {
  for (RingSpan& span : spans) {
    const double low = std::log(span.lowest.in(metre));
    const double high = std::log(span.highest.in(metre));
    double covered = 0;
    double reached = low;
    for (const RingSpan& other : spans) {
      if (other.front == span.front) continue;
      const double from = std::max(reached, std::log(other.lowest.in(metre)));
      const double to = std::min(high, std::log(other.highest.in(metre)));
      if (to <= from) continue;
      covered += to - from;
      reached = to;
    }
    span.shared_percent = high > low ? 100 * covered / (high - low) : 0;
  }
}

}  // namespace

Result<GearChart> gear_chart(const GearChartAsked& asked) {
  if (auto error = chart_problem(asked)) return std::unexpected(*error);
  const auto list = gear_list(asked.set, asked.wheel);
  if (!list) return std::unexpected(list.error());
  GearChart chart{.range_percent = list->range_percent};
  for (const GearFigures& figures : list->gears) {
    const auto gear = charted(figures, asked);
    if (!gear) return std::unexpected(gear.error());
    chart.gears.push_back(*gear);
  }
  tell_steps(chart, asked.same_percent);
  chart.rings = ring_spans(chart, asked.set.fronts);
  tell_shared(chart.rings);
  return chart;
}

}  // namespace rollwright::mech

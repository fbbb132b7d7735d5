#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace rollwright {

/// A day of the calendar, no clock time: promises, arrivals, days off.
using Day = std::chrono::sys_days;
/// A moment in UTC to the second: journal entries, readings.
using Instant = std::chrono::sys_seconds;

/// Where the time comes from. Engines never ask; use cases are handed one of these.
class Clock {
 public:
  virtual ~Clock() = default;
  [[nodiscard]] virtual Instant now() const = 0;
};

class SystemClock final : public Clock {
 public:
  [[nodiscard]] Instant now() const override;
};

/// Stands still at the given moment; for tests, replays and the demo book.
class FixedClock final : public Clock {
 public:
  explicit FixedClock(Instant instant) : instant_(instant) {}
  [[nodiscard]] Instant now() const override { return instant_; }

 private:
  Instant instant_;
};

[[nodiscard]] Day day_of(Instant instant);

/// "2026-11-25". Errors: kBadInput with a sentence naming the right form.
[[nodiscard]] Result<Day> parse_day(std::string_view text);
[[nodiscard]] std::string iso(Day day);
/// "2026-11-25T08:30:00Z"
[[nodiscard]] Result<Instant> parse_instant(std::string_view text);
[[nodiscard]] std::string iso(Instant instant);
/// "Thursday 17 December" (with the year when asked): the month is always a word.
[[nodiscard]] std::string in_words(Day day, bool with_year = false);
/// "17 Dec"
[[nodiscard]] std::string in_short(Day day);

}  // namespace rollwright

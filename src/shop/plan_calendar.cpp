#include "shop/plan_calendar.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "plan/calendar.hpp"
#include "shop/workshop_pieces.hpp"

namespace rollwright::shop {
namespace {

constexpr std::chrono::days kLookedAhead(28);  // of a feed without work

/// Letters, digits and bytes of other letters stay; all else becomes a dash.
std::string plain_word(std::string text) {
  for (char& c : text) {
    const bool is_ascii = static_cast<unsigned char>(c) < 0x80;
    if (is_ascii && std::isalnum(static_cast<unsigned char>(c)) == 0) c = '-';
  }
  return lowered(std::move(text));
}

class Feed {
 public:
  Feed(const trade::Trade& trade, const State& state, const trade::Person& person)
      : trade_(trade), state_(state), person_(person) {}

  Result<documents::CalendarFeed> made() {
    const trade::AgreedPlan& plan = *state_.agreed->plan;
    feed_ = {.name = "Work of " + person_.name,
             .uid = uid("free-" + person_.id.text),
             .stamp = plan.agreed,
             .sequence = static_cast<int>(plan.number),
             .from = plan.agreed,
             .to = plan.agreed + kLookedAhead,
             .entries = {}};
    for (const auto& [id, order_plan] : state_.agreed->work) {
      const auto order = state_.orders.find(id);
      if (order == state_.orders.end() || !trade::is_live(order->second->state)) continue;
      for (const trade::PlannedWork& work : order_plan.work) {
        if (!is_at(work) || order->second->done.contains(work.operation)) continue;
        if (Result<void> ok = add(id, work); !ok) return std::unexpected(ok.error());
      }
    }
    std::ranges::stable_sort(feed_.entries, {}, &documents::CalendarEntry::start);
    return std::move(feed_);
  }

 private:
  bool lends(const trade::PlannedWork& work) const {
    return std::ranges::find(work.lending, person_.id) != work.lending.end();
  }
  bool is_at(const trade::PlannedWork& work) const {
    return work.person == person_.id || lends(work);
  }

  /// "Day 1 of 2", "with Ilka Brandt", "lends a hand to Mara Lind".
  std::string description(const trade::PlannedWork& work, int number, std::size_t days) const {
    std::vector<std::string> pieces;
    if (days > 1) pieces.push_back(fmt::format("Day {} of {}", number, days));
    std::vector<std::string> others;
    for (const trade::PersonId& who : work.lending) {
      if (who != person_.id) others.push_back(state_.name_of(who));
    }
    if (lends(work)) {
      pieces.push_back("lends a hand to " + state_.name_of(work.person));
    }
    if (!others.empty()) pieces.push_back("with " + listed(others));
    return join(pieces, ", ");
  }

  std::string uid(const std::string& of) const {
    return fmt::format("{}@{}.{}", of, plain_word(state_.settings.name),
                       plain_word(state_.settings.town));
  }

  /// From the first to the last minute at work on each day; as planned when the person is away now.
  Result<std::vector<plan::Window>> days_of(const trade::PlannedWork& work) const {
    const int end = plan::minute_at(work.start.day, work.end.day) + work.end.minute;
    const auto windows = windows_of(person_, state_.settings.closed,
                                    {work.start.day, end / plan::kMinutesPerDay + 1});
    if (!windows) return std::unexpected(windows.error());
    std::vector<plan::Window> days;
    for (const plan::Window& window : *windows) {
      const int from = std::max(window.from, work.start.minute);
      const int to = std::min(window.to, end);
      if (from >= to) continue;
      const bool same_day =
          !days.empty() && days.back().from / plan::kMinutesPerDay == from / plan::kMinutesPerDay;
      if (same_day) {
        days.back().to = to;
      } else {
        days.push_back({from, to});
      }
    }
    if (days.empty()) days.push_back({work.start.minute, end});
    return days;
  }

  Result<void> add(const trade::OrderId& order, const trade::PlannedWork& work) {
    const auto days = days_of(work);
    if (!days) return std::unexpected(days.error());
    int number = 0;
    for (const plan::Window& day : *days) {
      const auto start = moment(work.start.day, day.from);
      const auto end = moment(work.start.day, day.to);
      if (!start || !end) return std::unexpected(start ? end.error() : start.error());
      ++number;
      feed_.entries.push_back(
          {.uid = uid(fmt::format("{}-{}-{}", order.text, work.operation, number)),
           .start = *start,
           .end = *end,
           .summary = fmt::format("{} {} {}", order.text, work.operation, name_of(work.operation)),
           .location = work.stand > 0 ? fmt::format("{}, stand {}", work.area, work.stand)
                                      : work.area,
           .description = description(work, number, days->size())});
    }
    return {};
  }

  Result<Instant> moment(Day first, int minute) const {
    return instant_of(state_.settings.time_zone,
                      {plan::day_at(first, minute), minute % plan::kMinutesPerDay});
  }

  std::string name_of(const std::string& operation) const {
    const auto found = std::ranges::find(trade_.operations, operation, &trade::Operation::id);
    return found == trade_.operations.end() ? std::string() : found->name;
  }

  const trade::Trade& trade_;
  const State& state_;
  const trade::Person& person_;
  documents::CalendarFeed feed_;
};

}  // namespace

Result<documents::CalendarFeed> calendar_of(const trade::Trade& trade, const State& state,
                                            const std::string& person) {
  const auto known = person_called(state, person, "person");
  if (!known) return std::unexpected(known.error());
  if (!state.agreed->plan) {
    return refuse(Code::kRefused, "no plan is agreed yet: there is nothing to put in a calendar");
  }
  return Feed(trade, state, **known).made();
}

}  // namespace rollwright::shop

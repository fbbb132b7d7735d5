#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "book/bike_lines.hpp"
#include "shop/state.hpp"
#include "trade/service_plan.hpp"

/// Bikes in care that should come back, by their service plan and by when they were here last. Pure.
namespace rollwright::shop {

/// One time that a bike was here, as far as it counts for the next.
struct CareVisit {
  Day since = {};
  std::string about;         // as its record has it: "first service, first service of the belt"
  std::optional<double> km;  // as the bike showed
  std::optional<Day> back;   // given back; none while it is here
  bool to_be_ridden = false;
};

/// That the rider was told what the bike should come for.
struct Reminder {
  Day on = {};
  std::string said;  // by the rider; may be empty
};

/// What is on record of one bike since it is in care.
struct CarePast {
  std::vector<CareVisit> visits;     // oldest first
  std::optional<Reminder> reminded;  // last, since the last visit
};
using CareVisits = std::map<trade::OrderId, CarePast>;

/// From lines of records, by the shop's own days; whatever is neither of a visit nor a reminder is
/// passed by.
[[nodiscard]] CareVisits care_visits(const std::vector<book::LineFound>& lines,
                                     const std::string& time_zone);

/// Names of a visit between commas.
[[nodiscard]] std::vector<std::string> visits_named(const std::string& about);

/// Whether the bike is here.
[[nodiscard]] bool is_here(const CarePast& past);

struct CareDue {
  const trade::Order* order = nullptr;  // of the state
  std::vector<std::string> visits;      // of the service plan
  Day from = {};
  Day to = {};                          // earliest of the visits
  std::string because;                  // "as set at the handover", "26 weeks after the last"
  std::optional<Reminder> reminded;     // since the bike was here last
};

struct CareAsked {
  const trade::Trade& trade;
  const State& state;
  const std::vector<trade::ServiceVisit>& plan;
  const CareVisits& visits;
  Day today = {};
};

/// Days before its first day from which a visit is spoken of, and after its last until when: a rider
/// who has not come by then comes when they want.
inline constexpr int kCareAhead = 14;
inline constexpr int kCarePast = 120;

/// A rider who was told is told again after as many days.
inline constexpr int kRemindAgain = 28;
/// Whether the rider is to be told on this day.
[[nodiscard]] bool is_to_be_told(const CareDue& due, Day today);

/// Whether the distances of the plan are halved: bikes that carry cargo or children.
[[nodiscard]] bool halves_distances(const trade::Order& order, const std::set<std::string>& traits);

/// The visits that one bike should come for near today; nothing while it is here, and nothing when it
/// is not known since when it is in care and it was never here. A bike that came into the book in care
/// counts from the day on which it was ready by the record of promises.
///
/// Method:  by weeks from the last visit that did as much (one whose operations are all among those of
///          a visit that was done is done too), before the first from the handover. The first services
///          by the day that was set then. By distance: the km shown last over the days in care give the
///          km a day, and these the day; only after kLeastDaysOfKm days, and only where km were written
///          down. Whichever comes first. Halved distances as trade::when_in_words.
/// Ignores: hours ridden (nobody reads them), seasons. What a due visit covers is not named beside it.
[[nodiscard]] std::optional<CareDue> care_due_of(const CareAsked& asked, const trade::Order& order);
inline constexpr int kLeastDaysOfKm = 14;

/// A bike that is here, and for what.
struct CareHere {
  const trade::Order* order = nullptr;  // of the state
  const CareVisit* visit = nullptr;     // of the visits
};
/// By number.
[[nodiscard]] std::vector<CareHere> care_here(const State& state, const CareVisits& visits);

/// Of all bikes in care, by day.
[[nodiscard]] std::vector<CareDue> care_due(const CareAsked& asked);

/// "1988 Wendel Thorne: first service, set for Thursday 3 December. To be reached at ..."
[[nodiscard]] std::string sentence_of(const CareDue& due);

}  // namespace rollwright::shop

#include "shop/absence.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "shop/plan_desk.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {

std::vector<std::pair<Day, Day>> away_with(std::vector<std::pair<Day, Day>> away,
                                           const DaysAway& days) {
  const std::chrono::days one(1);
  std::vector<std::pair<Day, Day>> all;
  std::pair<Day, Day> told{days.first, days.last};
  for (const auto& [first, last] : away) {
    const bool apart = last < told.first - (days.is_back ? 0 * one : one) ||
                       told.second + (days.is_back ? 0 * one : one) < first;
    if (apart) {
      all.emplace_back(first, last);
    } else if (days.is_back) {
      if (first < told.first) all.emplace_back(first, told.first - one);
      if (told.second < last) all.emplace_back(told.second + one, last);
    } else {
      told = {std::min(told.first, first), std::max(told.second, last)};
    }
  }
  if (!days.is_back) all.push_back(told);
  std::ranges::sort(all);
  return all;
}

Result<PlanView> PlanDesk::tell_absence(const std::string& id, const DaysAway& days,
                                        const std::string& who) {
  constexpr std::chrono::days kMost(366);
  if (days.last < days.first) {
    return refuse(Code::kContradiction,
                  fmt::format("{} is before {}: the first day comes first", iso(days.last),
                              iso(days.first)),
                  {.field = "to", .value = iso(days.last)});
  }
  if (days.last - days.first > kMost) {
    return refuse(Code::kOutOfRange, "at most a year at a time",
                  {.field = "to", .value = iso(days.last)});
  }
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto known = person_called(**state, id, "person");
  if (!known) return std::unexpected(known.error());
  const trade::Person* person = *known;
  trade::Person changed = *person;
  changed.away = away_with(person->away, days);
  if (days.is_back && changed.away == person->away) {
    return refuse(Code::kRefused,
                  fmt::format("{} is not away between {} and {}", person->name,
                              in_words(days.first), in_words(days.last)),
                  {.field = "from", .value = iso(days.first)});
  }
  book::Change change{.who = who,
                      .what = days.is_back ? "back" : "absent",
                      .why = fmt::format("{} is {} from {} to {}", person->name,
                                         days.is_back ? "back" : "away", iso(days.first),
                                         iso(days.last)),
                      .read_at = (*state)->entry};
  change.put.people = {std::move(changed)};
  if (auto written = shop_.write(std::move(change), ""); !written) {
    return std::unexpected(written.error());
  }
  return plan();
}

}  // namespace rollwright::shop

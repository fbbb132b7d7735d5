#include "shop/care_due.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/traits.hpp"
#include "shop/bike.hpp"
#include "shop/enquiry.hpp"
#include "trade/operation.hpp"

namespace rollwright::shop {
namespace {

using std::chrono::days;
using trade::ServiceVisit;

constexpr const char* kFirstService = "first_service";  // key of build/life_statements
constexpr const char* kSetAtHandover = "as set at the handover";

/// Since when a bike is in care, and the day that was set for its first service.
struct InCare {
  std::optional<Day> since;
  bool since_ready = false;  // nothing says when it was handed over, only when it was ready
  std::optional<Day> first_service;
};

using InCares = std::map<trade::OrderId, InCare>;

/// Of every bike, in one walk.
InCares in_care(const State& state) {
  InCares found;
  for (const trade::PromiseSaid& promise : state.held.promises) {
    if (promise.ready) found[promise.order] = {.since = promise.ready, .since_ready = true,
                                               .first_service = {}};
  }
  for (const trade::OrderMoved& moved : state.held.rest.order_moves) {
    if (moved.to != trade::OrderState::kInCare) continue;
    InCare& care = found[moved.order];
    care.since = moved.day;
    care.since_ready = false;
    const auto said = moved.said.find(kFirstService);
    if (said == moved.said.end()) continue;
    if (const Result<Day> day = parse_day(said->second)) care.first_service = *day;
  }
  return found;
}

const ServiceVisit* visit_called(const std::vector<ServiceVisit>& plan, const std::string& name) {
  const auto found = std::ranges::find(plan, name, &ServiceVisit::name);
  return found == plan.end() ? nullptr : &*found;
}

bool covers(const ServiceVisit& large, const ServiceVisit& small) {
  return std::ranges::all_of(small.operations, [&large](const std::string& operation) {
    return std::ranges::count(large.operations, operation) > 0;
  });
}

/// What bikes were here for, as visits of the plan: the same few words over and over.
class WhatWasDone {
 public:
  explicit WhatWasDone(const std::vector<ServiceVisit>& plan) : plan_(plan) {}

  /// By visit of the plan: whether this did at least as much.
  const std::vector<char>& by(const std::string& about) {
    const auto [found, is_new] = known_.try_emplace(about);
    if (is_new) found->second = looked_up(about);
    return found->second;
  }

 private:
  std::vector<char> looked_up(const std::string& about) const {
    std::vector<char> done(plan_.size(), 0);
    for (const std::string& name : visits_named(about)) {
      const ServiceVisit* large = visit_called(plan_, name);
      for (std::size_t row = 0; large != nullptr && row < plan_.size(); ++row) {
        if (covers(*large, plan_[row])) done[row] = 1;
      }
    }
    return done;
  }

  const std::vector<ServiceVisit>& plan_;
  std::map<std::string, std::vector<char>, std::less<>> known_;
};

enum class DueBy { kSetAtHandover, kWeeks, kKm };

struct Window {
  Day from = {};
  Day to = {};
  DueBy by = DueBy::kWeeks;
};

void keep_sooner(std::optional<Window>& now, const Window& other) {
  if (!now || other.to < now->to) now = other;
}

/// What is known of the km that a bike goes.
struct Riding {
  double km = 0;      // shown last
  Day on = {};        // when
  double a_day = 0;
};

std::optional<Riding> riding_of(const std::vector<CareVisit>& visits, const std::optional<Day>& since) {
  if (!since) return std::nullopt;
  for (auto visit = visits.rbegin(); visit != visits.rend(); ++visit) {
    const auto ridden = (visit->since - *since).count();
    if (!visit->km || *visit->km <= 0 || ridden < kLeastDaysOfKm) continue;
    return Riding{.km = *visit->km, .on = visit->since,
                  .a_day = *visit->km / static_cast<double>(ridden)};
  }
  return std::nullopt;
}

Day day_at(const Riding& riding, double km) {
  constexpr double kTenYears = 3653;
  const double ahead = (km - riding.km) / riding.a_day;
  return riding.on + days(static_cast<int>(std::round(std::clamp(ahead, -kTenYears, kTenYears))));
}

double share_of_km(bool halved) { return halved ? 0.5 : 1; }

/// When one bike should come for the visits of the plan.
class Bike {
 public:
  Bike(const CareAsked& asked, const trade::Order& order, const CarePast& past, const InCare& care,
       WhatWasDone& done)
      : asked_(asked), order_(order), past_(past), care_(care),
        riding_(riding_of(past.visits, care.since)), last_as_good_(asked.plan.size()) {
    for (const CareVisit& visit : past.visits) {
      if (!visit.back || !visit.to_be_ridden) continue;
      const std::vector<char>& did = done.by(visit.about);
      for (std::size_t row = 0; row < did.size(); ++row) {
        if (did[row] != 0) last_as_good_[row] = &visit;
      }
    }
  }

  std::optional<CareDue> due() const {
    // Cheap first: the traits of a bike take longer than all of its days.
    std::vector<std::size_t> near;
    for (std::size_t row = 0; row < asked_.plan.size(); ++row) {
      if (near_window(row, true) || near_window(row, false)) near.push_back(row);
    }
    if (near.empty()) return std::nullopt;
    const auto traits = asked_.state.catalogue->traits.once(order_, [this] { return traits_of(); });
    const bool halved = halves_distances(order_, *traits);
    std::erase_if(near, [&](std::size_t row) {
      const std::string& trait = asked_.plan[row].trait;
      return (!trait.empty() && !traits->contains(trait)) || !near_window(row, halved);
    });
    return of(near, halved);
  }

 private:
  std::shared_ptr<const std::set<std::string>> traits_of() const {
    const auto build = build_of(asked_.trade, order_);
    if (!build) return std::make_shared<const std::set<std::string>>();
    return std::make_shared<const std::set<std::string>>(
        build::traits_of(asked_.trade, facts_of(asked_.state, **build, order_)).holding);
  }

  std::optional<Window> window(std::size_t row, bool halved) const {
    const ServiceVisit& visit = asked_.plan[row];
    const CareVisit* last = last_as_good_[row];
    if (!visit.repeats && last != nullptr) return std::nullopt;
    if (!visit.repeats && care_.first_service) {
      return Window{*care_.first_service, *care_.first_service, DueBy::kSetAtHandover};
    }
    const std::optional<Day> base = last != nullptr ? last->back : care_.since;
    if (!base) return std::nullopt;
    std::optional<Window> due;
    if (visit.weeks) {
      keep_sooner(due, {*base + days(7 * visit.weeks->low), *base + days(7 * visit.weeks->high),
                        DueBy::kWeeks});
    }
    if (visit.km && riding_) {
      const double had = last != nullptr ? last->km.value_or(0) : 0;
      const double share = share_of_km(halved);
      keep_sooner(due, {day_at(*riding_, had + share * visit.km->low),
                        day_at(*riding_, had + share * visit.km->high), DueBy::kKm});
    }
    return due;
  }

  std::string because(std::size_t row, const Window& window, bool halved) const {
    const ServiceVisit& visit = asked_.plan[row];
    const char* after = last_as_good_[row] != nullptr ? "the last"
                        : care_.since_ready           ? "it was ready"
                                                      : "the handover";
    switch (window.by) {
      case DueBy::kSetAtHandover: return kSetAtHandover;
      case DueBy::kKm:
        return fmt::format("about {:.0f} km after {}, at {:.0f} km a day",
                           share_of_km(halved) * visit.km->high, after, riding_->a_day);
      case DueBy::kWeeks: break;
    }
    if (visit.weeks->low == visit.weeks->high) {
      return fmt::format("{} weeks after {}", visit.weeks->high, after);
    }
    return fmt::format("{} to {} weeks after {}", visit.weeks->low, visit.weeks->high, after);
  }

  bool is_near(const Window& window) const {
    return window.from - days(kCareAhead) <= asked_.today &&
           asked_.today <= window.to + days(kCarePast);
  }

  std::optional<Window> near_window(std::size_t row, bool halved) const {
    std::optional<Window> due = window(row, halved);
    if (due && !is_near(*due)) due.reset();
    return due;
  }

  std::optional<CareDue> of(const std::vector<std::size_t>& near, bool halved) const {
    std::optional<CareDue> due;
    for (const std::size_t row : near) {
      const ServiceVisit& visit = asked_.plan[row];
      const Window own = *window(row, halved);
      const bool first = !due;
      if (first) {
        due = CareDue{.order = &order_, .visits = {}, .because = {}, .reminded = past_.reminded};
      }
      if (first || own.to < due->to) {
        due->from = own.from;
        due->to = own.to;
        due->because = because(row, own, halved);
      }
      const bool covered = std::ranges::any_of(near, [&](std::size_t other) {
        const ServiceVisit& larger = asked_.plan[other];
        return other != row && covers(larger, visit) && !covers(visit, larger);
      });
      if (!covered) due->visits.push_back(visit.name);
    }
    return due;
  }

  const CareAsked& asked_;
  const trade::Order& order_;
  const CarePast& past_;
  const InCare& care_;
  std::optional<Riding> riding_;
  std::vector<const CareVisit*> last_as_good_;  // by visit of the plan; null when there was none
};

std::optional<CareDue> due_of(const CareAsked& asked, const trade::Order& order,
                              const InCares& cares, WhatWasDone& done) {
  static const CarePast kNever;
  static const InCare kNotKnown;
  if (order.state != trade::OrderState::kInCare) return std::nullopt;
  const auto found = asked.visits.find(order.id);
  const CarePast& past = found == asked.visits.end() ? kNever : found->second;
  if (is_here(past)) return std::nullopt;
  const auto care = cares.find(order.id);
  return Bike(asked, order, past, care == cares.end() ? kNotKnown : care->second, done).due();
}

}  // namespace

bool halves_distances(const trade::Order& order, const std::set<std::string>& traits) {
  return order.need.child_seat || traits.contains("cargo") || traits.contains("passenger_kit");
}

CareVisits care_visits(const std::vector<book::LineFound>& lines, const std::string& time_zone) {
  CareVisits visits;
  for (const book::LineFound& found : lines) {
    const trade::BikeLine& line = found.line;
    const bool comes = line.deed == trade::Deed::kVisit;
    const bool told = line.deed == trade::Deed::kReminded;
    if (!comes && !told && line.deed != trade::Deed::kBack) continue;
    const auto local = local_time(time_zone, line.at);
    if (!local) continue;
    CarePast& past = visits[found.order];
    if (comes) {
      past.visits.push_back({.since = local->day, .about = line.about, .km = line.value, .back = {}});
      past.reminded.reset();
    } else if (told) {
      past.reminded = Reminder{.on = local->day, .said = line.note};
    } else if (!past.visits.empty()) {
      past.visits.back().back = local->day;
      past.visits.back().to_be_ridden = line.outcome == trade::Outcome::kPass;
    }
  }
  return visits;
}

bool is_here(const CarePast& past) { return !past.visits.empty() && !past.visits.back().back; }

bool is_to_be_told(const CareDue& due, Day today) {
  return !due.reminded || (today - due.reminded->on).count() >= kRemindAgain;
}

std::vector<std::string> visits_named(const std::string& about) {
  std::vector<std::string> names;
  for (const std::string& name : split(about, ',')) names.emplace_back(trim(name));
  return names;
}

std::optional<CareDue> care_due_of(const CareAsked& asked, const trade::Order& order) {
  WhatWasDone done(asked.plan);
  return due_of(asked, order, in_care(asked.state), done);
}

std::vector<CareHere> care_here(const State& state, const CareVisits& visits) {
  std::vector<CareHere> here;
  for (const auto& [id, past] : visits) {
    const auto order = state.orders.find(id);
    if (order == state.orders.end() || !is_here(past)) continue;
    here.push_back({order->second, &past.visits.back()});
  }
  return here;
}

std::vector<CareDue> care_due(const CareAsked& asked) {
  std::vector<CareDue> all;
  const InCares cares = in_care(asked.state);
  WhatWasDone done(asked.plan);
  for (const trade::Order& order : asked.state.held.orders) {
    if (auto due = due_of(asked, order, cares, done)) all.push_back(std::move(*due));
  }
  std::ranges::stable_sort(all, {}, &CareDue::to);
  return all;
}

std::string sentence_of(const CareDue& due) {
  const trade::Rider& rider = due.order->rider;
  const std::string when =
      due.because == kSetAtHandover ? "set for " + in_words(due.to)
      : due.from == due.to          ? fmt::format("due {}, {}", in_words(due.to), due.because)
                                    : fmt::format("due from {} to {}, {}", in_words(due.from),
                                                  in_words(due.to), due.because);
  return fmt::format("{} {}: {}, {}. {}", due.order->id.text, rider.name, join(due.visits, ", "),
                     when, how_to_reach(rider));
}

}  // namespace rollwright::shop

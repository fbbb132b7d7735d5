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
  std::optional<Day> first_service;
};

using InCares = std::map<trade::OrderId, InCare>;

/// Of every bike, in one walk.
InCares in_care(const State& state) {
  InCares found;
  for (const trade::OrderMoved& moved : state.held.rest.order_moves) {
    if (moved.to != trade::OrderState::kInCare) continue;
    InCare& care = found[moved.order];
    care.since = moved.day;
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

/// The last visit that did at least as much as this one; null when there was none.
const CareVisit* last_as_good(const std::vector<ServiceVisit>& plan, const ServiceVisit& wanted,
                              const std::vector<CareVisit>& visits) {
  for (auto visit = visits.rbegin(); visit != visits.rend(); ++visit) {
    if (!visit->back || !visit->to_be_ridden) continue;
    for (const std::string& name : visits_named(visit->about)) {
      const ServiceVisit* done = visit_called(plan, name);
      if (done != nullptr && covers(*done, wanted)) return &*visit;
    }
  }
  return nullptr;
}

struct Window {
  Day from = {};
  Day to = {};
  std::string because;
};

void keep_sooner(std::optional<Window>& now, Window other) {
  if (!now || other.to < now->to) now = std::move(other);
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

/// When one bike should come for one visit.
class Bike {
 public:
  Bike(const CareAsked& asked, const trade::Order& order, const std::vector<CareVisit>& visits,
       const InCare& care)
      : asked_(asked), order_(order), visits_(visits), care_(care),
        riding_(riding_of(visits, care.since)) {}

  std::optional<Window> window(const ServiceVisit& visit, bool halved) const {
    const CareVisit* last = last_as_good(asked_.plan, visit, visits_);
    if (!visit.repeats && last != nullptr) return std::nullopt;
    if (!visit.repeats && care_.first_service) {
      return Window{*care_.first_service, *care_.first_service, kSetAtHandover};
    }
    const std::optional<Day> base = last != nullptr ? last->back : care_.since;
    if (!base) return std::nullopt;
    const char* after = last != nullptr ? "the last" : "the handover";
    std::optional<Window> due;
    if (visit.weeks) {
      keep_sooner(due, {*base + days(7 * visit.weeks->low), *base + days(7 * visit.weeks->high),
                        visit.weeks->low == visit.weeks->high
                            ? fmt::format("{} weeks after {}", visit.weeks->high, after)
                            : fmt::format("{} to {} weeks after {}", visit.weeks->low,
                                          visit.weeks->high, after)});
    }
    if (visit.km && riding_) {
      const double had = last != nullptr ? last->km.value_or(0) : 0;
      const double share = halved ? 0.5 : 1;
      keep_sooner(due, {day_at(*riding_, had + share * visit.km->low),
                        day_at(*riding_, had + share * visit.km->high),
                        fmt::format("about {:.0f} km after {}, at {:.0f} km a day",
                                    share * visit.km->high, after, riding_->a_day)});
    }
    return due;
  }

  bool is_near(const Window& window) const {
    return window.from - days(kCareAhead) <= asked_.today &&
           asked_.today <= window.to + days(kCarePast);
  }

  std::optional<CareDue> due() const {
    // Cheap first: the traits of a bike take longer than all of its days.
    std::vector<const ServiceVisit*> near;
    for (const ServiceVisit& visit : asked_.plan) {
      if (near_window(visit, true) || near_window(visit, false)) near.push_back(&visit);
    }
    const auto build = near.empty() ? nullptr : build_of(asked_.trade, order_).value_or(nullptr);
    if (build == nullptr) return std::nullopt;
    const std::set<std::string> traits =
        build::traits_of(asked_.trade, facts_of(asked_.state, *build, order_)).holding;
    const bool halved = halves_distances(order_, traits);
    std::erase_if(near, [&](const ServiceVisit* visit) {
      return (!visit->trait.empty() && !traits.contains(visit->trait)) ||
             !near_window(*visit, halved);
    });
    return of(near, halved);
  }

 private:
  std::optional<Window> near_window(const ServiceVisit& visit, bool halved) const {
    std::optional<Window> due = window(visit, halved);
    if (due && !is_near(*due)) due.reset();
    return due;
  }

  std::optional<CareDue> of(const std::vector<const ServiceVisit*>& near, bool halved) const {
    std::optional<Window> soonest;
    CareDue due{.order = &order_};
    for (const ServiceVisit* visit : near) {
      keep_sooner(soonest, *window(*visit, halved));
      const bool covered = std::ranges::any_of(near, [&](const ServiceVisit* other) {
        return other != visit && covers(*other, *visit) && !covers(*visit, *other);
      });
      if (!covered) due.visits.push_back(visit->name);
    }
    if (!soonest) return std::nullopt;
    due.from = soonest->from;
    due.to = soonest->to;
    due.because = soonest->because;
    return due;
  }

  const CareAsked& asked_;
  const trade::Order& order_;
  const std::vector<CareVisit>& visits_;
  const InCare& care_;
  std::optional<Riding> riding_;
};

std::optional<CareDue> due_of(const CareAsked& asked, const trade::Order& order,
                              const InCares& cares) {
  static const std::vector<CareVisit> kNever;
  static const InCare kNotKnown;
  if (order.state != trade::OrderState::kInCare) return std::nullopt;
  const auto found = asked.visits.find(order.id);
  const std::vector<CareVisit>& visits = found == asked.visits.end() ? kNever : found->second;
  if (is_here(visits)) return std::nullopt;
  const auto care = cares.find(order.id);
  return Bike(asked, order, visits, care == cares.end() ? kNotKnown : care->second).due();
}

}  // namespace

bool halves_distances(const trade::Order& order, const std::set<std::string>& traits) {
  return order.need.child_seat || traits.contains("cargo") || traits.contains("passenger_kit");
}

CareVisits care_visits(const std::vector<book::LineFound>& lines, const std::string& time_zone) {
  CareVisits visits;
  for (const book::LineFound& found : lines) {
    const bool comes = found.line.deed == trade::Deed::kVisit;
    if (!comes && found.line.deed != trade::Deed::kBack) continue;
    const auto local = local_time(time_zone, found.line.at);
    if (!local) continue;
    std::vector<CareVisit>& of = visits[found.order];
    if (comes) {
      of.push_back({.since = local->day, .about = found.line.about, .km = found.line.value,
                    .back = {}});
    } else if (!of.empty()) {
      of.back().back = local->day;
      of.back().to_be_ridden = found.line.outcome == trade::Outcome::kPass;
    }
  }
  return visits;
}

bool is_here(const std::vector<CareVisit>& visits) {
  return !visits.empty() && !visits.back().back;
}

std::vector<std::string> visits_named(const std::string& about) {
  std::vector<std::string> names;
  for (const std::string& name : split(about, ',')) names.emplace_back(trim(name));
  return names;
}

std::optional<CareDue> care_due_of(const CareAsked& asked, const trade::Order& order) {
  return due_of(asked, order, in_care(asked.state));
}

std::vector<CareDue> care_due(const CareAsked& asked) {
  std::vector<CareDue> all;
  const InCares cares = in_care(asked.state);
  for (const trade::Order& order : asked.state.held.orders) {
    if (auto due = due_of(asked, order, cares)) all.push_back(std::move(*due));
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

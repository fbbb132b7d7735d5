#include "shop/state.hpp"

#include <algorithm>
#include <tuple>

#include <date/tz.h>
#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::shop {

namespace {

bool by_id(const trade::Part& a, const trade::Part& b) { return a.id < b.id; }

/// The sorted list with this part in its place.
void put_part(std::vector<trade::Part>& parts, const trade::Part& part) {
  const auto place = std::lower_bound(parts.begin(), parts.end(), part, by_id);
  if (place != parts.end() && place->id == part.id) {
    *place = part;
  } else {
    parts.insert(place, part);
  }
}

/// Keys by the given member, values the things themselves.
template <class Map, class List, class Key>
void index(Map& map, const List& list, Key key) {
  for (const auto& thing : list) map[thing.*key] = &thing;
}

/// What has a place of its own in the state is left out.
trade::ShopFiles rest_of(trade::ShopFiles held) {
  held.parts.clear();
  held.orders.clear();
  held.plan_settings.clear();
  held.agreed_plans.clear();
  held.order_plans.clear();
  return held;
}

bool says_of_plan(const trade::ShopFiles& put) {
  return !put.plan_settings.empty() || !put.agreed_plans.empty() || !put.order_plans.empty();
}

/// Puts what a change says of the plan over what was agreed before.
void put_agreed(Agreed& agreed, const trade::ShopFiles& put) {
  if (!put.plan_settings.empty()) agreed.settings = put.plan_settings.front();
  if (!put.agreed_plans.empty()) agreed.plan = put.agreed_plans.front();
  for (const trade::OrderPlan& plan : put.order_plans) {
    if (plan.work.empty()) {
      agreed.work.erase(plan.order);
    } else {
      agreed.work[plan.order] = plan;
    }
  }
}

std::vector<trade::Part> sorted(std::vector<trade::Part> parts) {
  std::sort(parts.begin(), parts.end(), by_id);
  return parts;
}

}  // namespace

Catalogue::Catalogue(std::vector<trade::Part> list) : parts(sorted(std::move(list))) {
  index(by_id, parts, &trade::Part::id);
}

namespace {

Orders::List sorted(std::vector<trade::Order> orders) {
  Orders::List list;
  for (trade::Order& order : orders) {
    list.push_back(std::make_shared<const trade::Order>(std::move(order)));
  }
  std::sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a->id < b->id; });
  return list;
}

}  // namespace

Orders::Kept::Kept(List sorted) : list(std::move(sorted)) {
  for (const auto& order : list) by_id.emplace_hint(by_id.end(), order->id, order.get());
}

Orders::Orders(std::vector<trade::Order> list) : Orders(sorted(std::move(list))) {}

Orders Orders::with(const trade::Order& order) const {
  List changed = kept_->list;
  auto kept = std::make_shared<const trade::Order>(order);
  const auto place =
      std::lower_bound(changed.begin(), changed.end(), order.id,
                       [](const auto& held, const trade::OrderId& id) { return held->id < id; });
  if (place != changed.end() && (*place)->id == order.id) {
    *place = std::move(kept);
  } else {
    changed.insert(place, std::move(kept));
  }
  return Orders(std::move(changed));
}

namespace {

/// What older hands took says less of today's: only so many of an operation count.
constexpr std::size_t kTimesOfOne = 200;

std::map<std::string, std::vector<double>> newest_minutes(const std::vector<trade::TimeTaken>& times) {
  std::map<std::string, std::vector<const trade::TimeTaken*>> by_operation;
  for (const trade::TimeTaken& time : times) by_operation[time.operation].push_back(&time);
  std::map<std::string, std::vector<double>> minutes;
  for (auto& [operation, taken] : by_operation) {
    std::ranges::stable_sort(taken, {}, &trade::TimeTaken::day);
    const std::size_t left_out = taken.size() - std::min(taken.size(), kTimesOfOne);
    for (std::size_t i = left_out; i < taken.size(); ++i) {
      minutes[operation].push_back(taken[i]->minutes);
    }
  }
  return minutes;
}

}  // namespace

namespace {

/// A time of the same work, person and day takes the place of the one before.
std::vector<trade::TimeTaken> merged(std::vector<trade::TimeTaken> taken,
                                     const std::vector<trade::TimeTaken>& more) {
  const auto key = [](const trade::TimeTaken& time) {
    return std::tie(time.order, time.operation, time.person, time.day);
  };
  for (const trade::TimeTaken& time : more) {
    const auto held = std::ranges::find_if(
        taken, [&](const trade::TimeTaken& each) { return key(each) == key(time); });
    if (held == taken.end()) {
      taken.push_back(time);
    } else {
      *held = time;
    }
  }
  return taken;
}

}  // namespace

AllElse::AllElse(trade::ShopFiles held, trade::GoodsTerms goods_terms)
    : terms(std::move(goods_terms)), files(rest_of(std::move(held))) {
  index(stock, files.stock, &trade::Stock::part);
  index(suppliers, files.suppliers, &trade::Supplier::id);
}

AllElse::AllElse(trade::ShopFiles held, const AllElse& before)
    : AllElse(std::move(held), before.terms) {
  const std::lock_guard lock(before.learning_);
  learned_ = before.learned_;
  learned_for_ = before.learned_for_;
}

std::optional<RouteLooked> AllElse::route(const std::string& name) const {
  const auto gpx = files.routes.find(name);
  if (gpx == files.routes.end()) return std::nullopt;
  const std::lock_guard lock(mutex_);
  const auto [known, is_new] = routes_.try_emplace(name);
  if (is_new) known->second = look_at_route(gpx->second, name);
  return known->second;
}

std::optional<trade::RideFacts> AllElse::ride(const std::string& name) const {
  const auto looked = route(name);
  return looked ? looked->ride : std::nullopt;
}

AllElse::Learned AllElse::learned_once(const GroupOf& group_of,
                                       const std::function<Learned()>& learn) const {
  const std::lock_guard lock(learning_);
  if (!learned_ || learned_for_ != group_of) {
    learned_ = learn();
    learned_for_ = group_of;
  }
  return learned_;
}

Times::Times(std::vector<trade::TimeTaken> list)
    : taken(std::move(list)), minutes(newest_minutes(taken)) {}

State::State(std::int64_t at_entry, std::shared_ptr<const Catalogue> with_catalogue,
             Orders with_orders, std::shared_ptr<const AllElse> with_all_else,
             std::shared_ptr<const Agreed> with_agreed, std::shared_ptr<const Times> with_times)
    : entry(at_entry),
      catalogue(std::move(with_catalogue)),
      in_order(std::move(with_orders)),
      all_else(std::move(with_all_else)),
      agreed(std::move(with_agreed)),
      times(std::move(with_times)),
      held{.parts = catalogue->parts, .orders = in_order, .rest = all_else->files},
      settings(held.settings.empty() ? trade::ShopSettings{} : held.settings.front()),
      parts(catalogue->by_id),
      stock(all_else->stock),
      suppliers(all_else->suppliers),
      orders(in_order.by_id()) {}

const trade::Part* State::part(const trade::PartId& id) const {
  const auto found = parts.find(id);
  return found == parts.end() ? nullptr : found->second;
}

std::string State::name_of(const trade::PartId& id) const {
  const trade::Part* known = part(id);
  return known == nullptr ? id.text : known->name;
}

std::string State::name_of(const trade::PersonId& id) const {
  const auto known = std::ranges::find(held.people, id, &trade::Person::id);
  return known == held.people.end() ? id.text : known->name;
}

std::shared_ptr<const State> make_state(trade::ShopFiles held, std::int64_t entry,
                                        trade::GoodsTerms terms) {
  auto catalogue = std::make_shared<const Catalogue>(std::move(held.parts));
  Orders orders(std::move(held.orders));
  auto agreed = std::make_shared<Agreed>();
  put_agreed(*agreed, held);
  auto times = std::make_shared<const Times>(std::move(held.times));
  held.times.clear();
  auto all_else = std::make_shared<const AllElse>(std::move(held), std::move(terms));
  return std::make_shared<const State>(entry, std::move(catalogue), std::move(orders),
                                       std::move(all_else), std::move(agreed), std::move(times));
}

std::shared_ptr<const State> next_state(const State& before,
                                        const trade::ShopFiles& put, std::int64_t entry) {
  std::shared_ptr<const Catalogue> catalogue = before.catalogue;
  if (!put.parts.empty()) {
    std::vector<trade::Part> list = catalogue->parts;
    for (const trade::Part& part : put.parts) put_part(list, part);
    catalogue = std::make_shared<const Catalogue>(std::move(list));
  }
  Orders in_order = before.in_order;
  for (const trade::Order& order : put.orders) in_order = in_order.with(order);
  std::shared_ptr<const Agreed> agreed = before.agreed;
  if (says_of_plan(put)) {
    auto next = std::make_shared<Agreed>(*agreed);
    put_agreed(*next, put);
    agreed = std::move(next);
  }
  std::shared_ptr<const Times> times = before.times;
  if (!put.times.empty()) times = std::make_shared<const Times>(merged(times->taken, put.times));
  return std::make_shared<const State>(entry, std::move(catalogue), std::move(in_order),
                                       before.all_else, std::move(agreed), std::move(times));
}

std::shared_ptr<const State> state_supposing(const State& before, const Supposed& supposed) {
  trade::ShopFiles rest = before.all_else->files;
  rest.stock = supposed.stock;
  rest.purchases = supposed.purchases;
  Orders in_order = before.in_order;
  for (const trade::Order& order : supposed.orders) in_order = in_order.with(order);
  return std::make_shared<const State>(
      before.entry, before.catalogue, std::move(in_order),
      std::make_shared<const AllElse>(std::move(rest), *before.all_else), before.agreed,
      before.times);
}

namespace {

/// What `with` makes of the time zone.
template <class With>
auto in_zone(const std::string& time_zone, With with) -> Result<decltype(with(date::locate_zone("")))> {
  try {
    return with(date::locate_zone(time_zone));
  } catch (const std::runtime_error&) {
    return refuse(Code::kBadInput,
                  "this time zone is not known here; write it as in Europe/Berlin",
                  {.field = "time_zone", .value = time_zone});
  }
}

}  // namespace

Result<LocalTime> local_time(const std::string& time_zone, Instant instant) {
  return in_zone(time_zone, [instant](const date::time_zone* zone) {
    const auto local = zone->to_local(instant);
    const auto day = std::chrono::floor<std::chrono::days>(local);
    const auto minute = std::chrono::floor<std::chrono::minutes>(local - day);
    return LocalTime{Day{day.time_since_epoch()}, static_cast<int>(minute.count())};
  });
}

Result<Instant> instant_of(const std::string& time_zone, const LocalTime& time) {
  return in_zone(time_zone, [&time](const date::time_zone* zone) {
    const date::local_seconds local{time.day.time_since_epoch() +
                                    std::chrono::minutes(time.minute)};
    return std::chrono::time_point_cast<Instant::duration>(
        zone->to_sys(local, date::choose::earliest));
  });
}

Result<const trade::Person*> person_called(const State& state, const std::string& called,
                                           const char* field) {
  std::vector<std::string> known;
  for (const trade::Person& person : state.held.people) {
    if (person.id.text == called || lowered(person.name) == lowered(called)) return &person;
    known.push_back(person.id.text);
  }
  return refuse(Code::kNotFound, "nobody of the shop is called so" + trade::meant(called, known),
                {.field = field, .value = called});
}

std::string local_text(Day first, int minute) {
  const Day day = first + std::chrono::days(minute / 1440);
  return fmt::format("{}T{:02}:{:02}", iso(day), minute % 1440 / 60, minute % 60);
}

}  // namespace rollwright::shop

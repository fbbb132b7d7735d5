#include "simulated_knowledge.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/working_days.hpp"
#include "plan/calendar.hpp"
#include "supply/buying.hpp"

namespace rollwright::bench {
namespace {

using std::chrono::days;

/// Said once by the owner and never measured: the middle of a year.
constexpr double kWalkIns = 0.30;
constexpr double kIll = 0.03;
constexpr int kEvening = 21 * 60;
constexpr double kNormalOf90 = 1.2816;

plan::WeeklyHours week_of(const trade::Person& person) {
  plan::WeeklyHours week;
  for (std::size_t day = 0; day < 7; ++day) {
    for (const auto& [from, to] : person.week[day]) week.monday_first[day].push_back({from, to});
  }
  return week;
}

/// A thing that the engines refuse here is a mistake of this program.
template <typename T>
T known_good(Result<T> result) {
  if (result) return std::move(*result);
  fmt::print(stderr, "simulated shop: {}\n", result.error().full());
  std::exit(3);
}

double chance_within(const trade::Spread& spread, int working_days) {
  const double above = working_days - spread.least;
  if (above <= 0) return 0;
  if (spread.sigma <= 0) return above >= spread.median ? 1 : 0;
  return 0.5 * std::erfc(-std::log(above / spread.median) / spread.sigma / std::sqrt(2.0));
}

}  // namespace

std::string Line::name() const { return fmt::format("{} {} {}", order, part.text, attempt); }

Knowledge::Knowledge(const Catalogue& catalogue, const Luck& luck)
    : catalogue_(catalogue), luck_(luck) {}

void Knowledge::learn(const std::vector<trade::Receipt>& receipts) {
  lead_times_.emplace(catalogue_.trade.lead_times, catalogue_.group_of, receipts,
                      catalogue_.files.offers);
  fresh_.clear();
  left_.clear();
}

Knowledge::Road Knowledge::road_of(const trade::Offer& offer) const {
  return {offer.supplier.text, catalogue_.group_of.at(offer.part), offer.availability};
}

Line Knowledge::line_for(const WantedPart& wanted, int bike, const std::string& order) {
  Line line{.bike = bike, .order = order, .part = wanted.part, .quantity = wanted.quantity,
            .may_follow = wanted.may_follow};
  int soonest = 0;
  for (const trade::Offer* offer : catalogue_.offers.at(wanted.part)) {
    auto [found, is_new] = fresh_.try_emplace(road_of(*offer));
    if (is_new) found->second = {lead_times_->days(*offer, 0.9), lead_times_->of(*offer)};
    if (line.offer != nullptr && found->second.first >= soonest) continue;
    line.offer = offer;
    soonest = found->second.first;
    line.foreseen = found->second.second;
  }
  line.cost = supply::unit_cost(*line.offer, wanted.quantity) * wanted.quantity;
  return line;
}

const trade::Spread& Knowledge::left(const Line& line, Day today) {
  if (left_on_ != today) left_.clear();
  left_on_ = today;
  auto [found, is_new] = left_.try_emplace({road_of(*line.offer), *line.placed, line.confirmed});
  if (is_new) {
    const trade::PurchaseLine purchase{
        .id = line.name(), .supplier = line.offer->supplier, .part = line.part,
        .quantity = line.quantity, .order = trade::OrderId{line.order}, .placed = *line.placed,
        .confirmed = line.confirmed};
    found->second = lead_times_->left_as_spread(purchase, today, luck_.closed());
  }
  return found->second;
}

namespace {

/// When a person is known today to be away, and when the shop is closed.
std::vector<plan::Absence> away_from(const Luck& luck, int person, Day today) {
  std::vector<plan::Absence> away;
  for (const auto& [from, to] : luck.known_away(person, today)) {
    away.push_back({.first = from, .last = to});
  }
  for (const Day closed : luck.closed()) away.push_back({.first = closed, .last = closed});
  return away;
}

}  // namespace

plan::PlanInput Knowledge::workshop(Day today) const {
  plan::PlanInput input{.first_day = today, .days = kPromiseHorizon, .now = kEvening};
  input.skills = skill_names();
  int index = 0;
  for (const trade::Person& person : catalogue_.files.people) {
    const auto away = away_from(luck_, index++, today);
    input.people.push_back(
        {.id = person.id.text, .skills = skills_of(person),
         .hours = known_good(plan::working_windows(week_of(person), away, {today, input.days})),
         .productive = person.productive});
  }
  for (const trade::Area& area : catalogue_.files.areas) {
    input.areas.push_back({.id = area.id, .stands = area.stands});
  }
  input.delivery_days = plan::carrier_days({today, input.days}, luck_.closed());
  input.disturbance = {.sick = kIll, .walk_in_least = kWalkIns * 0.5,
                       .walk_in_most = kWalkIns * 1.5};
  return input;
}

void Knowledge::add_bike(plan::PlanInput& input, const Bike& bike) const {
  const int order = static_cast<int>(input.orders.size());
  const int first = static_cast<int>(input.tasks.size());
  input.orders.push_back({.id = bike.id, .due = bike.due});
  for (std::size_t place = 0; place < bike.jobs.size(); ++place) {
    const Job& job = bike.jobs[place];
    const trade::Operation& operation = *job.operation;
    const DesignStep& step = bike.design->steps[place];
    const double middle = (operation.minutes_low + operation.minutes_high) / 2;
    const double open = job.ended >= 0 ? 1 : job.expected / middle;
    const auto area = std::ranges::find(input.areas, operation.area, &plan::Area::id);
    plan::Task task{.id = bike.id + " " + operation.id, .order = order,
                    .area = static_cast<int>(area - input.areas.begin())};
    task.on_bike = operation.needs_bike_stand;
    task.minutes = middle * open;
    task.spread = {.least = 0,
                   .median = std::sqrt(operation.minutes_low * operation.minutes_high) * open,
                   .sigma = std::log(operation.minutes_high / operation.minutes_low) / 2 /
                            kNormalOf90,
                   .basis = "range of the operation"};
    task.any_of = step.skill;
    task.pause = operation.may_pause_overnight ? plan::Pause::kAnywhere : plan::Pause::kWithinDay;
    task.unattended = static_cast<int>(operation.unattended_minutes);
    task.done = job.ended >= 0;
    task.done_by = task.done ? job.doer : -1;
    for (const int before : step.after) task.after.push_back(first + before);
    for (const int checked : step.not_by_doer_of) task.not_by_doer_of.push_back(first + checked);
    input.tasks.push_back(std::move(task));
  }
}

/// `first_task` is that of the bike which waits for the line.
void Knowledge::add_line(plan::PlanInput& input, const Line& line, int first_task,
                         const Bike& bike) {
  const Day today = input.first_day;
  const int arrival = static_cast<int>(input.arrivals.size());
  plan::Arrival coming{.what = line.name(), .known = {}};
  if (line.placed) {
    coming.working_days = left(line, today);
  } else {
    coming.working_days = line.foreseen;
    coming.working_days.least +=
        std::max(0, working_days_between(today, line.buy_on, luck_.closed()));
  }
  input.arrivals.push_back(std::move(coming));
  for (std::size_t place = 0; place < bike.design->steps.size(); ++place) {
    const DesignStep& step = bike.design->steps[place];
    if (!(line.may_follow ? step.asks_for_all : step.asks_for_kit)) continue;
    input.tasks[at(first_task) + place].parts.push_back(arrival);
  }
}

Said Knowledge::promise(const Bench& bench, const std::vector<Line>& lines, int bike, Day today) {
  plan::PlanInput input = workshop(today);
  std::vector<int> first_task;
  int asked = 0;
  for (std::size_t place = 0; place < bench.bikes().size(); ++place) {
    const bool open = bench.bikes()[place].open > 0;
    first_task.push_back(open ? static_cast<int>(input.tasks.size()) : -1);
    if (static_cast<int>(place) == bike) asked = static_cast<int>(input.orders.size());
    if (open) add_bike(input, bench.bikes()[place]);
  }
  for (const Line& line : lines) {
    if (line.here || first_task[at(line.bike)] < 0) continue;
    add_line(input, line, first_task[at(line.bike)], bench.bikes()[at(line.bike)]);
  }
  Said said{.promise = known_good(plan::promise(input, asked, {.draws = draws_})), .hold = {}};
  if (!said.promise.held_by.empty()) {
    said.hold = plan::in_words(input, said.promise.held_by.front().hold);
  }
  return said;
}

Day Knowledge::by_medians(const std::vector<Line>& lines, const Bike& bike, int place) const {
  Day kit = bike.agreed;
  for (const Line& line : lines) {
    if (line.bike != place || line.may_follow) continue;
    const int middle = static_cast<int>(std::ceil(trade::quantile(line.foreseen, 0.5)));
    kit = std::max(kit, add_working_days(bike.agreed, middle, luck_.closed()));
  }
  return add_working_days(kit, building_days(bike), luck_.closed());
}

int Knowledge::building_days(const Bike& bike) {
  double minutes = 0;
  for (const Job& job : bike.jobs) minutes += job.expected;
  return 2 + static_cast<int>(std::ceil(minutes / 240));
}

double Knowledge::kit_place(const std::vector<Line>& lines, int bike, Day agreed, Day day) const {
  const int gone = working_days_between(agreed, day, luck_.closed());
  double all = 1;
  for (const Line& line : lines) {
    if (line.bike == bike && !line.may_follow) all *= chance_within(line.foreseen, gone);
  }
  return all;
}

Day Knowledge::kit_middle(const std::vector<Line>& lines, int bike, Day agreed) const {
  Day day = agreed;
  while (kit_place(lines, bike, agreed, day) < 0.5 && day < agreed + days(kPromiseHorizon)) {
    day = add_working_days(day, 1, luck_.closed());
  }
  return day;
}

std::vector<Shift> Knowledge::usual_shifts(Day day, Day today) const {
  std::vector<Shift> shifts;
  int index = 0;
  for (const trade::Person& person : catalogue_.files.people) {
    const auto away = away_from(luck_, index++, today);
    shifts.push_back({.windows = known_good(plan::working_windows(week_of(person), away, {day, 1})),
                      .pace = person.productive * (1 - kWalkIns)});
  }
  return shifts;
}

}  // namespace rollwright::bench

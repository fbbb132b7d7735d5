#include "simulated_knowledge.hpp"

#include <algorithm>
#include <chrono>
#include <cstdlib>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/working_days.hpp"
#include "plan/calendar.hpp"
#include "plan/learned_minutes.hpp"
#include "plan/shop_plan.hpp"
#include "shop/supply_side.hpp"
#include "shop/workshop_pieces.hpp"
#include "supply/buying.hpp"
#include "trade/skills.hpp"

namespace rollwright::bench {
namespace {

using std::chrono::days;

constexpr int kEvening = 21 * 60;

/// Said once by the owner and never measured: the middle of a year.
const trade::ShopSettings kSettings = {.walk_in_share = 0.30, .absence_chance = 0.03};

/// A thing that the engines refuse here is a mistake of this program.
template <typename T>
T known_good(Result<T> result) {
  if (result) return std::move(*result);
  fmt::print(stderr, "simulated shop: {}\n", result.error().full());
  std::exit(3);
}

}  // namespace

std::string Line::name() const { return fmt::format("{} {} {}", order, part.text, attempt); }

Knowledge::Knowledge(const Catalogue& catalogue, const Luck& luck)
    : catalogue_(catalogue), luck_(luck) {}

void Knowledge::learn(const std::vector<trade::Receipt>& receipts, const std::vector<Line>& lines,
                      Day today) {
  std::vector<supply::StillOpen> open;
  for (const Line& line : lines) {
    if (!line.placed || line.here) continue;
    open.push_back({line.offer->supplier, line.part, *line.placed, today});
  }
  lead_times_.emplace(catalogue_.trade.lead_times, catalogue_.group_of, receipts,
                      catalogue_.files.offers, supply::Roads{}, open);
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
    if (is_new) {
      auto odds = std::make_shared<const supply::DayOdds>(lead_times_->odds(*offer));
      found->second = {supply::days_for(*odds, 0.9), odds};
    }
    if (line.offer != nullptr && found->second.first >= soonest) continue;
    line.offer = offer;
    soonest = found->second.first;
    line.foreseen = found->second.second;
  }
  line.cost = supply::unit_cost(*line.offer, wanted.quantity) * wanted.quantity;
  return line;
}

Knowledge::Table Knowledge::here_from(const Line& line, Day today) {
  if (line.placed) return until_here(line, today);
  return {line.foreseen, &line.foreseen->by};
}

/// Chance of being here within so many working days from today.
Knowledge::Table Knowledge::until_here(const Line& line, Day today) {
  if (!line.placed) {
    const int wait = std::max(0, working_days_between(today, line.buy_on, luck_.closed()));
    if (wait == 0) return {line.foreseen, &line.foreseen->by};
    return std::make_shared<const std::vector<double>>(supply::moved(*line.foreseen, wait).by);
  }
  if (left_on_ != today) left_.clear();
  left_on_ = today;
  auto [found, is_new] = left_.try_emplace({road_of(*line.offer), *line.placed, line.confirmed});
  if (is_new) {
    const trade::PurchaseLine purchase{
        .id = line.name(), .supplier = line.offer->supplier, .part = line.part,
        .quantity = line.quantity, .order = trade::OrderId{line.order}, .placed = *line.placed,
        .confirmed = line.confirmed};
    found->second = std::make_shared<const std::vector<double>>(
        lead_times_->left(purchase, today, luck_.closed()).by);
  }
  return found->second;
}

/// As the shop knows today: holidays told, and who is ill.
trade::Person Knowledge::person_on(std::size_t index, Day today) const {
  trade::Person person = catalogue_.files.people[index];
  const int who = static_cast<int>(index);
  person.away = luck_.known_away(who, today);
  if (luck_.is_ill(who, today)) person.away.emplace_back(today, today);
  return person;
}

plan::PlanInput Knowledge::workshop(Day today) const {
  plan::PlanInput input{.first_day = today, .days = kPromiseHorizon, };
  input.skills = trade::all_skills();
  for (std::size_t index = 0; index < catalogue_.files.people.size(); ++index) {
    input.people.push_back(known_good(
        shop::person_for(person_on(index, today), luck_.closed(), {today, input.days})));
    input.people.back().out = luck_.is_ill(static_cast<int>(index), today);
  }
  for (const trade::Area& area : catalogue_.files.areas) {
    input.areas.push_back({.id = area.id, .stands = area.stands});
  }
  input.delivery_days = plan::carrier_days({today, input.days}, luck_.closed());
  input.disturbance = shop::disturbance_for(kSettings);
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
    const auto area = std::ranges::find(input.areas, operation.area, &plan::Area::id);
    plan::Task task = shop::task_for(
        operation, plan::learned_minutes({operation.minutes_low, operation.minutes_high}, {}));
    task.id = bike.id + " " + operation.id;
    task.order = order;
    task.area = static_cast<int>(area - input.areas.begin());
    task.done = job.ended >= 0;
    task.done_by = task.done ? job.doer : -1;
    if (!task.done) {
      const double open = job.expected / task.minutes;
      task.minutes *= open;
      task.spread.median *= open;
    }
    for (const int before : step.after) task.after.push_back(first + before);
    for (const int checked : step.not_by_doer_of) task.not_by_doer_of.push_back(first + checked);
    input.tasks.push_back(std::move(task));
  }
}

/// `first_task` is that of the bike which waits for the line.
void Knowledge::add_line(plan::PlanInput& input, const Line& line, int first_task,
                         const Bike& bike) {
  const int arrival = static_cast<int>(input.arrivals.size());
  input.arrivals.push_back({.what = line.name(),
                            .known = {},
                            .working_days = {},
                            .by = until_here(line, input.first_day),
                            .together = line.offer->supplier.text,
                            .correlation = lead_times_->late_together(line.offer->supplier)});
  for (std::size_t place = 0; place < bike.design->steps.size(); ++place) {
    const DesignStep& step = bike.design->steps[place];
    if (!(line.may_follow ? step.asks_for_all : step.asks_for_kit)) continue;
    input.tasks[at(first_task) + place].parts.push_back(arrival);
  }
}

void Knowledge::note_promise(int bike, const Said& said, Day today, Day told) {
  promised_[bike] = {.said = today, .curve = said.simulated.curve, .ready = {}};
  const auto after = [&](Day day) { return static_cast<int>((day - today).count()); };
  seen_.emplace_back(today, plan::OrderSeen{.work = said.work, .told_after = after(told)});
  if (said.promise.day_50) seen_.back().second.kit_after = after(*said.promise.day_50);
}

void Knowledge::note_ready(int bike, Day ready) {
  const auto found = promised_.find(bike);
  if (found != promised_.end()) found->second.ready = ready;
}

plan::OddsKept Knowledge::odds_kept(Day today) const {
  std::vector<plan::PlaceKept> places;
  if (!means_.record) return plan::OddsKept();
  for (const auto& [bike, promised] : promised_) {
    const Day day = promised.ready.value_or(today + days(1));
    places.push_back({.odds = plan::said_before(promised.curve, day),
                      .still_open = !promised.ready,
                      .weight = plan::weight_of_age(promised.said, today)});
  }
  return plan::OddsKept(places);
}

Knowledge::AllOpen Knowledge::all_open(const Bench& bench, const std::vector<Line>& lines,
                                       Day today, int minute) {
  AllOpen open{.input = workshop(today), .first_task = {}, .order_of = {}};
  open.input.now = minute;
  for (const Bike& bike : bench.bikes()) {
    const bool left = bike.open > 0;
    open.first_task.push_back(left ? static_cast<int>(open.input.tasks.size()) : -1);
    open.order_of.push_back(left ? static_cast<int>(open.input.orders.size()) : -1);
    if (left) add_bike(open.input, bike);
  }
  for (const Line& line : lines) {
    const int first = open.first_task[at(line.bike)];
    if (!line.here && first >= 0) add_line(open.input, line, first, bench.bikes()[at(line.bike)]);
  }
  return open;
}

std::vector<Knowledge::Planned> Knowledge::plan(const Bench& bench, const std::vector<Line>& lines,
                                                Day today, int minute,
                                                const std::vector<Planned>& last) {
  constexpr int kRounds = 6;  // as many as there are rules of turn
  AllOpen open = all_open(bench, lines, today, minute);
  for (const Planned& was : last) {
    const int first = open.first_task[at(was.bike)];
    if (first < 0 || was.start < minute) continue;
    open.input.tasks[at(first + was.job)].previous = {.person = was.person, .start = was.start};
  }
  const plan::ShopPlan made =
      known_good(plan::make_plan(open.input, {.rounds = kRounds}));
  std::vector<Planned> planned;
  for (std::size_t bike = 0; bike < open.first_task.size(); ++bike) {
    if (open.first_task[bike] < 0) continue;
    for (std::size_t job = 0; job < bench.bikes()[bike].jobs.size(); ++job) {
      const plan::PlannedTask& task = made.tasks[at(open.first_task[bike]) + job];
      if (!task.placed() || task.person < 0) continue;
      planned.push_back({static_cast<int>(bike), static_cast<int>(job), task.person, task.start()});
    }
  }
  std::ranges::stable_sort(planned, {}, &Planned::start);
  return planned;
}

Said Knowledge::promise(const Bench& bench, const std::vector<Line>& lines, int bike, Day today) {
  const AllOpen open = all_open(bench, lines, today, kEvening);
  const plan::PlanInput& input = open.input;
  const int asked = open.order_of[at(bike)];
  const plan::OddsKept odds = odds_kept(today);
  const plan::PromiseOptions options{.draws = draws_};
  const plan::OrdersSeen seen =
      means_.to_come ? plan::seen_lately(seen_, today) : plan::OrdersSeen{};
  Said said{.simulated = known_good(
                means_.in_turn
                    ? plan::promise_in_turn(input, asked, seen, odds.to_ask(0.9), options)
                    : plan::promise(input, asked, options)),
            .promise = {}, .work = plan::work_of(input, asked)};
  said.promise = plan::as_kept(said.simulated, odds);
  return said;
}

Day Knowledge::by_medians(const std::vector<Line>& lines, const Bike& bike, int place) const {
  Day kit = bike.agreed;
  for (const Line& line : lines) {
    if (line.bike != place || line.may_follow) continue;
    const int middle = supply::days_for(*line.foreseen, 0.5);
    kit = std::max(kit, add_working_days(bike.agreed, middle, luck_.closed()));
  }
  return add_working_days(kit, building_days(bike), luck_.closed());
}

int Knowledge::building_days(const Bike& bike) {
  double minutes = 0;
  for (const Job& job : bike.jobs) minutes += job.expected;
  return shop::building_days(minutes);
}

double Knowledge::kit_place(const std::vector<Line>& lines, int bike, Day agreed, Day day) const {
  const int gone = working_days_between(agreed, day, luck_.closed());
  double all = 1;
  for (const Line& line : lines) {
    if (line.bike == bike && !line.may_follow) all *= supply::within(*line.foreseen, gone);
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
  for (std::size_t index = 0; index < catalogue_.files.people.size(); ++index) {
    const trade::Person known = person_on(index, today);
    plan::Person person = known_good(shop::person_for(known, luck_.closed(), {day, 1}));
    shifts.push_back({.windows = std::move(person.hours),
                      .pace = person.productive * (1 - kSettings.walk_in_share)});
  }
  return shifts;
}

}  // namespace rollwright::bench

#include <algorithm>
#include <bit>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "plan/calendar.hpp"
#include "plan/longest_goes.hpp"
#include "plan/workshop.hpp"

namespace rollwright::plan {
namespace {

/// Collects refusals about one input.
class Examination {
 public:
  explicit Examination(const PlanInput& input) : input_(input) {}

  Problems run() {
    check_frame();
    check_people();
    check_arrivals();
    check_orders();
    for (const Task& task : input_.tasks) check_fields(task);
    if (!problems_.empty()) return std::move(problems_);  // indices must hold for what follows
    check_names();
    check_loops();
    if (!problems_.empty()) return std::move(problems_);
    const LongestGoes goes(input_);
    for (const Task& task : input_.tasks) {
      if (is_open(input_, task)) check_can_be_done(task, goes);
    }
    check_frozen();
    return std::move(problems_);
  }

 private:
  template <class... Parts>
  void no(Code code, fmt::format_string<Parts...> form, Parts&&... parts) {
    problems_.push_back({code, fmt::format(form, std::forward<Parts>(parts)...)});
  }

  std::string name(const Task& task) const {
    return fmt::format("task {} of order {}", task.id,
                       input_.orders[static_cast<std::size_t>(task.order)].id);
  }
  const Task& task_at(int index) const { return input_.tasks[static_cast<std::size_t>(index)]; }
  const Person& person_at(int index) const {
    return input_.people[static_cast<std::size_t>(index)];
  }
  static bool points_into(int index, std::size_t size) {
    return 0 <= index && static_cast<std::size_t>(index) < size;
  }

  bool are_people(std::uint64_t bits) const {
    return input_.people.size() >= 64 || bits >> input_.people.size() == 0;
  }

  void check_frame() {
    if (!(1 <= input_.days && input_.days <= 1000)) {
      no(Code::kOutOfRange, "a horizon is 1 to 1000 days, not {}", input_.days);
    }
    if (!(0 <= input_.now && input_.now < input_.days * kMinutesPerDay)) {
      no(Code::kOutOfRange, "now must lie within the horizon, not at minute {}", input_.now);
    }
    if (!(0 <= input_.delivery_minute && input_.delivery_minute < kMinutesPerDay)) {
      no(Code::kOutOfRange, "the hour of delivery must lie within a day, not at minute {}",
         input_.delivery_minute);
    }
    if (input_.skills.size() > 64) no(Code::kTooLarge, "at most 64 skills can be told apart");
    if (input_.people.size() > 64) no(Code::kTooLarge, "at most 64 people can be planned");
    const Disturbance& odds = input_.disturbance;
    if (!(0 <= odds.sick && odds.sick < 1)) {
      no(Code::kOutOfRange, "the probability of a sick day is from 0 to below 1, not {}",
         odds.sick);
    }
    if (!(1 <= odds.sick_days && odds.sick_days <= 365 && 1 <= odds.leave_days &&
          odds.leave_days <= 365)) {
      no(Code::kOutOfRange, "people are out for 1 to 365 days on end in the mean, not {} ill or {} "
         "on leave", odds.sick_days, odds.leave_days);
    }
    if (!(0 <= odds.walk_in_least && odds.walk_in_least <= odds.walk_in_most &&
          odds.walk_in_most < 1)) {
      no(Code::kOutOfRange,
         "the share of walk-ins runs from 0 to below 1, least first, not {} to {}",
         odds.walk_in_least, odds.walk_in_most);
    }
    if (!std::ranges::is_sorted(input_.delivery_days)) {
      no(Code::kOutOfRange, "the days on which a carrier comes must ascend");
    }
    for (const Area& area : input_.areas) {
      if (area.stands < 1) {
        no(Code::kOutOfRange, "area {} needs at least one stand, not {}", area.id, area.stands);
      }
    }
  }

  void check_people() {
    for (const Person& person : input_.people) {
      if (!(0 < person.productive && person.productive <= 1)) {
        no(Code::kOutOfRange, "the productive share of {} is above 0 and at most 1, not {}",
           person.id, person.productive);
      }
      if (!(0 <= person.untold_leave && person.untold_leave < 1)) {
        no(Code::kOutOfRange, "the share of days off of {} is from 0 to below 1, not {}", person.id,
           person.untold_leave);
      }
      int before = -1;
      for (const Window& window : person.hours) {
        const bool in_order = before < window.from && 0 <= window.from && window.from < window.to;
        const bool one_day = window.from / kMinutesPerDay == (window.to - 1) / kMinutesPerDay;
        if (in_order && one_day && window.to <= input_.days * kMinutesPerDay) {
          before = window.to;
          continue;
        }
        no(Code::kOutOfRange,
           "the hours of {} must ascend within days of the horizon; {}-{} does not", person.id,
           window.from, window.to);
        break;
      }
    }
  }

  void check_spread(const trade::Spread& spread, const std::string& whose) {
    if (0 <= spread.least && 0 <= spread.median && 0 <= spread.sigma && spread.sigma <= 2 &&
        std::isfinite(spread.least) && std::isfinite(spread.median)) {
      return;
    }
    no(Code::kOutOfRange, "the spread of {} needs least and median from 0 and sigma from 0 to 2",
       whose);
  }

  void check_arrivals() {
    for (const Arrival& arrival : input_.arrivals) {
      check_spread(arrival.working_days, "the arrival of " + arrival.what);
      if (!(0 <= arrival.correlation && arrival.correlation <= 0.95)) {
        no(Code::kOutOfRange, "how much {} is late with others runs from 0 to 0.95, not {}",
           arrival.what, arrival.correlation);
      }
      const bool is_odds = !arrival.by || (std::ranges::is_sorted(*arrival.by) &&
                                           (arrival.by->empty() || (0 <= arrival.by->front() &&
                                                                    arrival.by->back() <= 1)));
      if (!is_odds) no(Code::kOutOfRange, "the odds of {} must rise from 0 to 1", arrival.what);
    }
  }

  void check_orders() {
    for (const Order& order : input_.orders) {
      if (!(0 < order.weight && order.weight < 1e9)) {
        no(Code::kOutOfRange, "the weight of order {} must be above 0, not {}", order.id,
           order.weight);
      }
      if (!(0 < order.chance && order.chance <= 1)) {
        no(Code::kOutOfRange, "the chance of order {} is above 0 and at most 1, not {}", order.id,
           order.chance);
      }
    }
  }

  void check_fields(const Task& task) {
    if (!points_into(task.order, input_.orders.size())) {
      no(Code::kOutOfRange, "task {} belongs to no order", task.id);
      return;
    }
    if (!points_into(task.area, input_.areas.size())) {
      no(Code::kOutOfRange, "{} is done in an area the shop does not have", name(task));
    }
    if (!(0 < task.minutes && task.minutes <= 100000)) {
      no(Code::kOutOfRange, "{} needs minutes above 0 and at most 100000, not {}", name(task),
         task.minutes);
    }
    if (!(0 <= task.unattended && task.unattended <= 1000000)) {
      no(Code::kOutOfRange, "{} needs unattended minutes from 0 to a million, not {}", name(task),
         task.unattended);
    }
    if (!(1 <= task.hands && task.hands <= kMostHands)) {
      no(Code::kOutOfRange, "{} takes 1 to {} pairs of hands at once, not {}", name(task),
         kMostHands, task.hands);
    }
    check_spread(task.spread, name(task));
    check_indices(task);
  }

  void check_indices(const Task& task) {
    for (const int before : task.after) {
      if (!points_into(before, input_.tasks.size())) {
        no(Code::kOutOfRange, "{} comes after a task that does not exist", name(task));
      } else if (task_at(before).order != task.order) {
        no(Code::kContradiction, "{} comes after {}, which belongs to another order", name(task),
           task_at(before).id);
      }
    }
    for (const int part : task.parts) {
      if (!points_into(part, input_.arrivals.size())) {
        no(Code::kOutOfRange, "{} waits for an arrival that does not exist", name(task));
      }
    }
    for (const int other : task.not_by_doer_of) {
      if (!points_into(other, input_.tasks.size())) {
        no(Code::kOutOfRange, "{} needs a second person for a task that does not exist",
           name(task));
      }
    }
    if (task.previous && (!points_into(task.previous->person, input_.people.size()) ||
                          !are_people(task.previous->lending) || task.previous->start < 0)) {
      no(Code::kOutOfRange, "the last plan gave {} to nobody the shop has", name(task));
    }
    if ((task.done_by != -1 && !points_into(task.done_by, input_.people.size())) ||
        !are_people(task.done_lending)) {
      no(Code::kOutOfRange, "{} was done by nobody the shop has", name(task));
    }
  }

  /// The names seed the random numbers: two of the same name would draw the same luck.
  void check_names() {
    std::set<std::string_view> seen;
    for (const Task& task : input_.tasks) {
      if (!seen.insert(task.id).second) {
        no(Code::kContradiction, "{} is there twice: every task needs its own name", name(task));
      }
    }
  }

  /// Takes away tasks with nothing before them until none is left or only loops are.
  void check_loops() {
    std::vector<int> waiting(input_.tasks.size());
    std::vector<std::vector<std::size_t>> next(input_.tasks.size());
    std::vector<std::size_t> clear;
    for (std::size_t at = 0; at < input_.tasks.size(); ++at) {
      waiting[at] = static_cast<int>(input_.tasks[at].after.size());
      if (waiting[at] == 0) clear.push_back(at);
      for (const int before : input_.tasks[at].after) {
        next[static_cast<std::size_t>(before)].push_back(at);
      }
    }
    for (std::size_t seen = 0; seen < clear.size(); ++seen) {
      for (const std::size_t after : next[clear[seen]]) {
        if (--waiting[after] == 0) clear.push_back(after);
      }
    }
    if (clear.size() == input_.tasks.size()) return;
    const auto stuck = std::ranges::find_if(waiting, [](int count) { return count > 0; });
    std::size_t at = static_cast<std::size_t>(stuck - waiting.begin());
    // Walking back through stuck tasks leads into the loop; the first met twice is on it.
    std::set<std::size_t> met;
    while (met.insert(at).second) {
      for (const int before : input_.tasks[at].after) {
        if (waiting[static_cast<std::size_t>(before)] > 0) at = static_cast<std::size_t>(before);
      }
    }
    no(Code::kContradiction, "{} comes, by way of others, after itself", name(input_.tasks[at]));
  }

  void check_can_be_done(const Task& task, const LongestGoes& goes) {
    const std::uint64_t able = who_can(input_, task);
    if (able == 0) {
      no(Code::kRefused, "nobody in the shop has the skill {} that {} needs",
         skill_words(input_, task.any_of), name(task));
      return;
    }
    if (pause_of(task) != Pause::kAnywhere && !is_frozen(input_, task)) {
      check_fits_a_day(task, able, goes);
    }
    if (!task.not_by_doer_of.empty()) check_second_person(task, able);
  }

  /// Hands-on minutes per minute at work, in the middle.
  double share_of(const Person& person) const {
    const Disturbance& odds = input_.disturbance;
    return person.productive * (1 - (odds.walk_in_least + odds.walk_in_most) / 2);
  }

  void check_fits_a_day(const Task& task, std::uint64_t able, const LongestGoes& goes) {
    double most = 0;
    for (std::size_t at = 0; at < input_.people.size(); ++at) {
      const Person& person = input_.people[at];
      if ((able >> at & 1) == 0) continue;
      most = std::max(most, goes.minutes(at, task) * share_of(person));
    }
    if (task.minutes <= most) return;
    if (task.hands > 1) return check_hands_meet(task, most);
    no(Code::kRefused,
       "{} takes {:.0f} minutes {}, and nobody who can do it has more than {:.0f}", name(task),
       task.minutes, task.pause == Pause::kNever ? "without a pause" : "within one day", most);
  }

  void check_hands_meet(const Task& task, double most) {
    const int people = std::popcount(who_can_lend(input_));
    if (people < task.hands) {
      no(Code::kRefused, "{} takes {} people at once, and {} in the shop can lend a hand",
         name(task), task.hands, people);
      return;
    }
    no(Code::kRefused,
       "{} takes {} people at once for {:.0f} minutes without a pause, and one who can do it and "
       "so many others are there together for no more than {:.0f}",
       name(task), task.hands, task.minutes, most);
  }

  void check_second_person(const Task& task, std::uint64_t able) {
    std::set<int> before;
    std::vector<int> walk = task.after;
    while (!walk.empty()) {
      const int at = walk.back();
      walk.pop_back();
      if (!before.insert(at).second) continue;
      walk.insert(walk.end(), task_at(at).after.begin(), task_at(at).after.end());
    }
    std::uint64_t certain = 0;  // those who will have done one of them whatever the plan
    for (const int other : task.not_by_doer_of) {
      const Task& first = task_at(other);
      if (!first.done && !before.contains(other)) {
        no(Code::kContradiction, "{} needs a second person after {}, but does not come after it",
           name(task), first.id);
        return;
      }
      const std::uint64_t doers = who_can(input_, first);
      if (first.done) certain |= people_done(first);
      if (first.done) continue;
      if (is_frozen(input_, first)) {
        certain |= people_at(first, *first.previous);
        continue;
      }
      if (std::has_single_bit(doers)) certain |= doers;
      const std::uint64_t all = who_can_lend(input_);
      if (std::popcount(all) == first.hands) certain |= all;
    }
    if ((able & ~certain) != 0) return;
    no(Code::kRefused, "there is no second person with the skill {} for {}",
       skill_words(input_, task.any_of), name(task));
  }

  static std::uint64_t people_done(const Task& task) {
    return task.done_lending | (task.done_by >= 0 ? person_bit(task.done_by) : 0);
  }

  // Frozen tasks: whatever clashes must be said before planning, for nothing may move them.

  int frozen_end(const Task& task) const {
    const Person& person = person_at(task.previous->person);
    int left = static_cast<int>(std::ceil(task.minutes / share_of(person) - 1e-9));
    for (const Window& window : person.hours) {
      const int from = std::max(window.from, task.previous->start);
      if (from >= window.to) continue;
      if (left <= window.to - from) return from + left;
      left -= window.to - from;
    }
    return input_.days * kMinutesPerDay;
  }

  void check_frozen() {
    std::vector<const Task*> frozen;
    for (const Task& task : input_.tasks) {
      if (is_open(input_, task) && is_frozen(input_, task)) frozen.push_back(&task);
    }
    for (const Task* task : frozen) {
      check_frozen_person(*task);
      check_frozen_before(*task);
    }
    for (std::size_t a = 0; a < frozen.size(); ++a) {
      for (std::size_t b = a + 1; b < frozen.size(); ++b) {
        check_frozen_pair(*frozen[a], *frozen[b]);
      }
      check_frozen_stand(*frozen[a], frozen);
    }
  }

  void check_frozen_person(const Task& task) {
    const Person& person = person_at(task.previous->person);
    const int start = task.previous->start;
    if ((who_can(input_, task) >> task.previous->person & 1) == 0) {
      no(Code::kContradiction, "{} is frozen for {}, who lacks the skill {}", name(task), person.id,
         skill_words(input_, task.any_of));
    }
    const bool at_work = std::ranges::any_of(person.hours, [start](const Window& window) {
      return window.from <= start && start < window.to;
    });
    if (!at_work) {
      no(Code::kContradiction, "{} is frozen for {} on {} at {}, who is not at work then",
         name(task), person.id, rollwright::in_words(day_at(input_.first_day, start)),
         clock_words(start));
    }
    if (task.hands > 1) check_frozen_hands(task);
  }

  void check_frozen_hands(const Task& task) {
    const std::uint64_t lending = task.previous->lending;
    if (!has_its_hands(task, *task.previous) || (lending & ~who_can_lend(input_)) != 0) {
      no(Code::kContradiction, "{} takes {} people at once and is frozen with {}", name(task),
         task.hands, 1 + std::popcount(lending & who_can_lend(input_)));
      return;
    }
    const Window span{task.previous->start, frozen_end(task)};
    for (std::uint64_t left = people_at(task, *task.previous); left != 0; left &= left - 1) {
      const Person& person = person_at(std::countr_zero(left));
      const bool all_through = std::ranges::any_of(person.hours, [&](const Window& window) {
        return window.from <= span.from && span.to <= window.to;
      });
      if (all_through) continue;
      no(Code::kContradiction,
         "{} takes {} people at once and is frozen on {} at {}, when {} is not there all through "
         "it",
         name(task), task.hands,
         rollwright::in_words(day_at(input_.first_day, span.from)), clock_words(span.from),
         person.id);
    }
  }

  void check_frozen_before(const Task& task) {
    const int start = task.previous->start;
    for (const int index : task.after) {
      const Task& before = task_at(index);
      if (before.done) continue;
      if (!is_frozen(input_, before)) {
        no(Code::kContradiction,
           "{} is frozen but comes after {}, which is neither done nor frozen", name(task),
           before.id);
      } else if (frozen_end(before) + before.unattended > start) {
        no(Code::kContradiction, "{} is frozen to a start before {} ends", name(task), before.id);
      }
    }
    for (const int index : task.not_by_doer_of) {
      const Task& first = task_at(index);
      const std::uint64_t people = first.done        ? people_done(first)
                                   : first.previous ? people_at(first, *first.previous)
                                                    : 0;
      if ((people & person_bit(task.previous->person)) == 0) continue;
      no(Code::kContradiction, "{} is frozen for {}, who also has {}: it needs a second person",
         name(task), person_at(task.previous->person).id, first.id);
    }
    for (const int index : task.parts) {
      const Arrival& part = input_.arrivals[static_cast<std::size_t>(index)];
      if (part.known && in_hand_after(input_, part, 0) <= std::max(start, input_.now)) continue;
      no(Code::kContradiction, "{} is frozen to a start at which {} may not be in hand", name(task),
         part.what);
    }
  }

  void check_frozen_pair(const Task& a, const Task& b) {
    const bool overlap =
        a.previous->start < frozen_end(b) && b.previous->start < frozen_end(a);
    if (!overlap) return;
    const std::uint64_t both = people_at(a, *a.previous) & people_at(b, *b.previous);
    if (both != 0) {
      no(Code::kContradiction, "{} and {} are both frozen for {} at the same time", name(a),
         name(b), person_at(std::countr_zero(both)).id);
    } else if (a.order == b.order && a.on_bike && b.on_bike) {
      no(Code::kContradiction, "{} and {} are frozen on one bike at the same time", name(a),
         name(b));
    }
  }

  void check_frozen_stand(const Task& task, const std::vector<const Task*>& frozen) {
    const int start = task.previous->start;
    const auto in_area = std::ranges::count_if(frozen, [&](const Task* other) {
      return other->area == task.area && other->previous->start <= start &&
             start < frozen_end(*other);
    });
    const Area& area = input_.areas[static_cast<std::size_t>(task.area)];
    if (in_area <= area.stands) return;
    no(Code::kContradiction, "{} is frozen in {} when its {} stands are taken", name(task), area.id,
       area.stands);
  }

  const PlanInput& input_;
  Problems problems_;
};

}  // namespace

Problems problems_of(const PlanInput& input) { return Examination(input).run(); }

}  // namespace rollwright::plan

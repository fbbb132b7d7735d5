#include "shop/move_by_hand.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/text.hpp"
#include "plan/calendar.hpp"
#include "plan/pin_task.hpp"
#include "plan/place_work.hpp"
#include "shop/plan_words.hpp"

namespace rollwright::shop {
namespace {

constexpr const char* kWallTimeForm = "a start is a day and a time of the shop, as in 2026-12-03T10:30";

/// Minute of "2026-12-03T10:30" from the first day on.
std::optional<int> minute_of(const plan::PlanInput& input, const std::string& text) {
  if (text.size() != 16 || text[10] != 'T' || text[13] != ':') return {};
  const Result<Day> day = parse_day(text.substr(0, 10));
  const auto hour = to_whole(text.substr(11, 2));
  const auto minute = to_whole(text.substr(14, 2));
  if (!day || !hour || !minute) return {};
  if (*hour < 0 || 23 < *hour || *minute < 0 || 59 < *minute) return {};
  return plan::minute_at(input.first_day, *day) + static_cast<int>(*hour * 60 + *minute);
}

/// Everything that must hold for the move by itself, one rule after the other.
class MoveCheck {
 public:
  MoveCheck(const AgreedInput& agreed, const State& state, const Move& move)
      : agreed_(agreed), state_(state), move_(move), floor_(agreed.input, kReckonedArrival) {}

  Result<void> run() {
    if (auto ok = check_time(); !ok) return ok;
    if (auto ok = check_skill(); !ok) return ok;
    if (auto ok = check_hours(); !ok) return ok;
    if (auto ok = check_parts(); !ok) return ok;
    if (auto ok = check_second_person(); !ok) return ok;
    if (auto ok = check_what_does_not_move(); !ok) return ok;
    return check_hands();
  }

 private:
  const plan::PlanInput& input() const { return agreed_.input; }
  const plan::Task& task() const { return input().tasks[at(move_.task)]; }
  std::string name() const { return person_words(state_, input(), move_.where.person); }
  std::string operation() const { return agreed_.workshop.operations[at(move_.task)]->id; }
  std::string when() const { return moment_words(input(), move_.where.start); }

  std::unexpected<Error> no(Code code, std::string sentence, std::string field) const {
    return refuse(code, std::move(sentence), {.field = std::move(field)});
  }

  Result<void> check_time() {
    if (agreed_.held[at(move_.task)] == HeldBy::kFrozen) {
      return no(Code::kRefused,
                fmt::format("{} is in the frozen part of the plan, until {}, and does not move",
                            task_words(agreed_, move_.task),
                            moment_words(input(), agreed_.frozen_until)),
                "operation");
    }
    if (move_.where.start < input().now) {
      return no(Code::kOutOfRange, fmt::format("{} is past", when()), "start");
    }
    if (move_.where.start < input().days * plan::kMinutesPerDay) return {};
    return no(Code::kOutOfRange,
              fmt::format("the plan reaches to {}",
                          in_words(plan::day_at(input().first_day,
                                                input().days * plan::kMinutesPerDay - 1))),
              "start");
  }

  Result<void> check_skill() {
    if ((floor_.able[at(move_.task)] >> move_.where.person & 1) != 0) return {};
    return no(Code::kRefused,
              fmt::format("{} asks for {}, which {} does not have", operation(),
                          plan::skill_words(input(), task().any_of), name()),
              "person");
  }

  Result<void> check_hours() {
    const int start = move_.where.start;
    const auto& hours = input().people[at(move_.where.person)].hours;
    const bool at_work = std::ranges::any_of(hours, [start](const plan::Window& window) {
      return window.from <= start && start < window.to;
    });
    if (!at_work) {
      return no(Code::kRefused, fmt::format("{} is not at work on {}{}", name(), when(), away()),
                "start");
    }
    const auto stay = floor_.hours[at(move_.where.person)].earliest(start, minutes(),
                                                                       plan::pause_of(task()));
    if (stay.start == start) {
      end_ = stay.end;
      return {};
    }
    return no(Code::kRefused,
              fmt::format("{} may not be left half done {}: it takes {} {} minutes, and there are "
                          "not so many left on {}",
                          operation(),
                          plan::pause_of(task()) == plan::Pause::kNever ? "over a pause"
                                                                         : "overnight",
                          name(), minutes(), when()),
              "start");
  }

  /// Whether the person did it or lent a hand, as far as that is settled.
  bool is_at(const plan::Task& first, bool settled) const {
    std::uint64_t people = 0;
    if (first.done) {
      people = first.done_lending | (first.done_by < 0 ? 0 : plan::person_bit(first.done_by));
    } else if (settled) {
      people = plan::people_at(first, *first.previous);
    }
    return (people & plan::person_bit(move_.where.person)) != 0;
  }

  int minutes() const {
    return floor_.minutes[at(move_.task) * input().people.size() + at(move_.where.person)];
  }

  std::string away() const {
    const Day day = plan::day_at(input().first_day, move_.where.start);
    for (const trade::Person& person : state_.held.people) {
      if (person.id.text != input().people[at(move_.where.person)].id) continue;
      for (const auto& [first, last] : person.away) {
        if (first <= day && day <= last) return ", away until " + in_words(last);
      }
    }
    return {};
  }

  Result<void> check_parts() {
    const int in_hand = floor_.parts_in_hand[at(move_.task)];
    const int part = floor_.last_part[at(move_.task)];
    if (in_hand <= move_.where.start || part < 0) return {};
    const std::string& what = input().arrivals[at(part)].what;
    if (in_hand >= plan::kNever) {
      return no(Code::kRefused,
                fmt::format("{} waits for {}, which is not expected within the year", operation(),
                            what),
                "start");
    }
    return no(Code::kRefused,
              fmt::format("{} waits for {}, which is reckoned with on {}", operation(), what,
                          moment_words(input(), in_hand)),
              "start");
  }

  Result<void> check_second_person() {
    for (const int other : task().not_by_doer_of) {
      const plan::Task& first = input().tasks[at(other)];
      const bool settled = agreed_.held[at(other)] != HeldBy::kNothing;
      if (!is_at(first, settled)) continue;
      // The book does not say who did what is done; the plan had it so.
      return no(Code::kRefused,
                fmt::format("{} checks {}, which {} {}: it takes a second person", operation(),
                            task_words(agreed_, other),
                            first.done ? "is done and was planned for" : "is the own work of",
                            name()),
                "person");
    }
    return {};
  }

  /// Who lends a hand is found by the plan; here it is only asked whether so many can at all.
  Result<void> check_hands() {
    if (task().hands == 1) return {};
    if (plan::hands_for(input(), agreed_.kept, move_.task, move_.where, kReckonedArrival) != 0) {
      return {};
    }
    return no(Code::kRefused,
              fmt::format("{} takes {} people at once: on {} {} beside {} is at work all through it "
                          "and free of work that does not move",
                          operation(), task().hands, when(),
                          task().hands == 2 ? std::string("nobody")
                                            : fmt::format("fewer than {}", task().hands - 1),
                          name()),
              "start");
  }

  /// Work that was frozen or put by hand, of other orders or on the same bike.
  Result<void> check_what_does_not_move() {
    int on_stands = 0;
    const int stands = input().areas[at(task().area)].stands;
    for (const plan::PlannedTask& other : agreed_.kept.tasks) {
      const HeldBy held = agreed_.held[at(other.task)];
      if (held == HeldBy::kNothing || other.task == move_.task || !other.placed()) continue;
      if (other.start() >= end_ || other.end() <= move_.where.start) continue;
      if (held == HeldBy::kBeforePin && of_same_order(other.task)) continue;
      const std::string what = fmt::format("{} ({}) until {}", task_words(agreed_, other.task),
                                           held == HeldBy::kFrozen ? "frozen" : "put there by hand",
                                           moment_words(input(), other.end()));
      if ((other.people() & plan::person_bit(move_.where.person)) != 0) {
        return no(Code::kRefused, fmt::format("{} has {}", name(), what), "person");
      }
      if (of_same_order(other.task) && task().on_bike && input().tasks[at(other.task)].on_bike) {
        return no(Code::kRefused, "the bike is needed for " + what, "start");
      }
      if (input().tasks[at(other.task)].area != task().area) continue;
      if (move_.stand > 0 && stand_of(other.task) == move_.stand) {
        return no(Code::kRefused, fmt::format("stand {} of {} is taken by {}", move_.stand,
                                              input().areas[at(task().area)].id, what),
                  "stand");
      }
      if (++on_stands < stands) continue;
      return no(Code::kRefused,
                fmt::format("{} of {} taken by work that does not move, the last by {}",
                            stands == 1 ? std::string("the stand") : fmt::format("all {} stands", stands),
                            input().areas[at(task().area)].id + (stands == 1 ? " is" : " are"), what),
                "stand");
    }
    return {};
  }

  bool of_same_order(int other) const { return input().tasks[at(other)].order == task().order; }

  int stand_of(int other) const {
    const trade::PlannedWork* work = agreed_work(agreed_, state_, other);
    return work == nullptr ? 0 : work->stand;
  }

  const AgreedInput& agreed_;
  const State& state_;
  const Move& move_;
  plan::Shopfloor floor_;
  int end_ = 0;
};

}  // namespace

Result<int> task_named(const AgreedInput& agreed, const std::string& order,
                       const std::string& operation) {
  bool has_order = false;
  for (std::size_t task = 0; task < agreed.input.tasks.size(); ++task) {
    if (agreed.input.orders[at(agreed.input.tasks[task].order)].id != order) continue;
    has_order = true;
    if (agreed.workshop.operations[task]->id != operation) continue;
    if (!agreed.input.tasks[task].done) return static_cast<int>(task);
    return refuse(Code::kRefused, fmt::format("{} of order {} is done", operation, order),
                  {.field = "operation", .value = operation});
  }
  if (!has_order) {
    return refuse(Code::kNotFound, fmt::format("there is no order {} in the workshop", order),
                  {.field = "order", .value = order});
  }
  return refuse(Code::kNotFound, fmt::format("order {} has no operation {}", order, operation),
                {.field = "operation", .value = operation});
}

Result<Move> move_by_hand(const AgreedInput& agreed, const State& state,
                          const ProposalWish& wish) {
  const Result<int> task = task_named(agreed, wish.order, wish.operation);
  if (!task) return std::unexpected(task.error());
  Move move{.task = *task, .stand = wish.stand};
  const auto known = person_called(state, wish.person, "person");
  if (!known) return std::unexpected(known.error());
  const auto person =
      std::ranges::find(agreed.input.people, (*known)->id.text, &plan::Person::id);
  move.where.person = static_cast<int>(person - agreed.input.people.begin());
  const auto start = minute_of(agreed.input, wish.start);
  if (!start) {
    return refuse(Code::kBadInput, kWallTimeForm, {.field = "start", .value = wish.start});
  }
  move.where.start = *start;
  const plan::Area& area = agreed.input.areas[at(agreed.input.tasks[at(*task)].area)];
  if (wish.stand < 0 || area.stands < wish.stand) {
    return refuse(Code::kOutOfRange,
                  area.stands == 1
                      ? fmt::format("{} has one stand", area.id)
                      : fmt::format("{} has the stands 1 to {}", area.id, area.stands),
                  {.field = "stand", .value = std::to_string(wish.stand)});
  }
  if (Result<void> can_be = MoveCheck(agreed, state, move).run(); !can_be) {
    return std::unexpected(can_be.error());
  }
  return move;
}

}  // namespace rollwright::shop

#include "build/bench_state.hpp"

#include <algorithm>
#include <array>
#include <set>

#include <fmt/format.h>

#include "trade/operation.hpp"

namespace rollwright::build {
namespace {

using trade::Deed;
using trade::Outcome;

constexpr std::array<std::pair<Standing, std::string_view>, 6> kStandingWords = {{
    {Standing::kNotYet, "not yet"}, {Standing::kOpen, "open"}, {Standing::kRunning, "running"},
    {Standing::kPaused, "paused"}, {Standing::kDone, "done"}, {Standing::kRedo, "redo"}}};

constexpr const char* kTestArea = "test area";

/// Plays one line after the other over a state of the sheet.
class Player {
 public:
  Player(const trade::Sheet& sheet, BenchState& state) : sheet_(sheet), state_(state) {}

  void begin() {
    for (const trade::SheetStep& step : sheet_.steps) {
      OperationNow& now = state_.operations.emplace_back();
      now.step = &step;
      now.asked = !step.care;
      now.standing = step.done ? Standing::kDone : Standing::kNotYet;
      clear_readings(now);
    }
    for (const trade::SheetCheck& check : sheet_.checks) {
      state_.checks.push_back({.check = &check, .asked = check.list != trade::kCareList});
    }
  }

  /// Takes back what `finish` read off.
  void go_on() {
    for (OperationNow& now : state_.operations) {
      if (now.standing == Standing::kOpen) now.standing = Standing::kNotYet;
      now.waits_for.clear();
    }
    state_.stops.clear();
  }

  void play(const trade::BikeLine& line) {
    state_.last = line.number;
    switch (line.deed) {
      case Deed::kKitted:
      case Deed::kOn: put_on(line); return;
      case Deed::kOff: take_off(line); return;
      case Deed::kPaired: state_.paired[line.about] = {line.who, line.at}; return;
      case Deed::kChecked: check(line); return;
      case Deed::kSigned: state_.signatures[line.about] = {line.who, line.at}; return;
      case Deed::kPhoto:
      case Deed::kNoted: return;
      case Deed::kVisit: come_back(line); return;
      case Deed::kBack: give_back(line); return;
      default: work(line);
    }
  }

  void finish() {
    open_what_may_begin();
    find_stops();
  }

 private:
  void put_on(const trade::BikeLine& line) {
    state_.parts.push_back({.slot = line.about, .part = line.part, .serial = line.serial,
                            .lot = line.lot, .came_by = line.came_by, .since = line.at,
                            .who = line.who, .off = {}, .why_off = {}});
  }

  FittedNow* held(const std::string& slot, const std::string& serial) {
    for (auto part = state_.parts.rbegin(); part != state_.parts.rend(); ++part) {
      if (part->slot != slot || part->off) continue;
      if (serial.empty() || part->serial == serial) return &*part;
    }
    return nullptr;
  }

  void take_off(const trade::BikeLine& line) {
    if (FittedNow* part = held(line.about, line.serial)) {
      part->off = line.at;
      part->why_off = line.note;
    }
  }

  void come_back(const trade::BikeLine& line) {
    state_.visits.push_back({.about = line.about, .km = line.value, .since = line.at,
                             .who = line.who, .note = line.note, .asked = {}, .back = {},
                             .back_by = {}, .back_note = {}});
    for (OperationNow& now : state_.operations) {
      const bool settled = now.standing == Standing::kDone && now.fault.empty();
      if (now.step->care && settled) put_away(now);
    }
    for (CheckNow& now : state_.checks) {
      const bool failed = now.outcome == Outcome::kFix || now.outcome == Outcome::kStop;
      if (now.check->list != trade::kCareList || failed) continue;
      now = {.check = now.check, .asked = now.check->covers.empty()};
    }
  }

  static void put_away(OperationNow& now) {
    const trade::SheetStep* step = now.step;
    now = {.step = step, .asked = false, .standing = Standing::kDone};
    clear_readings(now);
  }

  void give_back(const trade::BikeLine& line) {
    if (state_.visits.empty()) return;
    VisitNow& visit = state_.visits.back();
    visit.back = line.at;
    visit.back_by = line.who;
    visit.how = line.outcome;
    visit.back_note = line.note;
    // Whatever somebody was at is not worked on any more.
    for (OperationNow& now : state_.operations) {
      if (now.standing != Standing::kRunning) continue;
      stop_clock(now, line.at);
      now.standing = Standing::kPaused;
      now.because = "the bike was given back";
    }
  }

  void ask(OperationNow& now, const trade::BikeLine& line) {
    now.asked = true;
    redo(now, line);
    if (!state_.visits.empty()) state_.visits.back().asked.push_back(now.step->operation);
    for (CheckNow& check : state_.checks) {
      const bool covers = std::ranges::count(check.check->covers, now.step->operation) > 0;
      if (covers && check.check->list == trade::kCareList) check = {.check = check.check};
    }
  }

  /// Lines marked S stay: what nobody waives is looked at although nothing was done to it.
  void leave_out(OperationNow& now) {
    put_away(now);
    for (CheckNow& check : state_.checks) {
      const auto& covers = check.check->covers;
      const bool covered = std::ranges::count(covers, now.step->operation) > 0;
      const bool fixed = check.check->list != trade::kCareList || check.check->mark == "S";
      if (!covered || fixed || check.outcome != Outcome::kNone) continue;
      check.asked = std::ranges::any_of(state_.operations, [&](const OperationNow& other) {
        return other.asked && std::ranges::count(covers, other.step->operation) > 0;
      });
    }
  }

  void check(const trade::BikeLine& line) {
    const auto found = std::ranges::find(state_.checks, line.about,
                                         [](const CheckNow& now) { return now.check->id; });
    if (found == state_.checks.end()) return;
    found->outcome = line.outcome;
    found->who = line.who;
    found->at = line.at;
    found->note = line.note;
    found->because.clear();
  }

  void work(const trade::BikeLine& line) {
    const auto found = std::ranges::find(state_.operations, line.about,
                                         [](const OperationNow& now) { return now.step->operation; });
    if (found == state_.operations.end()) return;
    OperationNow& now = *found;
    switch (line.deed) {
      case Deed::kStarted: start(now, line); return;
      case Deed::kPaused:
        stop_clock(now, line.at);
        now.standing = Standing::kPaused;
        now.because = line.note;
        return;
      case Deed::kDone:
        stop_clock(now, line.at);
        now.standing = Standing::kDone;
        now.because.clear();
        return;
      case Deed::kRead: read(now, line); return;
      case Deed::kRedo: redo(now, line); return;
      case Deed::kAsked: ask(now, line); return;
      case Deed::kLeftOut: leave_out(now); return;
      case Deed::kFault:
        stop_clock(now, line.at);
        now.standing = Standing::kPaused;
        now.because = line.note;
        now.fault = line.note;
        return;
      case Deed::kMended: now.fault.clear(); return;
      case Deed::kHand: lend_hand(now, line); return;
      default: return;
    }
  }

  static void start(OperationNow& now, const trade::BikeLine& line) {
    stop_clock(now, line.at);
    now.standing = Standing::kRunning;
    now.because.clear();
    now.running = line.who;
    now.running_since = line.at;
    if (std::ranges::count(now.doers, line.who) == 0) now.doers.push_back(line.who);
  }

  static void lend_hand(OperationNow& now, const trade::BikeLine& line) {
    const trade::PersonId who(line.serial);
    now.no_helper = who.empty() ? line.note : std::string();
    if (who.empty() || std::ranges::count(now.helpers, who) > 0) return;
    now.helpers.push_back(who);
  }

  static void stop_clock(OperationNow& now, Instant at) {
    if (!now.running_since) return;
    const double minutes =
        std::chrono::duration<double, std::ratio<60>>(at - *now.running_since).count();
    now.minutes[{now.running, day_of(*now.running_since)}] += std::max(0.0, minutes);
    now.running_since.reset();
    now.running = {};
  }

  static void clear_readings(OperationNow& now) {
    now.readings.clear();
    for (const trade::SheetValue& value : now.step->values) {
      now.readings.push_back({&value, std::vector<PointNow>(static_cast<std::size_t>(value.count))});
    }
  }

  static void read(OperationNow& now, const trade::BikeLine& line) {
    for (ReadingNow& reading : now.readings) {
      if (reading.value->reading != line.reading) continue;
      const int point = std::max(1, line.point);
      if (point > static_cast<int>(reading.points.size())) return;
      reading.points[static_cast<std::size_t>(point - 1)] = {
          .value = line.value, .outcome = line.outcome, .who = line.who, .at = line.at,
          .tool = line.tool};
    }
  }

  void redo(OperationNow& now, const trade::BikeLine& line) {
    stop_clock(now, line.at);
    again(now, line.note);
    const std::string because =
        fmt::format("{} was {}: {}", now.step->operation,
                    line.deed == Deed::kAsked ? "asked for" : "done again", line.note);
    std::set<std::string> touched = {now.step->operation};
    const std::set<std::string> later = after(now.step->operation);
    for (OperationNow& other : state_.operations) {
      const bool proves = other.step->second_person || other.step->area == kTestArea;
      const bool begun = other.standing != Standing::kNotYet && other.asked;
      if (!proves || !begun || !later.contains(other.step->operation)) continue;
      again(other, because);
      touched.insert(other.step->operation);
    }
    for (CheckNow& check : state_.checks) {
      const auto covers = [&](const std::string& id) { return touched.contains(id); };
      if (check.outcome == Outcome::kNone) continue;
      if (std::ranges::any_of(check.check->covers, covers)) {
        check = {.check = check.check, .because = because};
      }
    }
    if (!now.step->care) state_.signatures.erase("release");
  }

  static void again(OperationNow& now, const std::string& because) {
    now.running_since.reset();
    now.standing = Standing::kRedo;
    now.because = because;
    now.doers.clear();
    now.helpers.clear();
    now.no_helper.clear();
    clear_readings(now);
  }

  /// Operations that come after this one, directly or not.
  std::set<std::string> after(const std::string& operation) const {
    std::set<std::string> later = {operation};
    for (const trade::SheetStep& step : sheet_.steps) {  // the sheet respects every predecessor
      if (std::ranges::any_of(step.after, [&](const auto& id) { return later.contains(id); })) {
        later.insert(step.operation);
      }
    }
    later.erase(operation);
    return later;
  }

  void open_what_may_begin() {
    std::set<std::string_view> done;
    for (const OperationNow& now : state_.operations) {
      if (now.standing == Standing::kDone) done.insert(now.step->operation);
    }
    for (OperationNow& now : state_.operations) {
      for (const std::string& before : now.step->after) {
        if (!done.contains(before)) now.waits_for.push_back(before);
      }
      if (now.standing == Standing::kNotYet && now.waits_for.empty()) {
        now.standing = Standing::kOpen;
      }
    }
  }

  void find_stops() {
    for (const OperationNow& now : state_.operations) {
      for (const ReadingNow& reading : now.readings) {
        const bool stop = std::ranges::any_of(reading.points, [](const PointNow& point) {
          return point.outcome == Outcome::kStop;
        });
        if (!stop) continue;
        state_.stops.push_back({now.step->operation,
                                fmt::format("{} of {} is outside the stop limit{}",
                                            reading.value->name, now.step->operation,
                                            reading.value->range_text.empty()
                                                ? std::string()
                                                : " (" + reading.value->range_text + ")")});
      }
    }
    for (const CheckNow& check : state_.checks) {
      if (check.outcome != Outcome::kStop) continue;
      state_.stops.push_back(
          {check.check->id, fmt::format("{} stops the bike: {}", check.check->id, check.note)});
    }
  }

  const trade::Sheet& sheet_;
  BenchState& state_;
};

}  // namespace

std::string_view word_of(Standing standing) {
  return std::ranges::find(kStandingWords, standing, &std::pair<Standing, std::string_view>::first)
      ->second;
}

int ReadingNow::taken() const {
  return static_cast<int>(std::ranges::count_if(
      points, [](const PointNow& point) { return point.outcome != Outcome::kNone; }));
}

bool ReadingNow::outside() const {
  return std::ranges::any_of(points, [](const PointNow& point) {
    return point.outcome == Outcome::kFix || point.outcome == Outcome::kStop;
  });
}

bool OperationNow::had_hand_in(const trade::PersonId& who) const {
  return std::ranges::count(doers, who) > 0 || std::ranges::count(helpers, who) > 0;
}

bool OperationNow::lacks_hands() const {
  return no_helper.empty() && static_cast<int>(helpers.size()) + 1 < step->hands;
}

const OperationNow* BenchState::operation(const std::string& id) const {
  const auto found = std::ranges::find(operations, id,
                                       [](const OperationNow& now) { return now.step->operation; });
  return found == operations.end() ? nullptr : &*found;
}

const CheckNow* BenchState::check(const std::string& id) const {
  const auto found =
      std::ranges::find(checks, id, [](const CheckNow& now) { return now.check->id; });
  return found == checks.end() ? nullptr : &*found;
}

const FittedNow* BenchState::in_place(const std::string& slot) const {
  for (auto part = parts.rbegin(); part != parts.rend(); ++part) {
    if (part->slot == slot && !part->off) return &*part;
  }
  return nullptr;
}

bool BenchState::was_emptied(const std::string& slot) const {
  return std::ranges::any_of(parts, [&slot](const FittedNow& part) {
    return part.slot == slot && part.off.has_value();
  });
}

const VisitNow* BenchState::open_visit() const {
  return visits.empty() || visits.back().back ? nullptr : &visits.back();
}

BenchState bench_state(const trade::Sheet& sheet, const std::vector<trade::BikeLine>& lines) {
  BenchState state;
  Player player(sheet, state);
  player.begin();
  for (const trade::BikeLine& line : lines) player.play(line);
  player.finish();
  return state;
}

void play_on(const trade::Sheet& sheet, const trade::BikeLine& line, BenchState& state) {
  Player player(sheet, state);
  player.go_on();
  player.play(line);
  player.finish();
}

}  // namespace rollwright::build

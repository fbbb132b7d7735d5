#include "build/bench_rules.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/deed_words.hpp"
#include "build/visit_rules.hpp"
#include "trade/skills.hpp"

namespace rollwright::build {
namespace {

using trade::Deed;
using trade::Outcome;

/// No gauge of the trade shows more, in millimetres, newtons and so on.
constexpr double kAnyReading = 1e9;

bool took_part(const OperationNow& now, const trade::PersonId& who) {
  return std::ranges::count(now.doers, who) > 0;
}

/// What somebody who had a hand in it did.
std::string_view did(const OperationNow& now, const trade::PersonId& who) {
  return took_part(now, who) ? "did" : "lent a hand at";
}

Result<void> has_skill(const DeedAsked& asked, const OperationNow& now) {
  const std::string& skill = now.step->skill;
  if ((trade::skills_held(asked.person.skills) & trade::skill_bit(skill)) != 0) return {};
  return refuse(Code::kNotAllowed,
                fmt::format("{} is {}; {} does not have that skill ({})", title(now),
                            trade::skill_words(skill), asked.person.name, skill),
                {.field = "who", .value = asked.person.id.text});
}

/// Whoever audits or releases did none of the work that is audited.
Result<void> four_eyes(const DeedAsked& asked, const OperationNow& now) {
  if (!now.step->second_person) return {};
  for (const std::string_view checked : asked.four_eyes) {
    const OperationNow* work = asked.state.operation(std::string(checked));
    if (work == nullptr || !work->had_hand_in(asked.person.id)) continue;
    return refuse(Code::kNotAllowed,
                  fmt::format("{} is for a second person: {} {} {}", title(now),
                              asked.person.name, did(*work, asked.person.id), title(*work)),
                  {.field = "who", .value = asked.person.id.text});
  }
  return {};
}

Result<void> no_stop_elsewhere(const DeedAsked& asked, const OperationNow& now) {
  if (!asked.blocked.empty()) return refuse(Code::kRefused, asked.blocked);
  for (const StopNow& stop : asked.state.stops) {
    if (stop.about == now.step->operation) continue;
    const CheckNow* check = asked.state.check(stop.about);
    if (check != nullptr && std::ranges::count(check->check->covers, now.step->operation) > 0) {
      continue;  // this is what mends it
    }
    return refuse(Code::kRefused,
                  fmt::format("this bike is stopped: {}. Mend that first", stop.sentence));
  }
  return {};
}

Result<void> may_start(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  const OperationNow& now = **found;
  if (now.standing == Standing::kDone) {
    return refuse(Code::kRefused, fmt::format("{} is done; to do it again, say redo and why",
                                              title(now)));
  }
  if (now.standing == Standing::kRunning && now.running == asked.person.id) {
    return refuse(Code::kRefused, fmt::format("{} is running already", title(now)));
  }
  if (!now.waits_for.empty()) {
    return refuse(Code::kRefused,
                  fmt::format("{} comes after {}, not done yet", title(now), listed(now.waits_for)));
  }
  if (!now.fault.empty()) {
    return refuse(Code::kRefused, fmt::format("{} has a fault that is not mended: {}", title(now),
                                              now.fault));
  }
  if (Result<void> ok = no_stop_elsewhere(asked, now); !ok) return ok;
  if (Result<void> ok = has_skill(asked, now); !ok) return ok;
  return four_eyes(asked, now);
}

Result<void> is_running(const DeedAsked& asked, const OperationNow& now) {
  if (now.standing != Standing::kRunning) {
    return refuse(Code::kRefused,
                  fmt::format("{} is {}; start it first", title(now), word_of(now.standing)));
  }
  if (!took_part(now, asked.person.id)) {
    return refuse(Code::kNotAllowed,
                  fmt::format("{} works on {}; start it yourself to write into it",
                              now.running.text, title(now)),
                  {.field = "who", .value = asked.person.id.text});
  }
  return {};
}

Result<void> may_pause(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  if ((*found)->standing != Standing::kRunning) {
    return refuse(Code::kRefused, fmt::format("{} is {}, not running", title(**found),
                                              word_of((*found)->standing)));
  }
  if (asked.wanted.note.empty()) return missing_note("why it is paused");
  return {};
}

/// "front_wheel" -> "front wheel"
std::string wheel_words(std::string wheel) {
  std::ranges::replace(wheel, '_', ' ');
  return wheel;
}

/// Everything that keeps an operation from being done.
std::vector<std::string> open_in(const DeedAsked& asked, const OperationNow& now) {
  std::vector<std::string> open;
  for (const ReadingNow& reading : now.readings) {
    const int wanted = static_cast<int>(reading.points.size());
    if (reading.outside()) {
      open.push_back(fmt::format("{} is outside its limits", reading.value->name));
    } else if (reading.taken() < wanted) {
      open.push_back(wanted == 1 ? reading.value->name + " is not written down"
                                 : fmt::format("{}: {} of {} points", reading.value->name,
                                               reading.taken(), wanted));
    }
  }
  if (!now.fault.empty()) open.push_back("a fault is not mended: " + now.fault);
  if (now.lacks_hands()) {
    open.push_back(fmt::format("{} people are at it at once: say who lends a hand, or why nobody "
                               "is needed",
                               now.step->hands));
  }
  for (const std::string& wheel : now.step->hangs) {
    if (asked.state.paired.contains(wheel)) continue;
    open.push_back(fmt::format("the {} was not scanned at this frame", wheel_words(wheel)));
  }
  return open;
}

Result<void> may_be_done(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  if (Result<void> ok = is_running(asked, **found); !ok) return ok;
  if (Result<void> ok = no_stop_elsewhere(asked, **found); !ok) return ok;
  if (Result<void> ok = four_eyes(asked, **found); !ok) return ok;
  const std::vector<std::string> open = open_in(asked, **found);
  if (open.empty()) return {};
  return refuse(Code::kRefused,
                fmt::format("{} is not done: {}", title(**found), join(open, "; ")));
}

Result<void> tool_is_good(const DeedAsked& asked, const trade::SheetValue& value) {
  if (asked.wanted.tool.empty()) {
    if (value.dimension != Dimension::kTorque) return {};
    return refuse(Code::kBadInput, "a torque is written down with the wrench it was set with",
                  {.field = "tool"});
  }
  const Place place{.field = "tool", .value = asked.wanted.tool};
  if (asked.tool == nullptr) return refuse(Code::kNotFound, "the shop has no such tool", place);
  const trade::Tool& tool = *asked.tool;
  if (tool.measures != value.dimension) {
    return refuse(Code::kContradiction,
                  fmt::format("{} does not measure this: {} is a {}", tool.name, value.name,
                              word_of(value.dimension)),
                  place);
  }
  if (tool.out_of_use) {
    return refuse(Code::kRefused, fmt::format("{} is out of use", tool.name), place);
  }
  const std::optional<Day> until = tool.good_until();
  if (!until || day_of(asked.wanted.at) > *until) {
    return refuse(Code::kRefused,
                  until ? fmt::format("{} was to be calibrated by {}; take another", tool.name,
                                      in_words(*until, true))
                        : fmt::format("{} was never calibrated; take another", tool.name),
                  place);
  }
  return {};
}

Result<Outcome> outcome_read(const DeedAsked& asked, const trade::SheetValue& value) {
  if (value.pass_or_fail) {
    if (asked.wanted.outcome == Outcome::kPass) return Outcome::kPass;
    if (asked.wanted.outcome != Outcome::kNone) return value.stop ? Outcome::kStop : Outcome::kFix;
    return refuse(Code::kBadInput, "say pass or fix", {.field = "outcome"});
  }
  if (!asked.wanted.value) {
    return refuse(Code::kBadInput, "write the number that was read", {.field = "value"});
  }
  const double read = *asked.wanted.value;
  if (!(-kAnyReading <= read && read <= kAnyReading)) {
    return refuse(Code::kOutOfRange, "no gauge shows such a number",
                  {.field = "value", .value = fmt::format("{}", read)});
  }
  if (asked.tool != nullptr && ((asked.tool->least && read < *asked.tool->least) ||
                                (asked.tool->most && read > *asked.tool->most))) {
    return refuse(Code::kOutOfRange,
                  fmt::format("{} cannot show that: it lies outside its range", asked.tool->name),
                  {.field = "value", .value = with_unit(read, value.unit, 1)});
  }
  if (Result<void> ok = tool_is_good(asked, value); !ok) return std::unexpected(ok.error());
  return outcome_of(value, read);
}

std::string limit_words(const trade::SheetValue& value) {
  if (value.range_text.empty()) return value.strictest.source;
  return fmt::format("{}, {}", value.range_text, value.strictest.source);
}

Result<void> take_reading(const DeedAsked& asked, trade::BikeLine& line) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  const OperationNow& now = **found;
  if (Result<void> ok = is_running(asked, now); !ok) return ok;
  const auto reading = std::ranges::find(now.readings, asked.wanted.reading, [](const auto& each) {
    return each.value->reading;
  });
  if (reading == now.readings.end()) {
    return refuse(Code::kNotFound, fmt::format("{} has no such reading", title(now)),
                  {.field = "reading", .value = asked.wanted.reading});
  }
  const int points = static_cast<int>(reading->points.size());
  line.point = std::max(1, asked.wanted.point);
  if (asked.wanted.point < 0 || line.point > points) {
    return refuse(Code::kOutOfRange, fmt::format("{} is taken at points 1 to {}",
                                                 reading->value->name, points),
                  {.field = "point", .value = std::to_string(asked.wanted.point)});
  }
  const Outcome before = reading->points[static_cast<std::size_t>(line.point - 1)].outcome;
  if (before == Outcome::kFix || before == Outcome::kStop) {
    return refuse(Code::kRefused,
                  fmt::format("{} was outside its limits: say what was done again (redo) or what is "
                              "at fault before it is read once more",
                              reading->value->name));
  }
  const Result<Outcome> outcome = outcome_read(asked, *reading->value);
  if (!outcome) return std::unexpected(outcome.error());
  line.outcome = *outcome;
  line.limit = limit_words(*reading->value);
  return {};
}

Result<void> may_redo(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  const OperationNow& now = **found;
  if (now.standing == Standing::kNotYet || now.standing == Standing::kOpen) {
    return refuse(Code::kRefused, fmt::format("{} was not begun yet", title(now)));
  }
  if (asked.wanted.note.empty()) return missing_note("why it is done again");
  return has_skill(asked, now);
}

Result<void> may_fault(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  if ((*found)->standing == Standing::kNotYet) {
    return refuse(Code::kRefused, fmt::format("{} was not begun yet", title(**found)));
  }
  if (asked.wanted.note.empty()) return missing_note("what is at fault");
  return {};
}

Result<void> may_mend(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  if ((*found)->fault.empty()) {
    return refuse(Code::kRefused, fmt::format("{} has no fault", title(**found)));
  }
  if (asked.wanted.note.empty()) return missing_note("how it was mended");
  return has_skill(asked, **found);
}

Result<void> may_lend_hand(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  const OperationNow& now = **found;
  if (now.step->hands < 2) {
    return refuse(Code::kRefused, fmt::format("{} is work for one person", title(now)));
  }
  if (Result<void> ok = is_running(asked, now); !ok) return ok;
  const trade::PersonId who(asked.wanted.serial);
  if (who.empty()) {
    return asked.wanted.note.empty() ? missing_note("why nobody is needed to lend a hand")
                                     : Result<void>();
  }
  if (who != asked.person.id) return {};
  return refuse(Code::kContradiction,
                fmt::format("{} does {}: somebody else lends a hand", asked.person.name, title(now)),
                {.field = "hand", .value = who.text});
}

/// A line marked S is signed by somebody who had no hand in what it covers.
Result<void> second_person(const DeedAsked& asked, const CheckNow& now) {
  if (now.check->mark != "S") return {};
  for (const std::string& covered : now.check->covers) {
    const OperationNow* work = asked.state.operation(covered);
    if (work == nullptr || !work->had_hand_in(asked.person.id)) continue;
    return refuse(Code::kNotAllowed,
                  fmt::format("{} is signed by a second person: {} {} {}", now.check->id,
                              asked.person.name, did(*work, asked.person.id), title(*work)),
                  {.field = "who", .value = asked.person.id.text});
  }
  return {};
}

Result<void> may_pass(const DeedAsked& asked, const CheckNow& now) {
  std::vector<std::string> open;
  for (const std::string& covered : now.check->covers) {
    const OperationNow* work = asked.state.operation(covered);
    if (work != nullptr && work->standing != Standing::kDone) open.push_back(title(*work));
  }
  if (!open.empty()) {
    return refuse(Code::kRefused, fmt::format("{} proves {}, not done yet", now.check->id,
                                              listed(open)));
  }
  const bool failed = now.outcome == Outcome::kFix || now.outcome == Outcome::kStop;
  if (failed && !now.check->covers.empty()) {
    return refuse(Code::kRefused,
                  fmt::format("{} did not pass ({}): say which operation was done again (redo) first",
                              now.check->id, now.note));
  }
  return second_person(asked, now);
}

Result<void> may_check(const DeedAsked& asked) {
  const CheckNow* now = asked.state.check(asked.wanted.about);
  if (now == nullptr) {
    return refuse(Code::kNotFound, "this bike's lists have no such line",
                  {.field = "about", .value = asked.wanted.about});
  }
  switch (asked.wanted.outcome) {
    case Outcome::kPass: return may_pass(asked, *now);
    case Outcome::kFix:
    case Outcome::kStop:
      if (asked.wanted.note.empty()) return missing_note("what was found");
      return {};
    case Outcome::kNone: break;
  }
  return refuse(Code::kBadInput,
                now->check->mark == "S"
                    ? "say pass, fix or stop; a line marked S is never waived"
                    : "say pass, fix or stop",
                {.field = "outcome"});
}

const trade::SheetPart* place_of(const DeedAsked& asked) {
  const auto found =
      std::ranges::find(asked.sheet.parts, asked.wanted.about, &trade::SheetPart::slot);
  return found == asked.sheet.parts.end() ? nullptr : &*found;
}

int pieces_in(const BenchState& state, const std::string& slot) {
  return static_cast<int>(std::ranges::count_if(state.parts, [&](const FittedNow& part) {
    return part.slot == slot && !part.off;
  }));
}

Result<void> may_put_on(const DeedAsked& asked) {
  const DeedWanted& wanted = asked.wanted;
  const trade::SheetPart* place = place_of(asked);
  if (place == nullptr) {
    return refuse(Code::kNotFound, "this bike has no such place for a part",
                  {.field = "about", .value = wanted.about});
  }
  if (wanted.part.text != place->part && asked.sheet.care) {
    if (wanted.note.empty()) return missing_note("why another part than before goes on");
  } else if (wanted.part.text != place->part) {
    return refuse(Code::kContradiction,
                  fmt::format("the {} of this bike is {} ({}), not {}", place->position,
                              place->name, place->part, wanted.part.text),
                  {.field = "part", .value = wanted.part.text});
  }
  const int most = place->has_serial ? place->quantity : 1;
  if (pieces_in(asked.state, wanted.about) >= most) {
    return refuse(Code::kConflict,
                  fmt::format("the {} is there already; take it off, and say why, before another "
                              "goes on",
                              place->position),
                  {.field = "about", .value = wanted.about});
  }
  if (place->has_serial && wanted.serial.empty()) {
    return refuse(Code::kBadInput, fmt::format("the {} has a number of its own; scan it",
                                               place->position),
                  {.field = "serial"});
  }
  if (wanted.serial.empty() && wanted.lot.empty() && wanted.came_by.empty()) {
    return refuse(Code::kBadInput,
                  fmt::format("say the lot of the {}, or the delivery it came by", place->position),
                  {.field = "lot"});
  }
  return {};
}

Result<void> may_take_off(const DeedAsked& asked) {
  if (asked.state.in_place(asked.wanted.about) == nullptr) {
    return refuse(Code::kNotFound, "nothing is on record in that place",
                  {.field = "about", .value = asked.wanted.about});
  }
  if (asked.wanted.note.empty()) return missing_note("why it is taken off");
  return {};
}

Result<void> may_pair(const DeedAsked& asked) {
  const std::vector<std::string>& wheels = trade::all_wheels();
  if (std::ranges::count(wheels, asked.wanted.about) > 0) return {};
  return refuse(Code::kBadInput, fmt::format("a wheel is the {}", join(wheels, " or the ")),
                {.field = "about", .value = asked.wanted.about});
}

Result<void> may_note(const DeedAsked& asked) {
  if (asked.wanted.deed == Deed::kSigned && asked.wanted.about.empty()) {
    return refuse(Code::kBadInput, "say what is signed", {.field = "about"});
  }
  if (asked.wanted.deed == Deed::kNoted && asked.wanted.note.empty()) {
    return missing_note("what is to be noted");
  }
  return {};
}

Result<void> allowed(const DeedAsked& asked, trade::BikeLine& line) {
  if (Result<void> ok = belongs_to_visit(asked); !ok) return ok;
  switch (asked.wanted.deed) {
    case Deed::kKitted:
    case Deed::kOn: return may_put_on(asked);
    case Deed::kOff: return may_take_off(asked);
    case Deed::kPaired: return may_pair(asked);
    case Deed::kStarted: return may_start(asked);
    case Deed::kPaused: return may_pause(asked);
    case Deed::kDone: return may_be_done(asked);
    case Deed::kRead: return take_reading(asked, line);
    case Deed::kRedo: return may_redo(asked);
    case Deed::kFault: return may_fault(asked);
    case Deed::kMended: return may_mend(asked);
    case Deed::kHand: return may_lend_hand(asked);
    case Deed::kChecked: return may_check(asked);
    case Deed::kSigned:
    case Deed::kPhoto:
    case Deed::kNoted: return may_note(asked);
    case Deed::kVisit:
    case Deed::kAsked:
    case Deed::kLeftOut:
    case Deed::kBack:
    case Deed::kReminded: return may_visit(asked);
  }
  broken_promise("every deed has its rule", __FILE__, __LINE__);
}

}  // namespace

Outcome outcome_of(const trade::SheetValue& value, double read) {
  const bool low = value.strictest.least && read < *value.strictest.least;
  const bool high = value.strictest.most && read > *value.strictest.most;
  if (!low && !high) return Outcome::kPass;
  const bool wider = value.stop_below || value.stop_above;
  const bool beyond = (value.stop_below && read < *value.stop_below) ||
                      (value.stop_above && read > *value.stop_above);
  if (beyond) return Outcome::kStop;
  // A limit on one side alone says nothing of the other.
  const bool stated = (low && value.stop_below) || (high && value.stop_above);
  return value.stop && !(wider && stated) ? Outcome::kStop : Outcome::kFix;
}

Result<trade::BikeLine> judge(const DeedAsked& asked) {
  const DeedWanted& wanted = asked.wanted;
  trade::BikeLine line{.number = asked.state.last + 1, .at = wanted.at, .who = asked.person.id,
                       .deed = wanted.deed, .about = wanted.about, .reading = wanted.reading,
                       .point = wanted.point, .value = wanted.value, .outcome = wanted.outcome,
                       .limit = {}, .tool = wanted.tool, .part = wanted.part,
                       .serial = wanted.serial, .lot = wanted.lot, .came_by = wanted.came_by,
                       .note = wanted.note};
  if (Result<void> ok = allowed(asked, line); !ok) return std::unexpected(ok.error());
  return line;
}

}  // namespace rollwright::build

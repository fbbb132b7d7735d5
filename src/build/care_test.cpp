#include "build/care.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "build/bench_rules.hpp"
#include "build/worked_bike.hpp"

// A bike that comes back. Bike, people and readings are invented.
namespace rollwright::build {
namespace {

using trade::Deed;
using trade::Outcome;

trade::Person person(const char* id, std::vector<std::string> skills) {
  return {.id = trade::PersonId(id), .name = id, .roles = {"bench"}, .skills = std::move(skills)};
}

/// A bike in care and the people around it.
class InCare {
 public:
  explicit InCare(bool care = true) : sheet(worked_bike().sheet(shipped_trade(), care).value()) {}

  std::string write(const trade::Person& who, DeedWanted wanted) {
    wanted.at = clock;
    clock += std::chrono::minutes(3);
    const BenchState now = state();
    const auto line = judge({.sheet = sheet, .state = now, .person = who, .wanted = wanted,
                             .tool = wanted.tool.empty() ? nullptr : &wrench, .four_eyes = {},
                             .blocked = {}});
    if (!line) return line.error().sentence;
    lines.push_back(*line);
    return "";
  }
  BenchState state() const { return bench_state(sheet, lines); }

  std::string comes(const char* about, std::optional<double> km = {}, const char* note = "") {
    return write(ada, {.deed = Deed::kVisit, .about = about, .value = km, .note = note});
  }
  std::string ask(const char* operation) {
    return write(ada, {.deed = Deed::kAsked, .about = operation, .note = "asked"});
  }
  std::string remind(const char* about) {
    return write(ada, {.deed = Deed::kReminded, .about = about, .note = "comes on Tuesday"});
  }
  std::string back(Outcome how = Outcome::kPass, const char* note = "") {
    return write(ada, {.deed = Deed::kBack, .outcome = how, .note = note});
  }
  std::string read(const trade::Person& who, const std::string& operation,
                   const trade::SheetValue& value, int point, std::optional<double> other = {}) {
    DeedWanted wanted{.deed = Deed::kRead, .about = operation, .reading = value.reading,
                      .point = point};
    if (value.pass_or_fail) {
      wanted.outcome = Outcome::kPass;
    } else {
      wanted.value = other.value_or(value.target.value_or(
          value.strictest.least.value_or(value.strictest.most.value_or(1))));
      if (value.dimension == Dimension::kTorque) wanted.tool = "T2";
    }
    return write(who, wanted);
  }
  /// Begins it, reads everything well, and says done.
  std::string work(const trade::Person& who, const std::string& operation) {
    std::string said = write(who, {.deed = Deed::kStarted, .about = operation});
    const BenchState now = state();
    for (const ReadingNow& reading : now.operation(operation)->readings) {
      for (int point = 1; said.empty() && point <= reading.value->count; ++point) {
        said = read(who, operation, *reading.value, point);
      }
    }
    return said.empty() ? write(who, {.deed = Deed::kDone, .about = operation}) : said;
  }
  void work_all(const trade::Person& who) {
    for (const trade::SheetStep& step : sheet.steps) {
      if (state().operation(step.operation)->standing == Standing::kDone) continue;
      ASSERT_EQ(work(step.second_person ? otto : who, step.operation), "") << step.operation;
    }
  }
  void pass_all(const trade::Person& who) {
    for (const trade::SheetCheck& check : sheet.checks) {
      const BenchState now = state();
      const CheckNow* line = now.check(check.id);
      const bool open = line->asked && line->outcome == Outcome::kNone &&
                        (check.list == trade::kCareList || !line->because.empty());
      if (!open) continue;
      ASSERT_EQ(write(who, {.deed = Deed::kChecked, .about = check.id, .outcome = Outcome::kPass}),
                "") << check.id;
    }
  }

  /// As far as the rules let them.
  void try_all(const trade::Person& who) {
    for (const trade::SheetStep& step : sheet.steps) {
      if (state().operation(step.operation)->standing == Standing::kDone) continue;
      (void)work(step.second_person ? otto : who, step.operation);
    }
  }
  void try_checks(const trade::Person& who) {
    for (const trade::SheetCheck& check : sheet.checks) {
      const BenchState now = state();
      const CheckNow* line = now.check(check.id);
      if (line->outcome == Outcome::kPass || (line->because.empty() && !line->asked)) continue;
      (void)write(who, {.deed = Deed::kChecked, .about = check.id, .outcome = Outcome::kPass});
    }
  }

  /// Mends what is at fault and does again what did not pass.
  void put_right(const trade::Person& who) {
    for (const trade::SheetStep& step : sheet.steps) {
      if (state().operation(step.operation)->fault.empty()) continue;
      (void)write(who, {.deed = Deed::kMended, .about = step.operation, .note = "x"});
    }
    for (const trade::SheetCheck& check : sheet.checks) {
      if (state().check(check.id)->outcome != Outcome::kFix) continue;
      for (const std::string& covered : check.covers) {
        (void)write(who, {.deed = Deed::kRedo, .about = covered, .note = "x"});
      }
    }
    try_all(who);
    try_checks(&who == &ida ? otto : ida);
  }

  trade::Sheet sheet;
  trade::Person ada = person("ada", {"AD"});
  trade::Person ida = person("ida", {"L3", "WB", "LE", "AD", "DG"});
  trade::Person otto = person("otto", {"L3", "WB", "LE", "AD", "DG"});
  trade::Tool wrench{.id = "T2", .name = "wrench T2", .calibrated = parse_day("2026-03-01").value()};
  std::vector<trade::BikeLine> lines;
  Instant clock = parse_instant("2026-11-30T08:00:00Z").value();
};

bool has(const std::string& text, std::string_view piece) {
  return text.find(piece) != std::string::npos;
}

std::vector<std::string> asked_in(const BenchState& state) {
  std::vector<std::string> asked;
  for (const OperationNow& now : state.operations) {
    if (now.step->care && now.asked) asked.push_back(now.step->operation);
  }
  return asked;
}

std::vector<std::string> lines_asked(const BenchState& state) {
  std::vector<std::string> asked;
  for (const CheckNow& now : state.checks) {
    if (now.check->list == trade::kCareList && now.asked) asked.push_back(now.check->id);
  }
  return asked;
}

using Names = std::vector<std::string>;

TEST(Visit, ARiderIsToldWhileTheBikeIsNotHere) {
  InCare bike;
  EXPECT_TRUE(has(bike.remind(""), "say what the rider was told"));
  EXPECT_EQ(bike.remind("yearly service"), "");
  EXPECT_EQ(bike.lines.back().note, "comes on Tuesday");
  EXPECT_EQ(bike.comes("yearly service"), "");
  EXPECT_TRUE(has(bike.remind("yearly service"), "nobody need be told to come"));
  InCare not_yet(false);
  EXPECT_TRUE(has(not_yet.remind("yearly service"), "not in care yet"));
}

TEST(Care, StandsOnTheSheetOfABikeInCareAloneAndIsOpenOnlyOnceItIsAskedFor) {
  const InCare built(false);
  EXPECT_TRUE(std::ranges::none_of(built.sheet.steps, &trade::SheetStep::care));
  EXPECT_TRUE(std::ranges::none_of(built.sheet.checks, [](const trade::SheetCheck& check) {
    return check.list == trade::kCareList;
  }));
  const InCare bike;
  EXPECT_EQ(bike.sheet.minutes_high, built.sheet.minutes_high);
  const BenchState now = bike.state();
  EXPECT_TRUE(asked_in(now).empty());
  EXPECT_TRUE(lines_asked(now).empty());
  EXPECT_TRUE(open_in_visit(now).empty());
  for (const OperationNow& operation : now.operations) {
    EXPECT_EQ(operation.standing, Standing::kDone) << operation.step->operation;
  }
}

TEST(Care, HasOperationsOfWhatTheBikeHas) {
  const InCare bike;
  const BenchState now = bike.state();
  EXPECT_NE(now.operation("C-30"), nullptr) << "it has a chain";
  EXPECT_EQ(now.operation("C-35"), nullptr) << "it has no belt";
  EXPECT_EQ(now.operation("C-26"), nullptr) << "it has no rim brakes";
  const trade::SheetStep& care = *now.operation("C-10")->step;
  const trade::SheetStep& built = *now.operation("A-20")->step;
  const auto face_plate = [](const trade::SheetStep& step) {
    return std::ranges::find(step.values, "faceplate_bolts", &trade::SheetValue::reading);
  };
  ASSERT_NE(face_plate(care), care.values.end());
  EXPECT_EQ(face_plate(care)->range_text, face_plate(built)->range_text) << "as it was built";
}

TEST(Care, AVisitIsOpenedOnceByWhoeverTakesTheBikeInAndGivenBackWhenNothingIsOpen) {
  InCare bike;
  EXPECT_TRUE(has(bike.back(), "no visit of this bike is open"));
  EXPECT_TRUE(has(bike.ask("C-10"), "no visit of this bike is open"));
  EXPECT_TRUE(has(bike.comes(""), "say what the bike comes for"));
  EXPECT_EQ(bike.comes("first service", 412.0, "squeals"), "");
  EXPECT_TRUE(has(bike.comes("repair"), "(first service) is not over"));
  for (const char* operation : {"C-10", "C-30", "C-95"}) EXPECT_EQ(bike.ask(operation), "");
  EXPECT_TRUE(has(bike.ask("C-10"), "asked for already"));
  EXPECT_EQ(asked_in(bike.state()), (Names{"C-10", "C-30", "C-95"}));
  EXPECT_EQ(lines_asked(bike.state()), (Names{"K1", "K2", "K4", "K6", "K8", "K9", "K10"}));
  const std::string open = bike.back();
  for (const char* piece : {"C-10 (", "C-95 (", "K2 is open", "K9 is open"}) {
    EXPECT_TRUE(has(open, piece)) << open;
  }
  EXPECT_TRUE(has(bike.work(bike.ada, "C-10"), "does not have that skill"));
  bike.work_all(bike.ida);
  EXPECT_TRUE(has(bike.write(bike.ida, {.deed = Deed::kChecked, .about = "K2",
                                        .outcome = Outcome::kPass}),
                  "signed by a second person"));
  bike.pass_all(bike.otto);
  EXPECT_EQ(open_in_visit(bike.state()), Names{});
  EXPECT_TRUE(has(bike.back(Outcome::kNone), "say pass, or stop"));
  EXPECT_EQ(bike.back(), "");
  EXPECT_EQ(bike.state().open_visit(), nullptr);
  const VisitNow visit = bike.state().visits.front();
  EXPECT_EQ(visit.km, 412.0);
  EXPECT_EQ(visit.asked, (Names{"C-10", "C-30", "C-95"}));
  EXPECT_EQ(visit.how, Outcome::kPass);
  EXPECT_EQ(visit.back_by, bike.ada.id);
}

TEST(Care, NothingIsDoneToABikeInCareOutsideAVisit) {
  InCare bike;
  EXPECT_TRUE(has(bike.write(bike.ida, {.deed = Deed::kRedo, .about = "A-20", .note = "creaks"}),
                  "no visit of this bike is open"));
  InCare building(false);
  EXPECT_TRUE(has(building.comes("first service"), "is not in care yet"));
}

TEST(Care, WorkOfBuildingThatIsAskedForIsCheckedAgainByWhoeverCheckedItBefore) {
  InCare bike;
  ASSERT_EQ(bike.comes("recall R1"), "");
  ASSERT_EQ(bike.ask("A-20"), "");
  std::set<std::string> open;
  for (const OperationNow& now : bike.state().operations) {
    if (now.standing == Standing::kRedo) open.insert(now.step->operation);
  }
  EXPECT_TRUE(open.contains("A-20"));
  EXPECT_TRUE(open.contains("T-10")) << "the audit by a second person";
  EXPECT_TRUE(open.contains("T-40")) << "the ride";
  bike.work_all(bike.ida);
  bike.pass_all(bike.otto);
  EXPECT_EQ(bike.back(), "");
}

TEST(Care, WhatIsAskedForLateOpensTheRideAgain) {
  InCare bike;
  ASSERT_EQ(bike.comes("first service"), "");
  for (const char* operation : {"C-15", "C-95"}) ASSERT_EQ(bike.ask(operation), "");
  bike.work_all(bike.ida);
  ASSERT_EQ(bike.state().operation("C-95")->standing, Standing::kDone);
  ASSERT_EQ(bike.ask("C-10"), "");
  EXPECT_EQ(bike.state().operation("C-95")->standing, Standing::kRedo);
}

TEST(Care, AValueOutsideAStopKeepsTheBikeUnlessItGoesNotToBeRidden) {
  InCare bike;
  ASSERT_EQ(bike.comes("half-yearly service"), "");
  ASSERT_EQ(bike.ask("C-25"), "");
  ASSERT_EQ(bike.write(bike.ida, {.deed = Deed::kStarted, .about = "C-25"}), "");
  const BenchState now = bike.state();
  const auto& readings = now.operation("C-25")->readings;
  const auto pads = std::ranges::find(readings, "pad_material_front", [](const ReadingNow& each) {
    return each.value->reading;
  });
  ASSERT_NE(pads, readings.end());
  ASSERT_EQ(bike.read(bike.ida, "C-25", *pads->value, 1, 0.3), "");
  ASSERT_EQ(bike.state().stops.size(), 1U);
  EXPECT_TRUE(has(bike.back(), "outside the stop limit"));
  EXPECT_TRUE(has(bike.back(Outcome::kStop), "why the bike is not to be ridden"));
  EXPECT_EQ(bike.back(Outcome::kStop, "pads gone; told not to ride, new ones are ordered"), "");
  // Until it comes back nobody works on it, and the clock of who was at it stands still.
  EXPECT_EQ(bike.state().operation("C-25")->standing, Standing::kPaused);
  EXPECT_FALSE(bike.state().operation("C-25")->running_since);
  for (const Deed deed : {Deed::kStarted, Deed::kRedo, Deed::kFault, Deed::kDone}) {
    EXPECT_TRUE(has(bike.write(bike.ida, {.deed = deed, .about = "C-25", .note = "x"}),
                    "no visit of this bike is open"))
        << trade::word_of(deed);
  }
  EXPECT_TRUE(has(bike.write(bike.otto, {.deed = Deed::kChecked, .about = "K9",
                                         .outcome = Outcome::kPass}),
                  "no visit of this bike is open"));
  EXPECT_EQ(bike.write(bike.ada, {.deed = Deed::kNoted, .note = "rider called"}), "");
  // The next visit finds what was left open.
  ASSERT_EQ(bike.comes("repair"), "");
  EXPECT_EQ(asked_in(bike.state()), Names{"C-25"});
  EXPECT_TRUE(has(bike.back(), "C-25"));
  ASSERT_EQ(bike.write(bike.ida, {.deed = Deed::kRedo, .about = "C-25", .note = "new pads"}), "");
  bike.work_all(bike.ida);
  bike.pass_all(bike.otto);
  EXPECT_EQ(bike.back(), "");
}

TEST(Care, WhatTheRiderDoesNotWantIsLeftOutWithItsReasonAndStopLinesStay) {
  InCare bike;
  ASSERT_EQ(bike.comes("first service"), "");
  for (const char* operation : {"C-25", "C-30", "C-95"}) ASSERT_EQ(bike.ask(operation), "");
  const auto leave = [&](const char* operation, const char* why) {
    return bike.write(bike.ada, {.deed = Deed::kLeftOut, .about = operation, .note = why});
  };
  EXPECT_TRUE(has(leave("C-30", ""), "why it is left out"));
  EXPECT_TRUE(has(leave("C-10", "x"), "not asked for"));
  EXPECT_TRUE(has(leave("A-20", "x"), "done"));
  EXPECT_EQ(leave("C-30", "cleans it at home"), "");
  EXPECT_EQ(leave("C-25", "rider is in a hurry"), "");
  EXPECT_EQ(asked_in(bike.state()), Names{"C-95"});
  // K6 covered the chain alone; K3 is a stop line, and somebody tries the brakes all the same.
  EXPECT_EQ(lines_asked(bike.state()), (Names{"K1", "K3", "K8", "K9", "K10"}));
  ASSERT_EQ(bike.write(bike.ida, {.deed = Deed::kStarted, .about = "C-95"}), "");
  EXPECT_TRUE(has(leave("C-95", "too late"), "running"));
  ASSERT_EQ(bike.ask("C-15"), "");
  ASSERT_EQ(bike.write(bike.ida, {.deed = Deed::kFault, .about = "C-15", .note = "play"}), "");
  ASSERT_EQ(bike.write(bike.ida, {.deed = Deed::kRedo, .about = "C-15", .note = "set"}), "");
  EXPECT_NE(leave("C-15", "no time"), "") << "a fault is not left out";
}

TEST(Care, KmGoUpUnlessSomebodySaysWhyNot) {
  InCare bike;
  ASSERT_EQ(bike.comes("first service", 412.0), "");
  ASSERT_EQ(bike.back(Outcome::kStop, "test"), "");
  EXPECT_TRUE(has(bike.comes("repair", 120.0), "it had 412 km at its last visit"));
  EXPECT_TRUE(has(bike.comes("repair", -1.0), "between 0 and"));
  EXPECT_TRUE(has(bike.comes("repair", 2e6), "between 0 and"));
  EXPECT_EQ(bike.comes("repair", 120.0, "new display"), "");
  EXPECT_EQ(last_km(bike.state()), 120.0);
}

TEST(Care, AnotherPartGoesOnWithItsReason) {
  InCare bike;
  ASSERT_EQ(bike.comes("repair"), "");
  const DeedWanted other{.deed = Deed::kOn, .about = "stem", .part = trade::PartId("ST-OTHER"),
                         .lot = "L9"};
  EXPECT_TRUE(has(bike.write(bike.ida, other), "why another part"));
  DeedWanted with_reason = other;
  with_reason.note = "the old one is not made any more";
  EXPECT_EQ(bike.write(bike.ida, with_reason), "");
  const BenchState now = bike.state();
  EXPECT_EQ(now.in_place("stem")->part.text, "ST-OTHER");
}

/// Random deeds: what the rules let through never leaves a visit in two states, and a bike that is given
/// back to be ridden has nothing open; playing on is playing anew.
TEST(Care, HoldsForWhateverPeopleDo) {
  constexpr int kBikes = 12;
  int given_back = 0;
  for (int seed = 1; seed <= kBikes; ++seed) {
    InCare bike;
    Random random(static_cast<std::uint64_t>(seed));
    BenchState played = bike.state();
    for (int step = 0; step < 60; ++step) {
      const auto& steps = bike.sheet.steps;
      const std::string operation = steps[random.below(steps.size())].operation;
      const std::string check =
          bike.sheet.checks[random.below(bike.sheet.checks.size())].id;
      const trade::Person& who = random.below(2) == 0 ? bike.ida : bike.otto;
      const std::size_t before = bike.lines.size();
      const bool was_open = played.open_visit() != nullptr;
      const auto open = open_in_visit(played);
      switch (random.below(9)) {
        case 0: (void)bike.comes("repair"); break;
        case 1: (void)bike.ask(operation.c_str()); break;
        case 2: bike.try_all(who); break;
        case 3: (void)bike.write(who, {.deed = Deed::kChecked, .about = check,
                                       .outcome = Outcome::kFix, .note = "x"}); break;
        case 4: bike.try_checks(who); break;
        case 5: (void)bike.write(who, {.deed = Deed::kLeftOut, .about = operation, .note = "x"}); break;
        case 6: (void)bike.write(who, {.deed = Deed::kFault, .about = operation, .note = "x"}); break;
        case 7: bike.put_right(who); break;
        default:
          if (bike.back().empty()) {
            ++given_back;
            EXPECT_TRUE(was_open) << "seed " << seed;
            EXPECT_EQ(open, Names{}) << "seed " << seed;
          }
      }
      for (std::size_t line = before; line < bike.lines.size(); ++line) {
        play_on(bike.sheet, bike.lines[line], played);
      }
      ASSERT_EQ(played, bike.state()) << "seed " << seed << ", step " << step;
    }
  }
  EXPECT_GT(given_back, kBikes / 4) << "the test has to get somewhere";
}

}  // namespace
}  // namespace rollwright::build

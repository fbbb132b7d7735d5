#include "build/bench_writing.hpp"

#include <algorithm>
#include <array>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "build/worked_bike.hpp"

namespace rollwright::build {
namespace {

using trade::Deed;
using trade::Outcome;

constexpr std::array<std::string_view, 3> kEyes = {"A-20", "A-61", "N-40"};
const Instant kMonday = parse_instant("2026-11-23T08:00:00Z").value();

trade::Person person(const char* id, std::vector<std::string> skills) {
  return {.id = trade::PersonId(id), .name = id, .roles = {"bench"}, .skills = std::move(skills)};
}

/// A bike at the stand and the people around it.
class Stand {
 public:
  Stand() : sheet(worked_bike().sheet(shipped_trade()).value()) {}

  Result<void> write(const trade::Person& who, DeedWanted wanted) {
    wanted.at = clock;
    clock += std::chrono::minutes(5);
    const BenchState now = state();
    const auto line =
        judge({.sheet = sheet, .state = now, .person = who, .wanted = wanted,
               .tool = wanted.tool.empty() ? nullptr : &wrench, .four_eyes = kEyes,
               .blocked = blocked});
    if (!line) return std::unexpected(line.error());
    lines.push_back(*line);
    return {};
  }
  BenchState state() const { return bench_state(sheet, lines); }

  /// Everything of an operation for two but saying who lends a hand.
  void do_alone(const std::string& operation) {
    std::ranges::find(sheet.steps, operation, &trade::SheetStep::operation)->hands = 2;
    do_until(operation);
    ASSERT_TRUE(write(ida, {.deed = Deed::kStarted, .about = operation}));
    const BenchState now = state();
    for (const ReadingNow& reading : now.operation(operation)->readings) {
      for (int point = 1; point <= reading.value->count; ++point) {
        ASSERT_TRUE(write(ida, good(operation, *reading.value, point)));
      }
    }
  }

  /// A value inside the limits.
  static DeedWanted good(const std::string& operation, const trade::SheetValue& value, int point) {
    DeedWanted wanted{.deed = Deed::kRead, .about = operation, .reading = value.reading,
                      .point = point, .outcome = Outcome::kPass};
    if (value.pass_or_fail) return wanted;
    wanted.outcome = Outcome::kNone;
    wanted.value = value.target.value_or(value.strictest.least.value_or(
        value.strictest.most.value_or(1)));
    if (value.dimension == Dimension::kTorque) wanted.tool = "T2";
    return wanted;
  }

  /// Begins the operation, takes every reading well and says done.
  void do_all(const trade::Person& who, const std::string& operation) {
    if (operation == "A-30") {
      ASSERT_TRUE(write(who, {.deed = Deed::kPaired, .about = "front_wheel"}));
      ASSERT_TRUE(write(who, {.deed = Deed::kPaired, .about = "rear_wheel"}));
    }
    const auto started = write(who, {.deed = Deed::kStarted, .about = operation});
    ASSERT_TRUE(started) << operation << ": " << started.error().full();
    const BenchState now = state();
    for (const ReadingNow& reading : now.operation(operation)->readings) {
      for (int point = 1; point <= reading.value->count; ++point) {
        const auto read = write(who, good(operation, *reading.value, point));
        ASSERT_TRUE(read) << reading.value->reading << ": " << read.error().full();
      }
    }
    if (now.operation(operation)->lacks_hands()) {
      ASSERT_TRUE(write(who, {.deed = Deed::kHand, .about = operation, .serial = "mo"}));
    }
    const auto done = write(who, {.deed = Deed::kDone, .about = operation});
    ASSERT_TRUE(done) << operation << ": " << done.error().full();
  }
  /// All that comes before it, by Ida; audits by Otto.
  void do_until(const std::string& last) {
    for (const trade::SheetStep& step : sheet.steps) {
      if (step.operation == last) return;
      do_all(step.second_person ? otto : ida, step.operation);
      if (testing::Test::HasFatalFailure()) return;
    }
  }

  trade::Sheet sheet;
  trade::Person ida = person("ida", {"L3", "WB", "LE", "AD", "DG"});
  trade::Person otto = person("otto", {"L3", "WB", "LE", "AD", "DG"});
  trade::Person tim = person("tim", {"L1"});
  trade::Tool wrench{.id = "T2", .name = "wrench T2", .calibrated = parse_day("2026-03-01").value()};
  std::vector<trade::BikeLine> lines;
  std::string blocked;
  Instant clock = kMonday;
};

std::string refused(const Result<void>& result) {
  return result ? std::string() : result.error().sentence;
}

TEST(Bench, AWholeBikeGoesThroughWithTwoPeopleAndIsDoneEverywhere) {
  Stand stand;
  stand.do_until("");
  const BenchState state = stand.state();
  for (const OperationNow& now : state.operations) {
    EXPECT_EQ(now.standing, Standing::kDone) << now.step->operation;
  }
  EXPECT_TRUE(state.stops.empty());
  EXPECT_GT(stand.lines.size(), 200U);
}

TEST(Bench, StartsNothingBeforeWhatItComesAfter) {
  Stand stand;
  for (const trade::SheetStep& step : stand.sheet.steps) {
    const auto started = stand.write(stand.ida, {.deed = Deed::kStarted, .about = step.operation});
    EXPECT_EQ(started.has_value(), step.after.empty()) << step.operation;
    if (!started) {
      EXPECT_NE(started.error().sentence.find("comes after"), std::string::npos);
    }
    stand.lines.clear();
  }
}

TEST(Bench, RefusesWhoLacksTheSkill) {
  Stand stand;
  stand.do_until("A-20");
  EXPECT_EQ(stand.write(stand.tim, {.deed = Deed::kStarted, .about = "A-20"}).error().code,
            Code::kNotAllowed);
}

TEST(Bench, DoesNotTakeAnOperationAsDoneWhileAReadingIsMissing) {
  Stand stand;
  stand.do_until("A-20");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-20"}));
  const auto done = stand.write(stand.ida, {.deed = Deed::kDone, .about = "A-20"});
  EXPECT_NE(refused(done).find("is not written down"), std::string::npos) << refused(done);
}

TEST(Bench, AValueOutsideIsWrittenAndThenWantsARedo) {
  Stand stand;
  stand.do_until("A-20");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-20"}));
  const BenchState begun = stand.state();
  const ReadingNow* torque = nullptr;
  for (const ReadingNow& reading : begun.operation("A-20")->readings) {
    if (reading.value->reading == "stem_steerer_bolts") torque = &reading;
  }
  ASSERT_NE(torque, nullptr);
  DeedWanted high = Stand::good("A-20", *torque->value, 1);
  high.value = *torque->value->strictest.most + 3;
  ASSERT_TRUE(stand.write(stand.ida, high));
  EXPECT_EQ(stand.lines.back().outcome, Outcome::kStop);  // this one stops the bike
  EXPECT_EQ(stand.state().stops.size(), 1U);
  // Not read again in silence, not done, and nothing else begun.
  EXPECT_FALSE(stand.write(stand.ida, Stand::good("A-20", *torque->value, 1)));
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kDone, .about = "A-20"}));
  const auto other = stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-21"});
  EXPECT_FALSE(other);
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kRedo, .about = "A-20"}));  // no reason
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kRedo, .about = "A-20",
                                      .note = "bolts taken out, greased, set again"}));
  EXPECT_TRUE(stand.state().stops.empty());
  stand.do_all(stand.ida, "A-20");
  EXPECT_EQ(stand.state().operation("A-20")->standing, Standing::kDone);
}

TEST(Bench, ATorqueWantsAWrenchThatIsInCalibration) {
  Stand stand;
  stand.do_until("A-20");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-20"}));
  const BenchState begun = stand.state();
  for (const ReadingNow& reading : begun.operation("A-20")->readings) {
    if (reading.value->dimension != Dimension::kTorque) continue;
    DeedWanted wanted = Stand::good("A-20", *reading.value, 1);
    wanted.tool.clear();
    EXPECT_EQ(stand.write(stand.ida, wanted).error().place.field, "tool");
    wanted.tool = "T2";
    stand.wrench.calibrated = parse_day("2025-01-01").value();
    EXPECT_EQ(stand.write(stand.ida, wanted).error().code, Code::kRefused);
    stand.wrench.calibrated.reset();
    EXPECT_EQ(stand.write(stand.ida, wanted).error().code, Code::kRefused);
    stand.wrench.calibrated = parse_day("2026-03-01").value();
    stand.wrench.measures = Dimension::kForce;
    EXPECT_EQ(stand.write(stand.ida, wanted).error().code, Code::kContradiction);
    stand.wrench.measures = Dimension::kTorque;
    stand.wrench.out_of_use = true;
    EXPECT_EQ(stand.write(stand.ida, wanted).error().code, Code::kRefused);
    stand.wrench.out_of_use = false;
    EXPECT_TRUE(stand.write(stand.ida, wanted));
    return;
  }
  FAIL() << "A-20 sets no torque";
}

TEST(Bench, TheAuditIsNotDoneByWhoDidTheSteering) {
  Stand stand;
  stand.do_until("T-10");
  EXPECT_EQ(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "T-10"}).error().code,
            Code::kNotAllowed);
  EXPECT_TRUE(stand.write(stand.otto, {.deed = Deed::kStarted, .about = "T-10"}));
}

TEST(Bench, WheelsAreScannedAtTheirFrameBeforeTheyHang) {
  Stand stand;
  stand.do_until("A-30");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-30"}));
  const BenchState begun = stand.state();
  for (const ReadingNow& reading : begun.operation("A-30")->readings) {
    for (int point = 1; point <= reading.value->count; ++point) {
      ASSERT_TRUE(stand.write(stand.ida, Stand::good("A-30", *reading.value, point)));
    }
  }
  EXPECT_NE(refused(stand.write(stand.ida, {.deed = Deed::kDone, .about = "A-30"}))
                .find("rear wheel was not scanned"),
            std::string::npos);
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kPaired, .about = "third_wheel"}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kPaired, .about = "front_wheel"}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kPaired, .about = "rear_wheel"}));
  EXPECT_TRUE(stand.write(stand.ida, {.deed = Deed::kDone, .about = "A-30"}));
}

TEST(Bench, EveryLineMarkedSIsSignedByASecondPersonAndNeverWaived) {
  Stand stand;
  stand.do_until("");
  int tried = 0;
  for (const trade::SheetCheck& check : stand.sheet.checks) {
    if (check.mark != "S" || check.covers.empty()) continue;
    const bool covers_any = std::ranges::any_of(check.covers, [&](const std::string& id) {
      return stand.state().operation(id) != nullptr;
    });
    const DeedWanted pass{.deed = Deed::kChecked, .about = check.id, .outcome = Outcome::kPass};
    if (covers_any) {
      EXPECT_EQ(stand.write(stand.ida, pass).error().code, Code::kNotAllowed) << check.id;
    }
    EXPECT_FALSE(stand.write(stand.otto, {.deed = Deed::kChecked, .about = check.id}));
    EXPECT_TRUE(stand.write(stand.otto, pass)) << check.id;
    ++tried;
  }
  EXPECT_GE(tried, 12);
}

TEST(Bench, WorkForTwoIsNotDoneBeforeItIsSaidWhoLendsAHand) {
  Stand stand;
  stand.do_alone("A-20");
  const DeedWanted done{.deed = Deed::kDone, .about = "A-20"};
  EXPECT_NE(refused(stand.write(stand.ida, done))
                .find("2 people are at it at once: say who lends a hand, or why nobody is needed"),
            std::string::npos);
  const DeedWanted own{.deed = Deed::kHand, .about = "A-20", .serial = "ida"};
  EXPECT_EQ(stand.write(stand.ida, own).error().code, Code::kContradiction);
  const DeedWanted nobody{.deed = Deed::kHand, .about = "A-20"};
  EXPECT_EQ(stand.write(stand.ida, nobody).error().place.field, "note");
  const DeedWanted by_otto{.deed = Deed::kHand, .about = "A-20", .serial = "otto"};
  EXPECT_EQ(stand.write(stand.tim, by_otto).error().code, Code::kNotAllowed) << "is not at it";
  EXPECT_EQ(stand.state().operation("A-20")->helpers.size(), 0U);
  ASSERT_TRUE(stand.write(stand.ida, by_otto));
  EXPECT_TRUE(stand.write(stand.ida, done)) << "though Otto never started it";
  EXPECT_EQ(stand.state().operation("A-20")->doers, std::vector{stand.ida.id});
}

TEST(Bench, WhoLentAHandIsNoSecondPersonForThatWork) {
  Stand stand;
  stand.do_alone("A-20");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kHand, .about = "A-20", .serial = "otto"}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kDone, .about = "A-20"}));
  const trade::Person ada = person("ada", {"L3", "WB", "LE", "AD", "DG"});
  for (const trade::SheetStep& step : stand.sheet.steps) {
    if (step.operation == "T-10") break;
    if (stand.state().operation(step.operation)->standing != Standing::kDone) {
      stand.do_all(stand.ida, step.operation);
    }
  }
  const DeedWanted audit{.deed = Deed::kStarted, .about = "T-10"};
  EXPECT_NE(refused(stand.write(stand.otto, audit)).find("otto lent a hand at A-20"),
            std::string::npos);
  EXPECT_TRUE(stand.write(ada, audit)) << "had no hand in it";
  const DeedWanted pass{.deed = Deed::kChecked, .about = "D3", .outcome = Outcome::kPass};
  EXPECT_EQ(stand.write(stand.otto, pass).error().code, Code::kNotAllowed);
}

TEST(Bench, NobodyLendsAHandForAReasonAndWorkDoneAgainAsksAnew) {
  Stand stand;
  stand.do_alone("A-20");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kHand, .about = "A-20", .note = "with a lift"}));
  EXPECT_EQ(stand.state().operation("A-20")->no_helper, "with a lift");
  EXPECT_TRUE(stand.write(stand.ida, {.deed = Deed::kDone, .about = "A-20"}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kRedo, .about = "A-20", .note = "preload"}));
  EXPECT_TRUE(stand.state().operation("A-20")->lacks_hands());
  EXPECT_EQ(stand.state().operation("A-20")->no_helper, "");
}

TEST(Bench, WorkForOneAsksForNoHand) {
  Stand stand;
  stand.do_until("A-20");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-20"}));
  EXPECT_FALSE(stand.state().operation("A-20")->lacks_hands());
  EXPECT_NE(refused(stand.write(stand.ida, {.deed = Deed::kHand, .about = "A-20", .serial = "otto"}))
                .find("is work for one person"),
            std::string::npos);
}

TEST(Bench, AStopOnAListKeepsEverythingButItsMendingFromBeingBegun) {
  Stand stand;
  stand.do_until("T-20");
  ASSERT_TRUE(stand.write(stand.otto, {.deed = Deed::kChecked, .about = "D3",
                                       .outcome = Outcome::kStop, .note = "play in the steering"}));
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "T-20"}));
  EXPECT_FALSE(stand.write(stand.otto, {.deed = Deed::kChecked, .about = "D3",
                                        .outcome = Outcome::kPass}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kRedo, .about = "A-20", .note = "preload"}));
  // What the redo touches is open again: the audit by a second person, and the line itself.
  EXPECT_EQ(stand.state().operation("T-10")->standing, Standing::kRedo);
  EXPECT_EQ(stand.state().check("D3")->outcome, Outcome::kNone);
  EXPECT_FALSE(stand.write(stand.otto, {.deed = Deed::kChecked, .about = "D3",
                                        .outcome = Outcome::kPass}));  // not done yet
  stand.do_all(stand.ida, "A-20");
  EXPECT_TRUE(stand.write(stand.otto, {.deed = Deed::kChecked, .about = "D3",
                                       .outcome = Outcome::kPass}));
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "T-20"}));
  stand.do_all(stand.otto, "T-10");
  EXPECT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "T-20"}));
}

TEST(Bench, AFaultKeepsItsOperationOpenUntilItIsMended) {
  Stand stand;
  stand.do_until("A-20");
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-20"}));
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kFault, .about = "A-20"}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kFault, .about = "A-20", .note = "thread torn"}));
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-20"}));
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kMended, .about = "A-20"}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kMended, .about = "A-20", .note = "new stem"}));
  EXPECT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "A-20"}));
}

TEST(Bench, NobodyWorksOnABikeThatIsBlocked) {
  Stand stand;
  stand.blocked = "a part of this bike is on stop-sale";
  EXPECT_EQ(refused(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "G-10"})),
            stand.blocked);
}

TEST(Bench, APartIsBoundByItsNumberOnceAndComesOffWithAReason) {
  Stand stand;
  DeedWanted stem{.deed = Deed::kKitted, .about = "stem", .part = trade::PartId("X-stem"),
                  .serial = {}, .lot = "L7"};
  DeedWanted other = stem;
  other.part = trade::PartId("X-handlebar");
  EXPECT_EQ(stand.write(stand.ida, other).error().code, Code::kContradiction);
  DeedWanted nameless = stem;
  nameless.lot.clear();
  EXPECT_FALSE(stand.write(stand.ida, nameless));
  ASSERT_TRUE(stand.write(stand.ida, stem));
  EXPECT_EQ(stand.write(stand.ida, stem).error().code, Code::kConflict);
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kOff, .about = "stem"}));
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kOff, .about = "stem", .note = "clamp cracked"}));
  EXPECT_EQ(stand.state().in_place("stem"), nullptr);
  stem.deed = Deed::kOn;
  stem.lot = "L8";
  EXPECT_TRUE(stand.write(stand.ida, stem));
  EXPECT_EQ(stand.state().in_place("stem")->lot, "L8");
  EXPECT_EQ(stand.state().parts.size(), 2U);
}

TEST(Bench, MinutesCountFromStartedToPausedAndDone) {
  Stand stand;
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "G-10"}));
  EXPECT_FALSE(stand.write(stand.ida, {.deed = Deed::kPaused, .about = "G-10"}));  // 5 minutes
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kPaused, .about = "G-10", .note = "lunch"}));
  stand.clock += std::chrono::minutes(60);
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kStarted, .about = "G-10"}));
  stand.clock += std::chrono::minutes(10);
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kDone, .about = "G-10"}));
  const BenchState state = stand.state();
  double minutes = 0;
  for (const auto& [who, each] : state.operation("G-10")->minutes) minutes += each;
  EXPECT_NEAR(minutes, 10 + 15, 1e-9);
}

/// The limits of the trade's row on wheel run-out: passes to 0.5 mm, stops above 0.8 mm.
TEST(Bench, BetweenPassAndStopIsToBeMended) {
  trade::SheetValue run_out{.stop = true, .stop_above = 0.8, .strictest = {.most = 0.5}};
  EXPECT_EQ(outcome_of(run_out, 0.5), Outcome::kPass);
  EXPECT_EQ(outcome_of(run_out, 0.51), Outcome::kFix);
  EXPECT_EQ(outcome_of(run_out, 0.8), Outcome::kFix);
  EXPECT_EQ(outcome_of(run_out, 0.81), Outcome::kStop);
  trade::SheetValue torque{.stop = true, .strictest = {.least = 4.0, .most = 6.0}};
  EXPECT_EQ(outcome_of(torque, 3.9), Outcome::kStop);
  trade::SheetValue soft{.strictest = {.least = 4.0, .most = 6.0}};
  EXPECT_EQ(outcome_of(soft, 6.1), Outcome::kFix);
}

/// Random deeds of three people: whatever is written, nothing unsafe is ever so.
TEST(Bench, NoCourseOfDeedsEndsInAnOperationThatIsDoneUnproven) {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Random random(seed);
    Stand stand;
    BenchState played_on = stand.state();
    std::size_t played = 0;
    const std::array<const trade::Person*, 3> people = {&stand.ida, &stand.otto, &stand.tim};
    for (int turn = 0; turn < 250; ++turn) {
      const BenchState now = stand.state();
      const OperationNow& operation =
          now.operations[random.below(std::min<std::size_t>(now.operations.size(), 14))];
      DeedWanted wanted{.deed = trade::all_deeds()[random.below(trade::all_deeds().size())],
                        .about = operation.step->operation, .note = random.below(4) ? "so" : ""};
      if (wanted.deed == Deed::kRead && !operation.readings.empty()) {
        const ReadingNow& reading = operation.readings[random.below(operation.readings.size())];
        wanted = Stand::good(wanted.about, *reading.value,
                             1 + static_cast<int>(random.below(
                                     static_cast<std::size_t>(reading.value->count))));
        if (random.below(8) == 0 && wanted.value) wanted.value = *wanted.value * 3 + 5;
      }
      static_cast<void>(stand.write(*people[random.below(people.size())], wanted));
      const BenchState then = stand.state();
      for (; played < stand.lines.size(); ++played) {
        play_on(stand.sheet, stand.lines[played], played_on);
      }
      ASSERT_EQ(played_on, then) << "seed " << seed << " turn " << turn;
      for (const OperationNow& each : then.operations) {
        if (each.standing != Standing::kDone) continue;
        EXPECT_TRUE(each.fault.empty());
        for (const ReadingNow& reading : each.readings) {
          EXPECT_FALSE(reading.outside()) << "seed " << seed << " turn " << turn;
          EXPECT_EQ(reading.taken(), reading.value->count) << "seed " << seed << " turn " << turn;
        }
      }
    }
  }
}

TEST(BenchWriting, JudgesEachDeedOverThoseBeforeItAndPutsNothingThatIsRefused) {
  Stand stand;
  BenchWriting writing(stand.sheet, stand.state());
  const BenchWriter ida{.person = stand.ida};
  const auto write = [&](DeedWanted wanted) {
    wanted.at = stand.clock;
    return writing.add(ida, wanted);
  };
  EXPECT_FALSE(write({.deed = Deed::kPaused, .about = "G-10", .note = "early"}));
  EXPECT_TRUE(writing.lines().empty());
  ASSERT_TRUE(write({.deed = Deed::kStarted, .about = "G-10"}));
  EXPECT_FALSE(write({.deed = Deed::kStarted, .about = "G-10"}));
  ASSERT_TRUE(write({.deed = Deed::kPaused, .about = "G-10", .note = "lunch"}));
  ASSERT_EQ(writing.lines().size(), 2U);
  EXPECT_EQ(writing.lines()[1].number, 2);
  EXPECT_EQ(writing.now(), bench_state(stand.sheet, writing.lines()));
}

TEST(BenchWriting, WhatIsDoneOffTheSheetStaysDone) {
  Stand stand;
  stand.do_all(stand.ida, "G-10");
  std::set<std::string> done = done_by(stand.state(), {"X-99", "G-20"});
  EXPECT_EQ(done, (std::set<std::string>{"G-10", "X-99"})) << "G-20 is on the sheet and not done";
  ASSERT_TRUE(stand.write(stand.ida, {.deed = Deed::kRedo, .about = "G-10", .note = "recount"}));
  done = done_by(stand.state(), done);
  EXPECT_EQ(done, std::set<std::string>{"X-99"});
}

}  // namespace
}  // namespace rollwright::build

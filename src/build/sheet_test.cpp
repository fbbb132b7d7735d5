#include "build/sheet.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "base/text.hpp"
#include "build/worked_bike.hpp"

namespace rollwright::build {
namespace {

const trade::SheetStep* step_named(const trade::Sheet& sheet, const std::string& id) {
  const auto found = std::ranges::find(sheet.steps, id, &trade::SheetStep::operation);
  return found == sheet.steps.end() ? nullptr : &*found;
}

const trade::SheetValue* value_named(const trade::Sheet& sheet, const std::string& id) {
  for (const trade::SheetStep& step : sheet.steps) {
    const auto found = std::ranges::find(step.values, id, &trade::SheetValue::reading);
    if (found != step.values.end()) return &*found;
  }
  return nullptr;
}

TEST(Sheet, OfTheWorkedBikeLeavesNothingOpen) {
  const auto sheet = worked_bike().sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  for (const std::string& question : sheet->open_questions) ADD_FAILURE() << question;
  EXPECT_EQ(sheet->steps.size(), 58u);  // the trekking bike of the process table
  EXPECT_EQ(sheet->minutes_low, 568);
  EXPECT_EQ(sheet->minutes_high, 1088);
  EXPECT_EQ(sheet->frame, "invented frame");
  EXPECT_EQ(sheet->rider, "Invented Rider");
  EXPECT_EQ(sheet->steps.front().number, 1);
}

TEST(Sheet, GivesEveryValueATargetOrALimitAndNamesItsSource) {
  const auto sheet = worked_bike().sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  for (const trade::SheetStep& step : sheet->steps) {
    for (const trade::SheetValue& value : step.values) {
      if (value.pass_or_fail) continue;
      const auto& [least, most, source] = value.strictest;
      EXPECT_TRUE(value.target || least || most) << value.reading;
      EXPECT_TRUE(!(least || most) || !source.empty()) << value.reading;
      EXPECT_TRUE(!(value.target && least) || *value.target >= *least) << value.reading;
      EXPECT_TRUE(!(value.target && most) || *value.target <= *most) << value.reading;
    }
  }
}

/// Operations for which the trade asks for a reading (handbooks and standards; trade notes on
/// readings), as far as this bike has them.
TEST(Sheet, HasAValueInEveryStepThatTheTradeMeasures) {
  const auto sheet = worked_bike().sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  for (const std::string& id :
       split("F-10,F-30,F-40,F-55,F-56,F-70,F-75,A-20,A-21,A-22,W-10,W-40,W-60,W-70,W-80,A-10,A-11,"
             "A-30,A-42,A-50,A-51,A-52,A-60,A-61,A-70,A-80,A-81,A-82,A-85,A-86,T-10,T-30,T-40,"
             "T-50,T-60", ',')) {
    const trade::SheetStep* step = step_named(*sheet, id);
    ASSERT_NE(step, nullptr) << id;
    EXPECT_FALSE(step->values.empty()) << id;
    EXPECT_FALSE(step->steps.empty()) << id;
  }
}

TEST(Sheet, TakesTheStrictestLimitOfHandbookAndPrints) {
  const auto sheet = worked_bike().sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  // Handbook 4 to 6, stem at most 5, bar at most 5.5 N·m.
  const trade::SheetValue* faceplate = value_named(*sheet, "faceplate_bolts");
  ASSERT_NE(faceplate, nullptr);
  EXPECT_EQ(faceplate->strictest.most, 5.0);
  EXPECT_EQ(faceplate->limits.size(), 3u);
  EXPECT_NE(faceplate->strictest.source.find("invented stem"), std::string::npos);
  // At least 80 mm by practice, 90 by the frame, 100 by the post.
  EXPECT_EQ(value_named(*sheet, "post_depth")->strictest.least, 100.0);
  // The post clamps its rails at 10 N·m at most; the handbook's range reaches 20.
  EXPECT_EQ(value_named(*sheet, "saddle_rails")->strictest.most, 10.0);
}

TEST(Sheet, WarnsThatPrintedValuesHoldBesideEveryNumber) {
  const auto sheet = worked_bike().sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  const std::string& printed = shipped_trade().cautions.at("printed_value").sentence;
  for (const trade::SheetStep& step : sheet->steps) {
    if (std::ranges::all_of(step.values, &trade::SheetValue::pass_or_fail)) continue;
    EXPECT_EQ(std::ranges::count(step.cautions, printed), 1) << step.operation;
  }
}

TEST(Sheet, HasTheStopsOfThePreDeliveryListAndOnlyWhatAppliesToThisBike) {
  const auto sheet = worked_bike().sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  const auto has = [&sheet](const std::string& id) {
    return std::ranges::count(sheet->checks, id, &trade::SheetCheck::id) > 0;
  };
  EXPECT_TRUE(has("D3") && has("D4") && has("H16"));
  EXPECT_FALSE(has("D15") || has("A1") || has("H7"));  // no drive, not built by a maker
  EXPECT_GE(std::ranges::count(sheet->checks, "S", &trade::SheetCheck::mark), 15);
}

TEST(Sheet, AsksByPartAndFactAndGivesNoValueMeanwhile) {
  WorkedBike bike = worked_bike();
  bike.parts.at(trade::SlotId("rear_rim")).facts.erase("erd");
  const auto sheet = bike.sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  ASSERT_EQ(sheet->open_questions.size(), 1u);
  EXPECT_NE(sheet->open_questions[0].find("invented rear_rim"), std::string::npos);
  EXPECT_FALSE(value_named(*sheet, "spoke_length_rear_left")->target.has_value());
  EXPECT_FALSE(value_named(*sheet, "tension_rear_right")->target.has_value());
  EXPECT_TRUE(value_named(*sheet, "spoke_length_front_left")->target.has_value());
}

TEST(Sheet, SaysWhichStepsAFactThatIsNotKnownDecidesAbout) {
  WorkedBike bike = worked_bike();
  bike.parts.at(trade::SlotId("frame")).facts.erase("shell_faced");
  const auto sheet = bike.sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  EXPECT_EQ(step_named(*sheet, "F-20"), nullptr);
  EXPECT_TRUE(std::ranges::any_of(sheet->open_questions, [](const std::string& question) {
    return question.find("invented frame") != std::string::npos &&
           question.find("F-20") != std::string::npos;
  }));
}

TEST(Sheet, AsksForEverySlotThatIsStillEmpty) {
  WorkedBike bike = worked_bike();
  bike.parts.clear();
  bike.order.choices.clear();
  const auto sheet = bike.sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  const auto& required = shipped_trade().templates.at("B2").required;
  EXPECT_GE(sheet->open_questions.size(), required.size());
  for (const trade::SheetStep& step : sheet->steps) {
    for (const trade::SheetValue& value : step.values) {
      const trade::Reading& row = *std::ranges::find(shipped_trade().readings, value.reading,
                                                     &trade::Reading::id);
      EXPECT_TRUE(row.compute.empty() || !value.target) << value.reading;
    }
  }
}

TEST(Sheet, MarksWhatIsDone) {
  WorkedBike bike = worked_bike();
  bike.order.done = {"G-10", "G-20"};
  const auto sheet = bike.sheet(shipped_trade());
  ASSERT_TRUE(sheet.has_value());
  EXPECT_EQ(std::ranges::count_if(sheet->steps, &trade::SheetStep::done), 2);
}

TEST(Sheet, RefusesAnUnknownBuildAndAChoiceWithoutAPart) {
  WorkedBike unknown = worked_bike();
  unknown.order.build = "B99";
  const auto sheet = make_sheet({.trade = &shipped_trade(), .order = &unknown.order});
  ASSERT_FALSE(sheet.has_value());
  EXPECT_EQ(sheet.error().code, Code::kNotFound);
  EXPECT_NE(sheet.error().sentence.find("B99"), std::string::npos);

  const WorkedBike bike = worked_bike();
  const auto no_parts = make_sheet({.trade = &shipped_trade(), .order = &bike.order});
  ASSERT_FALSE(no_parts.has_value());
  EXPECT_EQ(no_parts.error().code, Code::kNotFound);
}

}  // namespace
}  // namespace rollwright::build

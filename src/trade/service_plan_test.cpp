#include "trade/service_plan.hpp"

#include <gtest/gtest.h>

#include "trade/load_trade.hpp"

// The plans in these tests are invented.
namespace rollwright::trade {
namespace {

const Trade kTrade = [] {
  Trade trade;
  trade.traits["belt"] = {.id = "belt", .name = "belt", .any_of = {}};
  trade.care = {{.id = "C-1"}, {.id = "C-2"}};
  return trade;
}();
constexpr const char* kHead =
    "visit,repeats,km_low,km_high,weeks_low,weeks_high,hours,trait,work,operations,source\n";

Result<std::vector<ServiceVisit>> read(const std::string& rows) {
  return read_service_plan(kHead + rows, "service_plan.csv", kTrade);
}

TEST(ServicePlan, SaysInWordsWhenAVisitIsDue) {
  const auto plan = read("first,no,200,500,4,8,,,look,C-1 C-2,invented\n"
                         "belt,yes,1500,1500,,,,belt,look,C-1 C-2,invented\n"
                         "fork,yes,,,,,50,,look,C-1 C-2,invented\n");
  ASSERT_TRUE(plan) << plan.error().full();
  EXPECT_EQ(when_in_words(plan->at(0), false),
            "after 200 to 500 km or 4 to 8 weeks, whichever comes first");
  EXPECT_EQ(when_in_words(plan->at(0), true),
            "after 100 to 250 km or 4 to 8 weeks, whichever comes first");
  EXPECT_EQ(when_in_words(plan->at(1), true), "every 750 km");
  EXPECT_EQ(when_in_words(plan->at(2), true), "every 25 hours ridden");
}

struct BadPlan {
  const char* rows;
  const char* field;
  const char* says;
};

TEST(ServicePlan, RefusesNamingTheLineAndTheField) {
  const BadPlan kBad[] = {
      {"a,no,,,,,,,look,C-1,x\n", "km_low", "by km, weeks or hours"},
      {"a,no,600,500,,,,,look,C-1,x\n", "km_high", "not above the second"},
      {"a,no,600,,,,,,look,C-1,x\n", "km_high", "or both empty"},
      {"\"a, b\",no,,,,,50,,look,C-1,x\n", "visit", "has no comma"},
      {"a,no,,,,,50,belly,look,C-1,x\n", "trait", "no trait is called so"},
      {"a,no,,,,,50,,look,C-1,\n", "source", ""},
      {"a,no,,,,,50,,look,,x\n", "operations", ""},
      {"a,no,,,,,50,,look,C-1 C-3,x\n", "operations", "no operation C-3; did you mean"},
      {"a,no,,,,,50,,,C-1,x\n", "work", ""},
      {"a,no,,,,,-1,,look,C-1,x\n", "hours", ""},
  };
  for (const BadPlan& bad : kBad) {
    const auto plan = read(bad.rows);
    ASSERT_FALSE(plan) << bad.rows;
    EXPECT_EQ(plan.error().place.field, bad.field) << plan.error().full();
    EXPECT_EQ(plan.error().place.line, 2) << plan.error().full();
    EXPECT_NE(plan.error().sentence.find(bad.says), std::string::npos) << plan.error().full();
  }
  EXPECT_EQ(read("a,no,,,,,50,,look,C-1,x\na,no,,,,,50,,look,C-1,x\n").error().code, Code::kConflict);
}

TEST(ServicePlan, OfTheTradeDataIsRead) {
  const LoadedTrade loaded = load_trade(ROLLWRIGHT_ROOT "/data/trade");
  const auto plan = load_service_plan(ROLLWRIGHT_ROOT "/data/trade", loaded.trade);
  ASSERT_TRUE(plan) << plan.error().full();
  ASSERT_FALSE(plan->empty());
  EXPECT_FALSE(plan->front().repeats) << "the first row is the first service";
}

}  // namespace
}  // namespace rollwright::trade

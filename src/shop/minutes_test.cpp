#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

#include <gtest/gtest.h>

#include "shop/demo_shop.hpp"

// On the demo of data/demo, which is invented.
namespace rollwright::shop {
namespace {

MinutesLine line_of(const MinutesView& view, const std::string& operation) {
  const auto found = std::ranges::find(view.lines, operation, &MinutesLine::operation);
  EXPECT_NE(found, view.lines.end());
  return *found;
}

TEST(Minutes, WhatWasNotTimedIsAsTheTradeStates) {
  const MinutesLine line = line_of(shared_demo().minutes().value(), "F-10");
  EXPECT_EQ(line.times, 0);
  EXPECT_NEAR(line.low, line.stated_low, 1e-9);
  EXPECT_NEAR(line.high, line.stated_high, 1e-9);
}

TEST(Minutes, TimesTakenMoveTheRangeAndOneForgottenClockHardlyDoes) {
  const MinutesLine line = line_of(shared_demo().minutes().value(), "W-31");
  EXPECT_GT(line.times, 10);
  EXPECT_EQ(line.astray, 1) << "the demo has one of 214 minutes";
  EXPECT_GT(line.median, std::sqrt(line.stated_low * line.stated_high));
  EXPECT_LT(line.high, 100);
}

TEST(Minutes, APlanReckonsWithThem) {
  const auto shop = demo();
  const auto hours = [&shop](const std::string& operation) {
    double minutes = 0;
    const PlanView plan = shop->plan().value();
    for (const PersonPlan& person : plan.people) {
      for (const BarView& bar : person.bars) {
        if (bar.operation != operation) continue;
        const auto clock = [](const std::string& text) {
          return std::stoi(text.substr(11, 2)) * 60 + std::stoi(text.substr(14, 2));
        };
        minutes += clock(bar.to) - clock(bar.from);
      }
    }
    return minutes;
  };
  const double before = hours("W-60");
  ASSERT_GT(before, 0);
  const std::string path = testing::TempDir() + "rollwright-times.csv";
  {
    std::ofstream file(path);
    file << "order,operation,person,day,minutes\n";
    for (int i = 0; i < 60; ++i) file << 1700 + i << ",W-60,pia,2026-10-06,60\n";
  }
  const std::string folder = testing::TempDir() + "rollwright-times";
  std::filesystem::create_directory(folder);
  std::filesystem::rename(path, folder + "/times.csv");
  const auto report = shop->import(folder, "owner");
  std::filesystem::remove_all(folder);
  ASSERT_TRUE(report && report->imported);
  EXPECT_GT(hours("W-60"), 1.5 * before);
}

}  // namespace
}  // namespace rollwright::shop

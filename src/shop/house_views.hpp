#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What is answered about the shop as a whole: its day, what is found in it, its names, its book.
namespace rollwright::shop {

struct TodayLine {
  std::string kind;      // at risk, to buy, arriving, to claim, to check, on the stands, to hand over,
                         // to follow up, here for a visit, to come back
  std::string sentence;
  std::string order;     // may be empty
  std::string link;      // page to go to: "/orders/2041"
  std::string action;    // the one thing to do
};
struct TodayView {
  Day day = {};
  std::vector<TodayLine> lines;
};

struct FoundLine {
  std::string kind;  // order, part, rider
  std::string text;
  std::string link;
};

struct NamedView {
  std::string id;
  std::string name;
};
struct SlotOfBuild {
  std::string slot;
  std::string name;
  bool required = false;
};
struct BuildView {
  std::string id;
  std::string name;
  bool maker_built = false;
  std::vector<SlotOfBuild> slots;
};
struct ShopView {
  std::string name;
  std::string town;
  std::string currency;
  bool invented = false;
  Day today = {};
  std::vector<BuildView> builds;
  std::vector<NamedView> kinds;
  std::vector<NamedView> people;
  std::vector<std::string> routes;
  std::vector<std::string> states;
};

struct ImportReport {
  std::map<std::string, int> counts;  // "parts" -> 194
  std::vector<std::string> problems;  // each with file, line, field, value; empty when imported
  bool imported = false;
};

struct JournalReport {
  std::int64_t entries = 0;
  bool whole = false;
  std::string sentence;
  std::string last_hash;
};

}  // namespace rollwright::shop

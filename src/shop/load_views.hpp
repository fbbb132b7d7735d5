#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// What the use case Shop::load answers; the JSON of --json and the HTTP API has the same names.
///
/// Hours are hours of hands on bikes: what walk-ins and the day's odds and ends take is left out.
namespace rollwright::shop {

struct SkillLoadView {
  std::string skill;                // "WB"
  std::string name;                 // "wheelbuilding"
  std::vector<std::string> people;  // who can, by name
  double planned = 0;               // hours that the plan puts into the week
  double there = 0;                 // hours of those who can, whatever else they do
};

struct PersonLoadView {
  std::string id;
  std::string name;
  double planned = 0;
  double there = 0;
};

/// The people with the most work, that nobody else can do, for their hours.
struct FullestView {
  std::vector<std::string> skills;  // names; empty: there is no work
  std::vector<std::string> people;  // names
  double work = 0;
  double hours = 0;
  std::optional<int> in_100;        // work of 100 hours; none when nobody is there
};

struct WeekLoadView {
  Day first = {};
  Day last = {};
  std::vector<SkillLoadView> skills;  // the same in every week
  std::vector<PersonLoadView> people;
  FullestView planned;              // of what the plan puts into the week
  FullestView promised;             // of all that is promised by the week's end, from now on
  std::vector<std::string> due;     // orders promised for a day of the week, or before today
};

struct LoadView {
  std::string sentence;
  std::vector<WeekLoadView> weeks;  // the running one first
};

}  // namespace rollwright::shop

#include "plan/balance_line.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>

#include <gtest/gtest.h>

#include "base/csv.hpp"
#include "base/random.hpp"
#include "base/text.hpp"
#include "plan/check_line.hpp"
#include "plan/line_bound.hpp"
#include "plan/read_line.hpp"

namespace rollwright::plan {
namespace {

/// Invented: `size` tasks of 1 to 12 time units; about a third of the pairs wait.
Line random_line(Random& random, int size) {
  std::vector<LineTask> tasks;
  for (int i = 0; i < size; ++i) {
    tasks.push_back({std::to_string(i + 1), 1 + static_cast<int>(random.below(12)), {}});
    for (int later = i + 1; later < size; ++later) {
      if (random.below(3) == 0) tasks.back().successors.push_back(later);
    }
  }
  return Line::make(std::move(tasks)).value();
}

/// Calls `visit` with every assignment to `stations` that keeps the order of the tasks.
template <class Visit>
void every_assignment(const Line& line, int stations, Stations& so_far, const Visit& visit) {
  const int task = static_cast<int>(so_far.size());
  if (task == line.size()) return visit(so_far);
  int first = 0;
  for (const int before : line.predecessors(task)) {
    first = std::max(first, so_far[static_cast<std::size_t>(before)]);
  }
  for (int station = first; station < stations; ++station) {
    so_far.push_back(station);
    every_assignment(line, stations, so_far, visit);
    so_far.pop_back();
  }
}

/// Least work of the fullest station over all assignments.
int least_takt(const Line& line, int stations) {
  long long best = line.total_time();
  Stations none;
  every_assignment(line, stations, none, [&](const Stations& all) {
    std::vector<long long> load(static_cast<std::size_t>(stations), 0);
    for (int i = 0; i < line.size(); ++i) {
      load[static_cast<std::size_t>(all[static_cast<std::size_t>(i)])] += line.time(i);
    }
    best = std::min(best, *std::max_element(load.begin(), load.end()));
  });
  return static_cast<int>(best);
}

TEST(BalanceLine, AgreesWithTryingEveryAssignment) {
  constexpr std::uint64_t kSeed = 61;
  Random random(kSeed);
  long long steps = 0;
  for (int trial = 0; trial < 150; ++trial) {
    const Line line = random_line(random, 1 + static_cast<int>(random.below(7)));
    std::vector<int> takts;
    for (int stations = 1; stations <= line.size(); ++stations) {
      takts.push_back(least_takt(line, stations));
      const LineBalance balance = shortest_takt(line, stations).value();
      ASSERT_TRUE(balance.proved) << "seed " << kSeed << ", trial " << trial;
      ASSERT_EQ(balance.takt, takts.back()) << "trial " << trial << ", stations " << stations;
      ASSERT_TRUE(check_line(line, balance.station_of, stations, balance.takt).empty());
      steps += balance.steps;
    }
    for (int takt = line.longest_time(); takt <= line.total_time(); ++takt) {
      const auto fewest =
          std::find_if(takts.begin(), takts.end(), [&](int least) { return least <= takt; });
      const LineBalance balance = fewest_stations(line, takt).value();
      ASSERT_TRUE(balance.proved) << "seed " << kSeed << ", trial " << trial;
      ASSERT_EQ(balance.stations, fewest - takts.begin() + 1) << trial << ", takt " << takt;
      ASSERT_LE(least_stations(line, takt), balance.stations);
      ASSERT_TRUE(check_line(line, balance.station_of, balance.stations, takt).empty());
      steps += balance.steps;
    }
  }
  EXPECT_GT(steps, 1000);  // the searches were needed
}

TEST(BalanceLine, NeedsAsManyStationsFromTheFrontAsFromTheEnd) {
  Random random(62);
  for (int trial = 0; trial < 30; ++trial) {
    const Line line = random_line(random, 20);
    for (const int takt : {12, 17, 25}) {
      const LineBalance front = fewest_stations(line, takt).value();
      const LineBalance end = fewest_stations(line.reversed(), takt).value();
      ASSERT_TRUE(front.proved && end.proved);
      EXPECT_EQ(front.stations, end.stations) << "trial " << trial << ", takt " << takt;
    }
  }
}

TEST(BalanceLine, RefusesWhatNoLineCanDo) {
  const Line line = Line::make({{"a", 5, {1}}, {"b", 7, {}}}).value();
  EXPECT_EQ(fewest_stations(line, 6).error().code, Code::kContradiction);
  EXPECT_EQ(fewest_stations(line, 0).error().code, Code::kOutOfRange);
  EXPECT_EQ(shortest_takt(line, 0).error().code, Code::kOutOfRange);
  EXPECT_EQ(Line::make({{"a", 1, {1}}, {"b", 1, {0}}}).error().code, Code::kContradiction);
  EXPECT_EQ(Line::make({{"a", -1, {}}}).error().code, Code::kOutOfRange);
  EXPECT_EQ(Line::make({{"a", 1, {3}}}).error().code, Code::kOutOfRange);
}

TEST(BalanceLine, SaysWhatIsNotProvedWhenStopped) {
  Random random(63);
  const Line line = random_line(random, 60);
  const LineBalance balance = fewest_stations(line, 13, {.most_steps = 0}).value();
  EXPECT_TRUE(check_line(line, balance.station_of, balance.stations, 13).empty());
  EXPECT_LE(balance.lower_bound, balance.stations);
  EXPECT_EQ(balance.proved, balance.lower_bound == balance.stations);
}

TEST(CheckLine, FindsEachKindOfMistake) {
  const Line line = Line::make({{"a", 5, {1}}, {"b", 7, {}}}).value();
  EXPECT_TRUE(check_line(line, {0, 1}, 2, 7).empty());
  EXPECT_EQ(check_line(line, {1, 0}, 2, 7).size(), 1U);
  EXPECT_EQ(check_line(line, {0, 0}, 2, 7).size(), 1U);
  EXPECT_EQ(check_line(line, {0, 2}, 2, 7).size(), 1U);
  EXPECT_EQ(check_line(line, {0}, 2, 7).size(), 1U);
}

/// Invented, in the two layouts.
const std::string kIn2 = "3\r\n4\r\n5\r\n6\r\n1,2\r\n1,3\r\n-1,-1\r\nremarks \x94\r\n";
const std::string kAlb =
    "<number of tasks>\n3\n\n<cycle time>\n10\n\n<order strength>\n0,6\n\n<task times>\n1 4\n2 5\n"
    "3 6\n\n<precedence relations>\n1,2\n1,3\n\n<end>\n";

TEST(ReadLine, ReadsBothTexts) {
  for (const std::string& text : {kIn2, kAlb}) {
    const LineFile file = read_line_file(text, "line").value();
    ASSERT_EQ(file.line.size(), 3);
    EXPECT_EQ(file.line.time(2), 6);
    EXPECT_EQ(file.line.successors(0).size(), 2U);
    EXPECT_EQ(file.takt, text == kAlb ? 10 : 0);
  }
}

struct BrokenLine {
  std::string text;
  Code code;
  int line;
};

TEST(ReadLine, NamesFileAndLineOfWhatIsWrong) {
  const std::vector<BrokenLine> cases = {
      {"", Code::kBadInput, 0},
      {"x\n", Code::kBadInput, 1},
      {"0\n", Code::kOutOfRange, 1},
      {"2\n4\nfive\n-1,-1\n", Code::kBadInput, 3},
      {"2\n4\n-5\n-1,-1\n", Code::kOutOfRange, 3},
      {"2\n4\n5\n1;2\n-1,-1\n", Code::kBadInput, 4},
      {"2\n4\n5\n1,3\n-1,-1\n", Code::kOutOfRange, 4},
      {"2\n4\n5\n1,1\n-1,-1\n", Code::kContradiction, 4},
      {"2\n4\n5\n1,2\n", Code::kBadInput, 4},
      {"2\n4\n5\n1,2\n2,1\n-1,-1\n", Code::kContradiction, 6},
      {"<number of tasks>\n2\n<task times>\n1 4\n1 5\n<end>\n", Code::kBadInput, 5},
      {"<number of tasks>\n2\n<task times>\n1 4\n<end>\n", Code::kBadInput, 5},
      {"<number of tasks>\n2\n<task times>\n1 4 5\n<end>\n", Code::kBadInput, 4},
      {"<number of tasks>\n2\n<task times>\n1 4\n2 5\n", Code::kBadInput, 5},
      {"<task times>\n1 4\n", Code::kOutOfRange, 2},
      {"<end>\n", Code::kBadInput, 1},
  };
  for (const BrokenLine& broken : cases) {
    const auto file = read_line_file(broken.text, "broken.alb");
    ASSERT_FALSE(file) << broken.text;
    EXPECT_EQ(file.error().code, broken.code) << file.error().full();
    EXPECT_EQ(file.error().place.file, "broken.alb");
    EXPECT_EQ(file.error().place.line, broken.line) << file.error().full();
  }
}

TEST(ReadLine, RefusesOrReadsWhateverBytesChange) {
  Random random(64);
  int read = 0;
  for (int trial = 0; trial < 4000; ++trial) {
    std::string text = trial % 2 == 0 ? kIn2 : kAlb;
    for (std::uint64_t change = 0; change <= random.below(3); ++change) {
      text[random.below(text.size())] = static_cast<char>(random.below(256));
    }
    if (random.below(4) == 0) text.resize(random.below(text.size()));
    const auto file = read_line_file(text, "line");
    read += file ? 1 : 0;
    if (!file) {
      ASSERT_EQ(file.error().place.file, "line") << file.error().full();
    }
  }
  EXPECT_GT(read, 100);
}

struct PublishedLine {
  std::string graph;
  int takt;
  int stations;
};

// Published numbers of stations: A. Scholl's set of 1993, by way of the list beside the files.
TEST(BalanceLine, ProvesPublishedNumbersOfStations) {
  const char* shared = std::getenv("ROLLWRIGHT_SHARED");
  const std::string folder =
      std::string(shared != nullptr ? shared : ROLLWRIGHT_ROOT "/../shared") +
      "/reference/planning/salbp/scholl/";
  const std::vector<PublishedLine> rows = {{"MERTENS", 6, 6},  {"MERTENS", 7, 5},
                                           {"MERTENS", 8, 5},  {"MERTENS", 10, 3},
                                           {"JACKSON", 10, 5}, {"BOWMAN8", 20, 5}};
  if (!read_file(folder + "MERTENS.IN2")) GTEST_SKIP() << "The lines are not here: " << folder;
  for (const PublishedLine& row : rows) {
    const auto text = read_file(folder + row.graph + ".IN2");
    ASSERT_TRUE(text) << row.graph;
    const Line line = read_line_file(*text, row.graph).value().line;
    const LineBalance balance = fewest_stations(line, row.takt).value();
    EXPECT_EQ(balance.stations, row.stations) << row.graph << ", takt " << row.takt;
    EXPECT_TRUE(balance.proved);
    const LineBalance back = shortest_takt(line, row.stations).value();
    EXPECT_TRUE(back.proved);
    EXPECT_LE(back.takt, row.takt);
  }
}

}  // namespace
}  // namespace rollwright::plan

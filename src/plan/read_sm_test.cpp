#include "plan/read_sm.hpp"

#include <gtest/gtest.h>

#include "plan/read_job_shop.hpp"

namespace rollwright::plan {
namespace {

/// Invented, in the layout of the benchmark library: a start, three jobs, an end.
const std::string kSmall =
    "************************************************************************\n"
    "jobs (incl. supersource/sink ):  5\n"
    "RESOURCES\n"
    "  - renewable                 :  2   R\n"
    "  - nonrenewable              :  0   N\n"
    "  - doubly constrained        :  0   D\n"
    "PRECEDENCE RELATIONS:\n"
    "jobnr.    #modes  #successors   successors\n"
    "   1        1          2           2   3\n"
    "   2        1          1           4\n"
    "   3        1          1           5\n"
    "   4        1          1           5\n"
    "   5        1          0        \n"
    "************************************************************************\n"
    "REQUESTS/DURATIONS:\n"
    "jobnr. mode duration  R 1  R 2\n"
    "------------------------------------------------------------------------\n"
    "  1      1     0       0    0\n"
    "  2      1     8       4    0\n"
    "  3      1     4       2    3\n"
    "  4      1     6       0    1\n"
    "  5      1     0       0    0\n"
    "************************************************************************\n"
    "RESOURCEAVAILABILITIES:\n"
    "  R 1  R 2\n"
    "    5    3\n"
    "************************************************************************\n";

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(ReadSm, ReadsJobsNeedsAndCapacities) {
  const Project project = read_sm(kSmall, "small.sm").value();
  EXPECT_EQ(project.size(), 5);
  EXPECT_EQ(project.name(1), "2");
  EXPECT_EQ(project.duration(1), 8);
  EXPECT_EQ(project.demand(2, 1), 3);
  EXPECT_EQ(project.capacity(0), 5);
  EXPECT_EQ(project.capacity(1), 3);
  ASSERT_EQ(project.successors(0).size(), 2U);
  EXPECT_EQ(project.successors(1)[0], 3);
}

TEST(ReadSm, TakesWindowsLineEndsBlankLinesAndAMissingLastRule) {
  std::string text;
  for (const char c : kSmall) {
    if (c == '\n') text += "\r\n\r\n";
    if (c != '\n') text += c;
  }
  text.resize(text.rfind("  5"));
  text += "  5    3";
  EXPECT_EQ(read_sm(text, "small.sm").value().capacity(1), 3);
}

struct Broken {
  std::string from;
  std::string to;
  Code code;
  int line;
};

TEST(ReadSm, NamesFileAndLineOfWhatIsWrong) {
  const std::vector<Broken> cases = {
      {"  5\nRES", "  x\nRES", Code::kBadInput, 2},
      {"  5\nRES", "  -5\nRES", Code::kOutOfRange, 2},
      {"  5\nRES", "  999999999\nRES", Code::kOutOfRange, 2},
      {"  5\nRES", "  99999999999999999999\nRES", Code::kBadInput, 2},
      {":  2   R", ":  2000000   R", Code::kOutOfRange, 4},
      {":  0   N", ":  1   N", Code::kRefused, 5},
      {":  0   D", ":  1   D", Code::kRefused, 6},
      {"   2        1          1           4", "   2        2          1           4",
       Code::kRefused, 10},
      {"   2        1          1           4", "   2        1          2           4",
       Code::kBadInput, 10},
      {"   2        1          1           4", "   2        1          1           9",
       Code::kOutOfRange, 10},
      {"   2        1          1           4", "   2        1          1           0",
       Code::kOutOfRange, 10},
      {"   2        1          1           4", "   3        1          1           4",
       Code::kBadInput, 10},
      {"   4        1          1           5", "   4        1          1           2",
       Code::kContradiction, 7},
      {"  2      1     8       4    0", "  2      1    -8       4    0", Code::kOutOfRange, 19},
      {"  2      1     8       4    0", "  2      1     8       4", Code::kBadInput, 19},
      {"  2      1     8       4    0", "  2      1     8       4    0  0", Code::kBadInput, 19},
      {"  2      1     8       4    0", "  2      1     8       6    0", Code::kContradiction, 19},
      {"  2      1     8       4    0", "  2      1     8       4.5  0", Code::kBadInput, 19},
      {"  2      1     8       4    0", "  2      3     8       4    0", Code::kRefused, 19},
      {"    5    3", "    5", Code::kBadInput, 26},
      {"    5    3", "    5    3   1", Code::kBadInput, 26},
      {"    5    3", "    5    \xff", Code::kBadInput, 0},
  };
  for (const Broken& broken : cases) {
    const auto project = read_sm(with(kSmall, broken.from, broken.to), "small.sm");
    ASSERT_FALSE(project) << broken.to;
    EXPECT_EQ(project.error().code, broken.code) << project.error().full();
    EXPECT_EQ(project.error().place.file, "small.sm");
    EXPECT_EQ(project.error().place.line, broken.line) << project.error().full();
  }
}

TEST(ReadSm, RefusesATextCutAnywhereBeforeItsLastNumber) {
  const std::size_t last = kSmall.rfind("3\n");
  for (std::size_t length = 0; length <= last; ++length) {
    EXPECT_FALSE(read_sm(kSmall.substr(0, length), "cut.sm")) << length;
  }
}

TEST(ReadSm, RefusesATextThatIsTooLong) {
  EXPECT_EQ(read_sm(std::string(17 * 1024 * 1024, ' '), "long.sm").error().code, Code::kTooLarge);
}

/// Invented: two jobs, two machines.
const std::string kShop = "# invented\n\n2 2\r\n0 3 1 2\n1 4 0 1\n";

TEST(ReadJobShop, MakesMachinesOfOneUnitAndChainsOfSteps) {
  const Project project = read_job_shop(kShop, "shop.txt").value();
  EXPECT_EQ(project.size(), 4);
  EXPECT_EQ(project.capacity(1), 1);
  EXPECT_EQ(project.name(2), "2.1");
  EXPECT_EQ(project.duration(2), 4);
  EXPECT_EQ(project.demand(2, 1), 1);
  EXPECT_EQ(project.demand(2, 0), 0);
  EXPECT_EQ(project.successors(2)[0], 3);
  EXPECT_TRUE(project.successors(1).empty());
}

TEST(ReadJobShop, NamesFileAndLineOfWhatIsWrong) {
  const std::vector<Broken> cases = {
      {"2 2\r", "2\r", Code::kBadInput, 3},
      {"2 2\r", "2 2 2\r", Code::kBadInput, 3},
      {"2 2\r", "-2 2\r", Code::kOutOfRange, 3},
      {"2 2\r", "20000 200\r", Code::kTooLarge, 3},
      {"2 2\r", "2 20000\r", Code::kTooLarge, 3},
      {"2 2\r", "3 2\r", Code::kBadInput, 5},
      {"2 2\r", "1 2\r", Code::kBadInput, 5},
      {"0 3 1 2", "0 3 1", Code::kBadInput, 4},
      {"0 3 1 2", "0 3 1 2 1", Code::kBadInput, 4},
      {"0 3 1 2", "0 3 2 2", Code::kOutOfRange, 4},
      {"0 3 1 2", "0 -3 1 2", Code::kOutOfRange, 4},
      {"0 3 1 2", "0 three 1 2", Code::kBadInput, 4},
      {"0 3 1 2", "0 4000000 1 2", Code::kTooLarge, 3},
  };
  for (const Broken& broken : cases) {
    const auto project = read_job_shop(with(kShop, broken.from, broken.to), "shop.txt");
    ASSERT_FALSE(project) << broken.to;
    EXPECT_EQ(project.error().code, broken.code) << project.error().full();
    EXPECT_EQ(project.error().place.file, "shop.txt");
    EXPECT_EQ(project.error().place.line, broken.line) << project.error().full();
  }
}

}  // namespace
}  // namespace rollwright::plan

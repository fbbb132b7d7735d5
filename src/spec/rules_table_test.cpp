#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "base/text.hpp"
#include "spec/demo_rules.hpp"

// docs/rules.md says where each fit rule is decided; here it is held beside the files.

namespace rollwright::spec {
namespace {

struct Row {
  std::string about;
  std::set<std::string> files;
  bool question = false;
};

/// "C-026c front" belongs to C-026.
std::string number_of_rule(const std::string& id) { return id.substr(0, 5); }

std::string read_file(const std::string& path) {
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

std::map<std::string, Row> table_in_docs() {
  std::map<std::string, Row> rows;
  for (const std::string& line : split(read_file(ROLLWRIGHT_ROOT "/docs/rules.md"), '\n')) {
    if (!line.starts_with("| C-")) continue;
    const std::vector<std::string> cells = split(line, '|');
    if (cells.size() != 6) {
      ADD_FAILURE() << "not four cells: " << line;
      continue;
    }
    Row row{.about = std::string(trim(cells[2])), .question = trim(cells[4]) == "yes"};
    for (const std::string& file : split(std::string(trim(cells[3])), ',')) {
      if (trim(file) != "—") row.files.emplace(trim(file));
    }
    const bool is_new = rows.emplace(std::string(trim(cells[1])), row).second;
    EXPECT_TRUE(is_new) << "twice: " << line;
  }
  return rows;
}

TEST(RulesTable, HasEveryNumberOfTheTradeOnce) {
  const auto rows = table_in_docs();
  int of_the_trade = 0;
  for (const auto& [number, row] : rows) {
    EXPECT_FALSE(row.about.empty()) << number;
    EXPECT_TRUE(!row.files.empty() || row.question) << number << " is decided nowhere";
    of_the_trade += number <= "C-177" ? 1 : 0;
  }
  EXPECT_EQ(of_the_trade, 127);
}

TEST(RulesTable, NamesTheFilesThatHoldTheRules) {
  ASSERT_TRUE(real_trade().problems.empty()) << real_trade().problems.front().full();
  std::map<std::string, std::set<std::string>> files;
  for (const trade::Rule& rule : real_trade().trade.rules) {
    files[number_of_rule(rule.id)].insert(rule.file.substr(rule.file.rfind('/') + 1));
  }
  const auto rows = table_in_docs();
  for (const auto& [number, row] : rows) EXPECT_EQ(row.files, files[number]) << number;
  for (const auto& [number, names] : files) EXPECT_TRUE(rows.contains(number)) << number;
}

TEST(RulesTable, SaysWhereAQuestionIsAsked) {
  std::set<std::string> asked;
  for (const trade::Question& question : real_trade().trade.questions) {
    asked.insert(number_of_rule(question.id));
  }
  const auto rows = table_in_docs();
  for (const auto& [number, row] : rows) {
    EXPECT_EQ(row.question, asked.contains(number)) << number;
  }
  for (const std::string& number : asked) EXPECT_TRUE(rows.contains(number)) << number;
}

TEST(RulesTable, LeavesOutNoneOfTheNotesRules) {
  const char* given = std::getenv("ROLLWRIGHT_SHARED");
  const std::string shared = given != nullptr ? given : ROLLWRIGHT_ROOT "/../shared";
  const std::string notes = read_file(shared + "/reference/trade.md");
  if (notes.empty()) GTEST_SKIP() << "the notes on the trade are not on this machine";
  const auto rows = table_in_docs();
  int found = 0;
  for (const std::string& line : split(notes, '\n')) {
    if (!line.starts_with("| C-")) continue;
    ++found;
    EXPECT_TRUE(rows.contains(line.substr(2, 5))) << line.substr(2, 5);
  }
  EXPECT_EQ(found, 127);
}

}  // namespace
}  // namespace rollwright::spec

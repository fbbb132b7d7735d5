#include "http/rights.hpp"

#include <algorithm>
#include <fstream>
#include <set>

#include <gtest/gtest.h>

#include "base/text.hpp"
#include "http/api.hpp"

namespace rollwright::http {
namespace {

std::vector<std::string> pieces_of(const std::string& path) { return split(path.substr(1), '/'); }

/// "GET /api/orders/{id}" for each operation of the API file.
std::vector<std::string> operations() {
  std::ifstream file(ROLLWRIGHT_ROOT "/web/openapi.yaml");
  std::vector<std::string> found;
  std::string path;
  for (std::string line; std::getline(file, line);) {
    if (line.starts_with("  /api/")) path = std::string(trim(line.substr(0, line.rfind(':'))));
    for (const std::string method : {"get", "put", "post", "delete", "patch"}) {
      if (line != "    " + method + ":") continue;
      std::string capitals = method;
      std::ranges::transform(capitals, capitals.begin(), [](char c) { return c - 'a' + 'A'; });
      found.push_back(capitals + " " + path);
    }
  }
  return found;
}

std::string row(const Right& right) { return std::string(right.method) + " " + right.path; }

TEST(Rights, AreThoseOfTheApiFileAndNoOthers) {
  const std::vector<std::string> asked = operations();
  ASSERT_GT(asked.size(), 60u);
  std::set<std::string> rows;
  for (const Right& right : all_rights()) {
    EXPECT_TRUE(rows.insert(row(right)).second) << row(right) << " stands there twice";
  }
  for (const std::string& operation : asked) {
    EXPECT_TRUE(rows.contains(operation)) << operation << " has no row in http/rights.cpp";
  }
  for (const std::string& one : rows) {
    EXPECT_EQ(std::ranges::count(asked, one), 1) << one << " is not in web/openapi.yaml";
  }
}

TEST(Rights, AreStatedForEveryRoute) {
  for (const std::string& route : all_routes()) {
    const std::size_t space = route.find(' ');
    const Right* right = right_of(route.substr(0, space), pieces_of(route.substr(space + 1)));
    EXPECT_NE(right, nullptr) << route << " has no row in http/rights.cpp";
  }
}

TEST(Rights, AreAlwaysTheOwnersToo) {
  for (const Right& right : all_rights()) {
    EXPECT_TRUE((right.may & (kOwner | kAnyone | kStation)) != 0) << row(right);
  }
}

TEST(Rights, OfAPathWithoutGapsGoBeforeOnesWithGaps) {
  const Right* first = right_of("POST", {"api", "people", "first"});
  ASSERT_NE(first, nullptr);
  EXPECT_EQ(first->may, kAnyone);
  EXPECT_EQ(right_of("POST", {"api", "people", "mara", "take-away"})->may, kOwner);
}

TEST(Rights, OfHeadAreThoseOfGet) {
  EXPECT_EQ(right_of("HEAD", {"api", "orders"}), right_of("GET", {"api", "orders"}));
  EXPECT_EQ(right_of("DELETE", {"api", "orders"}), nullptr);
}

/// What the shop agreed on, said once more in words, so that a slip in the table is seen.
TEST(Rights, KeepMoneyPeopleAndThePlanFromTheBench) {
  for (const char* wrote : {"POST /api/orders", "POST /api/orders/{id}/agree", "POST /api/purchases",
                            "PUT /api/plan/settings", "POST /api/plan/proposals/{id}/agree",
                            "POST /api/catalogue/import", "GET /api/people",
                            "PUT /api/people/{id}/pin", "POST /api/stations"}) {
    const auto& rights = all_rights();
    const auto found = std::ranges::find(rights, std::string(wrote), row);
    ASSERT_NE(found, rights.end()) << wrote;
    EXPECT_EQ(found->may & kBench, 0) << wrote;
  }
  for (const Right& right : all_rights()) {
    const std::string path = right.path;
    const bool is_of_people = path.starts_with("/api/people") || path.starts_with("/api/stations");
    const bool is_elsewhere = path == "/api/people/first" || path.ends_with("plan.ics") ||
                              path.ends_with("absences");
    if (is_of_people && !is_elsewhere) {
      EXPECT_EQ(right.may & (kDesk | kBench | kAnyone | kStation), 0) << row(right);
    }
  }
}

}  // namespace
}  // namespace rollwright::http

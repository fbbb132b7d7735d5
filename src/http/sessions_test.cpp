#include "http/sessions.hpp"

#include <set>

#include <gtest/gtest.h>

#include "http/token.hpp"

namespace rollwright::http {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

struct Watch {
  Moment at{};
  Now now() {
    return [this] { return at; };
  }
};

Session of(const char* person, At at = At::kDesk) {
  return {.person = trade::PersonId(person), .at = at, .proof = "invented", .station = {}};
}

TEST(Token, IsLongRandomAndKeptOnlyAsAHash) {
  std::set<std::string> seen;
  for (int i = 0; i < 1000; ++i) seen.insert(new_token());
  EXPECT_EQ(seen.size(), 1000u);
  EXPECT_EQ(seen.begin()->size(), 64u) << "256 bits";
  EXPECT_NE(hash_of_token(*seen.begin()), *seen.begin());
  EXPECT_TRUE(same_text("abc", "abc"));
  EXPECT_FALSE(same_text("abc", "abd"));
  EXPECT_FALSE(same_text("abc", "abcd"));
}

TEST(Sessions, AreFoundByTheirTokenAndNothingElse) {
  Watch watch;
  Sessions sessions(watch.now());
  const std::string token = sessions.begin(of("mara"));
  EXPECT_EQ(sessions.find(token, true)->person.text, "mara");
  EXPECT_FALSE(sessions.find("", true));
  EXPECT_FALSE(sessions.find(hash_of_token(token), true)) << "what is kept opens nothing";
  sessions.end(token);
  EXPECT_FALSE(sessions.find(token, true));
}

TEST(Sessions, AtTheDeskEndFourHoursAfterTheLastUseAndTwelveAfterTheFirst) {
  Watch watch;
  Sessions sessions(watch.now());
  const std::string idle = sessions.begin(of("mara"));
  const std::string used = sessions.begin(of("pia"));
  for (int i = 0; i < 4; ++i) {
    watch.at += hours(1);
    EXPECT_EQ(sessions.find(idle, false).has_value(), i < 3) << "looking is no use";
    EXPECT_TRUE(sessions.find(used, true));
  }
  watch.at += hours(8) - seconds(1);
  EXPECT_FALSE(sessions.find(used, true)) << "nobody was at it for longer than four hours";
  const std::string busy = sessions.begin(of("pia"));
  for (int i = 0; i < 11; ++i) {
    watch.at += hours(1);
    EXPECT_TRUE(sessions.find(busy, true));
  }
  watch.at += hours(1);
  EXPECT_FALSE(sessions.find(busy, true));
}

TEST(Sessions, AtTheBenchEndHalfAnHourAfterTheLastUse) {
  Watch watch;
  Sessions sessions(watch.now());
  const std::string token = sessions.begin(of("jonas", At::kBench));
  watch.at += minutes(29);
  EXPECT_TRUE(sessions.find(token, true));
  watch.at += minutes(30);
  EXPECT_FALSE(sessions.find(token, true));
}

TEST(Sessions, WithAPasswordAtAStationEndAsThoseOfTheBenchDo) {
  Watch watch;
  Sessions sessions(watch.now());
  Session session = of("mara");
  session.station = "1";
  const std::string token = sessions.begin(session);
  watch.at += minutes(30);
  EXPECT_FALSE(sessions.find(token, true));
}

TEST(Sessions, OfOnePersonAreAtMostSixteenAndTheLongestUnusedGivesWay) {
  Watch watch;
  Sessions sessions(watch.now());
  std::vector<std::string> tokens;
  const std::string others = sessions.begin(of("pia"));
  for (std::size_t i = 0; i <= Sessions::kMostOfOnePerson; ++i) {
    watch.at += seconds(1);
    tokens.push_back(sessions.begin(of("mara")));
    EXPECT_TRUE(sessions.find(tokens.front(), true).has_value()) << "it is in use";
  }
  EXPECT_FALSE(sessions.find(tokens[1], true));
  EXPECT_TRUE(sessions.find(tokens[2], true));
  EXPECT_TRUE(sessions.find(others, true));
  sessions.end_all_of(trade::PersonId("mara"));
  EXPECT_FALSE(sessions.find(tokens.back(), true));
  EXPECT_TRUE(sessions.find(others, true));
}

TEST(Stations, StayWhilePeopleChangeAndTakeTheirSessionsWithThem) {
  Watch watch;
  Sessions sessions(watch.now());
  const std::string tablet = sessions.pair({.number = {}, .name = "Bench", .paired_by = {}}).value();
  const std::string number = sessions.station(tablet)->number;
  Session at_it = of("jonas", At::kBench);
  at_it.station = number;
  const std::string token = sessions.begin(at_it);
  const std::string desk = sessions.begin(of("mara"));
  watch.at += minutes(31);
  EXPECT_FALSE(sessions.find(token, true));
  EXPECT_TRUE(sessions.station(tablet));
  const std::string again = sessions.begin(at_it);
  EXPECT_TRUE(sessions.leave(number));
  EXPECT_FALSE(sessions.leave(number));
  EXPECT_FALSE(sessions.find(again, true));
  EXPECT_FALSE(sessions.station(tablet));
  EXPECT_TRUE(sessions.find(desk, true));
}

TEST(Stations, EndAfterTwoWeeksUnusedAndAfterNinetyDays) {
  Watch watch;
  Sessions sessions(watch.now());
  const std::string idle = sessions.pair({.number = {}, .name = "A", .paired_by = {}}).value();
  const std::string used = sessions.pair({.number = {}, .name = "B", .paired_by = {}}).value();
  for (int day = 1; day < 90; ++day) {
    watch.at += hours(24);
    EXPECT_TRUE(sessions.station(used)) << day;
  }
  EXPECT_FALSE(sessions.station(idle));
  watch.at += hours(24);
  EXPECT_FALSE(sessions.station(used));
}

}  // namespace
}  // namespace rollwright::http

#include "http/api.hpp"

#include <gtest/gtest.h>

#include "http/events.hpp"

namespace rollwright::http {
namespace {

TEST(Target, ReadsPathAndQuery) {
  const Request request = parse_target("GET", "/api/orders/20%2F41?q=hub+gear&draws=10").value();
  EXPECT_EQ(request.path, (std::vector<std::string>{"api", "orders", "20/41"}));
  EXPECT_EQ(request.query.at("q"), "hub gear");
  EXPECT_EQ(request.query.at("draws"), "10");
  EXPECT_TRUE(parse_target("GET", "/").value().path.empty());
  EXPECT_EQ(parse_target("GET", "//a//b/").value().path.size(), 2u);
}

TEST(Target, RefusesWhatCannotBeRead) {
  for (const char* wrong : {"/%", "/%4", "/%zz", "/%00", "/%ff", "/a?b=%00", "/a?%c3=1"}) {
    EXPECT_FALSE(parse_target("GET", wrong)) << wrong;
  }
}

TEST(Events, GiveEachReaderWhatItMissed) {
  Events events;
  EXPECT_EQ(events.since(0), "");
  events.add("2041", "choose");
  events.add("2042", "agree");
  EXPECT_NE(events.since(0).find("2041"), std::string::npos);
  EXPECT_EQ(events.since(1).find("2041"), std::string::npos);
  EXPECT_NE(events.since(1).find("2042"), std::string::npos);
  EXPECT_EQ(events.since(2), "");
}

TEST(Events, TellAReaderThatMissedTooMuchToLookAgain) {
  Events events;
  for (std::size_t i = 0; i < Events::kMost + 10; ++i) events.add("1", "choose");
  const std::string text = events.since(1);
  EXPECT_NE(text.find("\"order\": \"\""), std::string::npos);
  EXPECT_EQ(text.find("event:"), text.rfind("event:"));
}

TEST(Events, TellAReaderFromBeforeARestartToLookAgain) {
  Events events;
  EXPECT_NE(events.since(7).find("\"order\": \"\""), std::string::npos);
  events.add("2041", "choose");
  EXPECT_NE(events.since(7).find("id: 1\n"), std::string::npos);
}

TEST(Events, CannotBeBrokenByTheirText) {
  Events events;
  events.add("20\n41\"", "x\r\ny");
  const std::string text = events.since(0);
  EXPECT_NE(text.find("\"2041\\\"\""), std::string::npos) << text;
}

}  // namespace
}  // namespace rollwright::http

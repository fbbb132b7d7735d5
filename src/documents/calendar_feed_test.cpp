#include "documents/calendar_feed.hpp"

#include <algorithm>
#include <vector>

#include <gtest/gtest.h>

// Everything in these tests is invented. The sections are those of RFC 5545, from memory.
namespace rollwright::documents {
namespace {

Instant at(const char* text) { return parse_instant(text).value(); }

CalendarFeed feed_with(std::vector<CalendarEntry> entries) {
  return {.name = "Work of Mara Lind",
          .uid = "free-1@shop",
          .stamp = at("2026-11-25T07:45:00Z"),
          .sequence = 3,
          .from = at("2026-11-24T23:00:00Z"),
          .to = at("2026-12-22T23:00:00Z"),
          .entries = std::move(entries)};
}

CalendarEntry entry_with(std::string summary) {
  return {.uid = "2041-A-20@shop", .start = at("2026-11-26T08:00:00Z"),
          .end = at("2026-11-26T09:30:00Z"), .summary = std::move(summary)};
}

std::vector<std::string> raw_lines(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = text.find("\r\n", from);
    if (end == std::string::npos) {
      ADD_FAILURE() << "a line does not end in CRLF";
      break;
    }
    lines.push_back(text.substr(from, end - from));
    from = end + 2;
  }
  return lines;
}

/// Content lines as a reader puts them together again: a line that begins with a space goes on.
std::vector<std::string> unfolded(const std::string& text) {
  std::vector<std::string> lines;
  for (const std::string& line : raw_lines(text)) {
    if (line.starts_with(' ')) {
      lines.back() += line.substr(1);
    } else {
      lines.push_back(line);
    }
  }
  return lines;
}

std::string value_of(const std::string& text, const std::string& name) {
  for (const std::string& line : unfolded(text)) {
    if (line.starts_with(name + ":")) return line.substr(name.size() + 1);
  }
  return "(no " + name + ")";
}

TEST(CalendarFeed, IsOneObjectWithVersionAndProduct) {  // 3.4, 3.6, 3.7.3, 3.7.4
  const auto lines = unfolded(calendar_text(feed_with({entry_with("2041 A-20 Headset")})));
  EXPECT_EQ(lines.front(), "BEGIN:VCALENDAR");
  EXPECT_EQ(lines.back(), "END:VCALENDAR");
  EXPECT_EQ(std::ranges::count(lines, "VERSION:2.0"), 1);
  EXPECT_EQ(std::ranges::count_if(lines, [](auto& line) { return line.starts_with("PRODID:"); }), 1);
}

TEST(CalendarFeed, GivesEachEventWhatItMustHave) {  // 3.6.1
  const std::string text = calendar_text(feed_with({entry_with("2041 A-20 Headset")}));
  EXPECT_EQ(value_of(text, "UID"), "2041-A-20@shop");
  EXPECT_EQ(value_of(text, "DTSTAMP"), "20261125T074500Z");
  EXPECT_EQ(value_of(text, "DTSTART"), "20261126T080000Z");
  EXPECT_EQ(value_of(text, "DTEND"), "20261126T093000Z");
  EXPECT_EQ(value_of(text, "SEQUENCE"), "3");
  EXPECT_EQ(value_of(text, "SUMMARY"), "2041 A-20 Headset");
  EXPECT_EQ(text.find("LOCATION"), std::string::npos) << "nothing is said that is not known";
  EXPECT_EQ(text.find("DESCRIPTION"), std::string::npos);
}

TEST(CalendarFeed, BreaksAfterCrLfOnly) {  // 3.1
  CalendarEntry entry = entry_with("one\r\ntwo\rthree");
  entry.description = "first\nsecond";
  const std::string text = calendar_text(feed_with({entry}));
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') {
      EXPECT_EQ(text[i - 1], '\r') << "at " << i;
    }
    if (text[i] == '\r') {
      EXPECT_EQ(text[i + 1], '\n') << "at " << i;
    }
  }
  EXPECT_EQ(value_of(text, "SUMMARY"), "one\\ntwothree");
  EXPECT_EQ(value_of(text, "DESCRIPTION"), "first\\nsecond");
}

TEST(CalendarFeed, FoldsAt75OctetsAndNeverWithinACharacter) {  // 3.1
  for (std::size_t before = 0; before < 80; ++before) {
    std::string summary(before, 'x');
    for (int i = 0; i < 60; ++i) summary += "\xc3\xbc\xe2\x82\xac\xf0\x9f\x9a\xb2";  // ü € bicycle
    const std::string text = calendar_text(feed_with({entry_with(summary)}));
    for (const std::string& line : raw_lines(text)) {
      ASSERT_LE(line.size(), 75u) << line;
      const std::size_t first = line.starts_with(' ') ? 1 : 0;
      ASSERT_NE(static_cast<unsigned char>(line[first]) & 0xC0, 0x80) << "cut within a character";
    }
    ASSERT_EQ(value_of(text, "SUMMARY"), summary);
  }
}

TEST(CalendarFeed, FillsALineOf75OctetsBeforeItFolds) {  // 3.1
  const std::string whole(75 - std::string("SUMMARY:").size(), 'x');
  EXPECT_NE(calendar_text(feed_with({entry_with(whole)})).find("SUMMARY:" + whole + "\r\n"),
            std::string::npos);
  EXPECT_NE(calendar_text(feed_with({entry_with(whole + "y")})).find(whole + "\r\n y\r\n"),
            std::string::npos);
}

TEST(CalendarFeed, MarksWhatWouldPartAValue) {  // 3.3.11
  const std::string text = calendar_text(feed_with({entry_with("a,b;c\\d:e\"f")}));
  EXPECT_EQ(value_of(text, "SUMMARY"), "a\\,b\\;c\\\\d:e\"f");
}

TEST(CalendarFeed, LeavesOutBytesThatAreNoText) {  // 3.1.4: UTF-8
  const std::string text = calendar_text(feed_with({entry_with("a\x01\xff\xc3(\x7f\tb\xe2\x82")}));
  EXPECT_EQ(value_of(text, "SUMMARY"), "a(b");
}

TEST(CalendarFeed, WithoutEntriesSaysThatNothingIsTaken) {  // 3.6: a component there must be
  const auto lines = unfolded(calendar_text(feed_with({})));
  EXPECT_EQ(std::ranges::count(lines, "BEGIN:VFREEBUSY"), 1);
  EXPECT_EQ(std::ranges::count(lines, "END:VFREEBUSY"), 1);
  EXPECT_EQ(std::ranges::count(lines, "UID:free-1@shop"), 1);
  EXPECT_EQ(std::ranges::count(lines, "DTSTAMP:20261125T074500Z"), 1);
  EXPECT_EQ(std::ranges::count(lines, "DTEND:20261222T230000Z"), 1);
}

TEST(CalendarFeed, OpensAndClosesItsComponentsInTurn) {  // 3.4
  const std::string text =
      calendar_text(feed_with({entry_with("one"), entry_with("two"), entry_with("three")}));
  std::vector<std::string> open;
  for (const std::string& line : unfolded(text)) {
    if (line.starts_with("BEGIN:")) open.push_back(line.substr(6));
    if (!line.starts_with("END:")) continue;
    ASSERT_FALSE(open.empty());
    EXPECT_EQ(open.back(), line.substr(4));
    open.pop_back();
  }
  EXPECT_TRUE(open.empty());
}

TEST(CalendarFeed, IsTheSameBytesForTheSameFeed) {
  const CalendarFeed feed = feed_with({entry_with("one"), entry_with("two")});
  EXPECT_EQ(calendar_text(feed), calendar_text(feed));
}

}  // namespace
}  // namespace rollwright::documents

#include "documents/calendar_feed.hpp"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::documents {
namespace {

constexpr std::size_t kMostOctets = 75;  // of a line, its CRLF apart (3.1)

/// Bytes of the UTF-8 character that begins here; 0 when none does.
std::size_t character_at(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  const std::size_t length = lead < 0x80 ? 1 : lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  return length <= text.size() && is_utf8(text.substr(0, length)) ? length : 0;
}

/// A value of type TEXT (3.3.11).
std::string text_value(std::string_view text) {
  std::string value;
  while (!text.empty()) {
    const std::size_t length = character_at(text);
    const char c = text.front();
    if (length == 1 && (c == '\\' || c == ';' || c == ',')) {
      value += {'\\', c};
    } else if (c == '\n') {
      value += "\\n";
    } else if (length > 1 || (length == 1 && c >= ' ' && c != '\x7f')) {
      value += text.substr(0, length);
    }
    text.remove_prefix(std::max<std::size_t>(length, 1));
  }
  return value;
}

/// A date with UTC time (3.3.5, form 2).
std::string utc(Instant instant) {
  const auto day = std::chrono::floor<std::chrono::days>(instant);
  const std::chrono::year_month_day date{day};
  const std::chrono::hh_mm_ss time{std::chrono::floor<std::chrono::seconds>(instant - day)};
  return fmt::format("{:04}{:02}{:02}T{:02}{:02}{:02}Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                     time.hours().count(), time.minutes().count(), time.seconds().count());
}

/// Content lines, folded between characters, never within one (3.1).
class Lines {
 public:
  void add(std::string_view name, std::string_view value) {
    const std::string line = fmt::format("{}:{}", name, value);
    std::string_view rest = line;
    std::size_t room = kMostOctets;
    while (rest.size() > room) {
      std::size_t end = room;
      while ((static_cast<unsigned char>(rest[end]) & 0xC0) == 0x80) --end;
      text_ += rest.substr(0, end);
      text_ += "\r\n ";
      rest.remove_prefix(end);
      room = kMostOctets - 1;  // the space counts
    }
    text_ += rest;
    text_ += "\r\n";
  }
  void add_text(std::string_view name, std::string_view text) { add(name, text_value(text)); }
  [[nodiscard]] std::string taken() { return std::move(text_); }

 private:
  std::string text_;
};

void add_event(Lines& lines, const CalendarFeed& feed, const CalendarEntry& entry) {
  lines.add("BEGIN", "VEVENT");
  lines.add_text("UID", entry.uid);
  lines.add("DTSTAMP", utc(feed.stamp));
  lines.add("SEQUENCE", fmt::to_string(feed.sequence));
  lines.add("DTSTART", utc(entry.start));
  lines.add("DTEND", utc(entry.end));
  lines.add_text("SUMMARY", entry.summary);
  if (!entry.location.empty()) lines.add_text("LOCATION", entry.location);
  if (!entry.description.empty()) lines.add_text("DESCRIPTION", entry.description);
  lines.add("END", "VEVENT");
}

void add_nothing_taken(Lines& lines, const CalendarFeed& feed) {
  lines.add("BEGIN", "VFREEBUSY");
  lines.add_text("UID", feed.uid);
  lines.add("DTSTAMP", utc(feed.stamp));
  lines.add("DTSTART", utc(feed.from));
  lines.add("DTEND", utc(feed.to));
  lines.add("END", "VFREEBUSY");
}

}  // namespace

std::string calendar_text(const CalendarFeed& feed) {
  Lines lines;
  lines.add("BEGIN", "VCALENDAR");
  lines.add("VERSION", "2.0");
  lines.add("PRODID", "-//Rollwright//Plan of the workshop//EN");
  lines.add_text("NAME", feed.name);
  for (const CalendarEntry& entry : feed.entries) add_event(lines, feed, entry);
  if (feed.entries.empty()) add_nothing_taken(lines, feed);
  lines.add("END", "VCALENDAR");
  return lines.taken();
}

}  // namespace rollwright::documents

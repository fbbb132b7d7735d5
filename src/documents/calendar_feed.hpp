#pragma once

#include <string>
#include <vector>

#include "base/clock.hpp"

/// Appointments as other calendars read them: text/calendar by RFC 5545.
namespace rollwright::documents {

struct CalendarEntry {
  std::string uid;    // of this appointment and no other anywhere; it keeps it when it moves
  Instant start = {};
  Instant end = {};   // later than the start
  std::string summary;
  std::string location;     // left out when empty
  std::string description;  // left out when empty; may have several lines
};

struct CalendarFeed {
  std::string name;
  std::string uid;          // of the stretch of time itself
  Instant stamp = {};       // when what it says was so: not when it is asked
  int sequence = 0;         // grows whenever an appointment may have changed, 0 or more
  Instant from = {};        // the stretch of time that it speaks of
  Instant to = {};
  std::vector<CalendarEntry> entries;
};

/// The feed as one iCalendar object: lines of at most 75 octets that end in CRLF, times in UTC. The
/// same feed gives the same bytes. Bytes that are no UTF-8 and control characters are left out.
///
/// Source:  [calendar] in docs/sources.md. RFC 5545: 3.1 content lines and folding, 3.3.5 UTC times,
///          3.3.11 TEXT, 3.4 and 3.6 the object and its components, 3.6.1 VEVENT, 3.6.4 VFREEBUSY,
///          3.7.3 PRODID, 3.7.4 VERSION, 3.8.4.7 UID, 3.8.7.2 DTSTAMP, 3.8.7.4 SEQUENCE; RFC 7986:
///          5.1 NAME.
/// Empty:   an object must have a component (3.6), so a feed without entries says with a VFREEBUSY
///          that nothing of its stretch of time is taken.
[[nodiscard]] std::string calendar_text(const CalendarFeed& feed);

}  // namespace rollwright::documents

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"

namespace rollwright::documents {

/// Everything that is written down of one bike, ready to be read. Moments are local and in words.
struct BikeHistory {
  struct Part {
    std::string place;
    std::string name;
    std::string marks;  // "number 4711, lot L-7"; empty: neither was written down
    std::string on;
    std::string off;    // empty while it is on
    std::string why;    // it was taken off
  };
  struct Check {
    std::string id;
    std::string mark;
    std::string text;
    std::string outcome;  // empty: open
    std::string who;      // with the moment
    std::string work_by;  // who did the work that it proves; empty when it proves none
    std::string note;
  };
  struct Photo {
    std::string picture;      // hash of the whole picture, hexadecimal
    std::string jpeg = {};    // its small copy; empty: there is none
    int width = 0;            // of the copy, pixels
    int height = 0;
    std::string why_not = {}; // there is no copy
  };
  struct Line {
    int number = 0;
    std::string at;
    std::string who;
    std::string sentence;
    std::optional<Photo> photo = {};  // that the line is about
  };
  struct Entry {
    std::int64_t number = 0;
    std::string at;
    std::string who;
    std::string what;
  };

  std::string shop;
  bool invented = false;
  Instant printed = {};
  std::string order;
  std::string rider;
  std::string build;
  std::string state;
  std::vector<Part> parts;
  std::vector<Check> checks;
  std::vector<Line> lines;     // oldest first
  std::vector<Entry> journal;  // oldest first
  std::string last_hash;       // of the whole journal, when this was printed
};

/// The history on A4, with the journal's last hash as text and as QR code: `rollwright verify
/// --printed` says years later whether the book still goes on from it. A photograph stands small
/// beside its line, with the beginning of its hash; a copy that is there twice is in the file once.
/// The same history gives the same bytes.
[[nodiscard]] std::string bike_history_pdf(const BikeHistory& history);

}  // namespace rollwright::documents

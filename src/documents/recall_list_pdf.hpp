#pragma once

#include <string>
#include <vector>

#include "base/clock.hpp"

namespace rollwright::documents {

/// Who has to be told of a recall, ready to be read.
struct RecallList {
  struct Bike {
    std::string rider;
    std::string contact;  // empty: none is written down
    std::string bike;     // order's number, with its state
    std::string part;
    std::string marks;    // "number 4711, lot L-7"; empty: not written down
    std::string certainty;  // certain, possible
    std::string status;   // "told", "no answer" ..., "not told"
    std::string last;     // day, who, channel and note of it
  };

  std::string shop;
  bool invented = false;
  Instant printed = {};
  std::string number;
  std::string part;      // what is called back, in words
  std::string wrong;
  bool danger = false;
  std::string remedy;
  std::string opened;    // day and who
  std::string progress;  // "12 of 31 riders told; 4 fixed"
  std::vector<Bike> bikes;
  std::vector<std::string> stock;  // sentences: what lies in the shop
};

/// On A4, to work through by telephone. The same list gives the same bytes.
[[nodiscard]] std::string recall_list_pdf(const RecallList& list);

/// RFC 4180 with the headings customer, contact, bike, part, marks, certainty, status, last.
[[nodiscard]] std::string recall_list_csv(const RecallList& list);

}  // namespace rollwright::documents

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// Recalls as they are shown and told.
namespace rollwright::shop {

struct RecallStepView {
  std::string status;
  Day day = {};
  std::string who;
  std::string channel;
  std::string note;
};

/// A bike that has or may have a part that is called back.
struct RecalledBike {
  std::string order;
  std::string rider;
  std::string contact;
  std::string state;
  std::string place;
  std::string part;
  std::string name;
  std::string serial;
  std::string lot;
  std::string certainty;  // certain, possible
  bool bound = false;     // the piece is in the bike's record; else it is only chosen
  bool stop_sale = false;
  std::string status;     // of the last step; "not told" before the first
  std::vector<RecallStepView> steps;  // oldest first
};

/// Pieces that are in the shop, or were used up without a bike.
struct RecalledStock {
  std::string part;
  std::string name;
  int pieces = 0;
  std::string certainty;
  std::string sentence;
};

struct RecallLine {
  std::string number;
  std::string notice;
  std::string part;      // what is called back, in words
  std::string wrong;
  bool danger = false;
  std::string remedy;
  Day opened = {};
  std::string opened_by;
  std::optional<Day> closed;
  int riders = 0;
  int told = 0;
  int fixed = 0;
  int held = 0;          // orders on stop-sale by it
  std::string progress;  // "12 of 31 riders told; 4 fixed"
};

struct RecallsView {
  std::string sentence;
  std::vector<RecallLine> recalls;  // open ones first, newest first
};

struct RecallView {
  RecallLine line;
  std::string part;      // the part's number, or empty
  std::string ranges;    // "lots L10 to L20", ... ; empty: every piece
  std::string closed_by;
  std::string closing_note;
  std::vector<RecalledBike> bikes;   // handed over
  std::vector<RecalledBike> orders;  // still open
  std::vector<RecalledStock> stock;
  std::vector<std::string> statuses;  // that may be told
};

struct RecallGiven {
  std::string who;
  std::string notice;
  std::string part;
  std::string kind;
  std::string maker;
  std::string lot_from, lot_to;
  std::string serial_from, serial_to;
  std::optional<Day> day_from, day_to;
  std::string wrong;
  bool danger = false;
  std::string remedy;
};

struct ToldGiven {
  std::string who;
  std::string order;
  std::string status;  // told, no answer, booked, fixed, refused, sold on
  std::string channel;
  std::string note;
};

struct RecallClosing {
  std::string who;
  std::string note;
};

}  // namespace rollwright::shop

#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "book/picture.hpp"
#include "trade/sheet.hpp"

/// What the bench shows and is told. Moments are UTC as ISO text.
namespace rollwright::shop {

struct BenchPoint {
  std::optional<double> value;  // own unit of the dimension
  std::string text;             // "5.2 N·m"; empty while it is not taken
  std::string outcome;          // pass, fix, stop; empty while it is not taken
  std::string who;
  std::string at;
  std::string tool;
};

struct BenchReading {
  trade::SheetValue value;
  std::vector<BenchPoint> points;
};

struct BenchOperation {
  std::string operation;
  std::string name;
  std::string area;
  std::string skill;
  std::string skill_words;
  double minutes_low = 0;
  double minutes_high = 0;
  double minutes_taken = 0;
  bool second_person = false;
  int hands = 1;                      // people at it at once
  std::string steps;
  std::vector<std::string> tools;
  std::vector<std::string> consumables;
  std::vector<std::string> cautions;
  std::vector<std::string> fits;      // names of the places whose parts come on here
  std::string standing;               // not yet, open, running, paused, done, redo
  std::string because;
  std::vector<std::string> waits_for;
  std::vector<std::string> doers;     // names
  std::vector<std::string> helpers;   // names of those who lent a hand
  std::string no_helper;              // why nobody was needed
  std::string running;                // name; empty when nobody is at it
  std::string running_since;
  std::string fault;
  bool care = false;                  // beside building: a visit asked for it
  std::vector<BenchReading> readings;
};

struct BenchCheck {
  std::string id;
  std::string list;
  std::string text;
  std::string limit;
  std::string mark;
  std::vector<std::string> covers;
  std::string outcome;  // empty while it is open
  std::string who;
  std::string at;
  std::string note;
  std::string because;  // why it is open again
};

struct KitPart {
  std::string slot;
  std::string position;
  std::string part;
  std::string name;
  bool has_serial = false;
  bool may_follow = false;
  bool bound = false;       // in the kit or on the bike
  std::string serial;
  std::string lot;
  std::string came_by;
  std::string since;
  std::string who;
  std::string here;         // where it is while it is not bound: "put by", "9 Dec", "not bought"
  std::vector<std::string> seen;  // serials and lots at goods-in that may be meant
};

/// How far the bike could be built with what is bound or in hand.
struct BuildAsFar {
  std::vector<std::string> missing;      // names of the parts
  std::vector<std::string> possible;     // operations not done yet that could be
  std::vector<std::string> not_possible;
  std::string sentence;
};

/// What a bike is here for that was handed over before.
struct BenchVisit {
  std::string about;
  std::optional<double> km;
  std::string since;
  std::string who;
  std::string note;                  // what the rider says
  std::vector<std::string> missing;  // what keeps it from being given back to be ridden
};

/// One bike at the bench.
struct BenchView {
  std::string order;
  std::string rider;
  std::string build;
  std::string frame;
  std::string state;
  std::optional<Day> promised;
  int last = 0;                       // number of the record's last line
  int done = 0;
  std::string blocked;                // why nobody may work on it; empty when they may
  std::vector<std::string> stops;     // sentences
  std::vector<BenchOperation> operations;
  std::vector<BenchCheck> checks;
  std::vector<KitPart> kit;
  BuildAsFar as_far;
  std::vector<std::string> paired;    // front_wheel, rear_wheel
  std::vector<std::string> open_questions;
  bool care = false;                  // it was handed over: work on it belongs to a visit
  std::optional<BenchVisit> visit;    // the one that is open
};

struct BenchNow {
  std::string operation;
  std::string name;
  std::string area;
  std::string skill;
  std::string standing;
  std::string who;    // at it now
  std::string since;
  std::string because;
};

/// A bike in the list of those that can be worked on.
struct BenchBike {
  std::string order;
  std::string rider;
  std::string build;
  std::string frame;
  std::string state;
  std::optional<Day> promised;
  int done = 0;
  int operations = 0;
  std::string blocked;
  std::string visit;          // what a bike in care is here for
  std::vector<std::string> stops;
  std::vector<BenchNow> now;  // running, paused, to be done again and open, in this order
};

struct ToolView {
  std::string id;
  std::string name;
  std::string measures;
  std::optional<Day> good_until;
  bool good = false;
  std::string sentence;  // why it is not; or until when it is
};

struct BenchPerson {
  std::string id;
  std::string name;
  std::vector<std::string> skills;
};

struct BenchListView {
  std::vector<BenchBike> bikes;
  std::vector<ToolView> tools;
  std::vector<BenchPerson> people;
};

/// One thing that was done, as a tablet says it.
struct DeedGiven {
  std::string deed;      // trade::Deed's words
  std::string about;
  std::string reading;
  int point = 0;
  std::string value;     // as typed: "5,2", "46 in-lb"; in the reading's unit when it has none
  std::string outcome;   // pass, fix, stop
  std::string tool;
  std::string part;      // number of another part than the order's, on a bike in care; may be empty
  std::string serial;
  std::string lot;
  std::string note;
  std::string hand;      // person who lends one
  std::string at;        // ISO moment; empty: now
};

/// What is written down together: all of it or nothing.
struct DeedsGiven {
  std::string who;
  std::string key;  // of the sender's own; sent twice, written once
  std::vector<DeedGiven> deeds;
  std::vector<book::Picture> pictures = {};  // of the photographs among them
};

/// A line that was written just now.
struct WrittenLine {
  int number = 0;
  std::string deed;
  std::string about;
  std::string reading;
  int point = 0;
  std::string outcome;   // of a reading or a check line
  std::string sentence;
};

/// The answer to deeds: what was written, not how the bike is then.
struct WrittenView {
  std::string order;
  int last = 0;          // number of the record's last line
  bool already = false;  // it was sent before and is written since then
  std::vector<WrittenLine> lines;  // none when it was
};

/// One line of a bike's history.
struct HistoryLine {
  int number = 0;
  std::string at;
  std::string who;
  std::string deed;
  std::string sentence;
  std::string about;
  std::string outcome;
  std::string part;
  std::string serial;
  std::string lot;
};

struct HistoryEntry {
  std::int64_t entry = 0;
  std::string at;
  std::string who;
  std::string what;
  std::string why;
  std::string subject;
};

struct HistoryView {
  std::string order;
  std::string rider;
  std::string build;
  std::string state;
  std::vector<HistoryLine> lines;      // oldest first
  std::vector<HistoryEntry> journal;   // about the order, its bike and its maker, oldest first
  std::string last_hash;               // of the newest of them, to compare with a print
};

/// Which parts are looked for: as book::MarksWanted.
struct TraceWish {
  std::string part;
  std::string lot_from, lot_to;
  std::string serial_from, serial_to;
};

struct TracedBike {
  std::string order;
  std::string rider;
  std::string contact;
  std::string state;
  std::string slot;
  std::string part;
  std::string name;
  std::string serial;
  std::string lot;
  std::string certainty;  // certain, possible (lot not written down), was on (taken off)
  std::string since;
  std::string off;
};

struct TracedStock {
  std::string part;
  std::string name;
  std::string line;   // purchase line
  std::string serial;
  std::string lot;
  int pieces = 0;
  std::string place;
};

struct TraceView {
  std::string sentence;
  std::vector<TracedBike> bikes;
  std::vector<TracedStock> stock;
};

}  // namespace rollwright::shop

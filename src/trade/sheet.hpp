#pragma once

#include <optional>
#include <string>
#include <vector>

#include "trade/order.hpp"
#include "trade/rule.hpp"

namespace rollwright::trade {

/// One limit that a value must keep, and who says so.
struct Limit {
  std::optional<double> least;  // own unit of the dimension
  std::optional<double> most;
  std::string source;           // "printed on the stem", "ISO 4210", "common practice"
};

/// A value to set or read in one step of the sheet.
struct SheetValue {
  std::string reading;  // id of the trade's reading
  std::string name;
  Dimension dimension = Dimension::kNone;
  std::string unit;
  bool pass_or_fail = false;
  bool stop = false;
  std::optional<double> stop_below;  // where the stop limit is wider than the pass limit
  std::optional<double> stop_above;
  std::optional<double> target;
  Limit strictest;            // what holds after all limits met
  std::vector<Limit> limits;  // each limit on its own
  std::string how;            // how the target was computed, for this bike
  int count = 1;
  // The same, ready to be read: rounded as a tool can set it, with the unit.
  std::string target_text;    // "5 N·m"; empty without a target
  std::string range_text;     // "4 to 6 N·m", "at most 0.5 mm"; empty without limits
  std::string us_text;        // target, else range, in customary US units; may be empty
};

struct SheetStep {
  int number = 0;
  std::string operation;
  std::string name;
  std::string area;
  std::string skill;
  double minutes_low = 0;
  double minutes_high = 0;
  std::vector<std::string> after;  // bridged over operations that do not apply
  std::vector<std::string> fits;   // slots of the parts that come onto the bike here
  std::vector<std::string> hangs;  // wheels that hang in the bike once it is done
  bool second_person = false;
  int hands = 1;                   // people at it at once
  double unattended_minutes = 0;
  std::string steps;
  std::vector<std::string> tools;
  std::vector<std::string> consumables;
  std::vector<std::string> cautions;  // sentences
  std::vector<SheetValue> values;
  bool done = false;
  bool care = false;  // of a bike that comes back: nothing of it is open until a visit asks for it
};

struct SheetPart {
  std::string slot;      // id
  std::string position;  // its name: "rear hub"
  std::string part;  // id
  std::string name;
  int quantity = 1;
  bool has_serial = false;
};

struct SheetCheck {
  std::string id;
  std::string list;
  std::string text;
  std::string limit;
  std::string mark;  // S, M, N
  std::vector<std::string> covers;  // operations whose work it proves
};

/// One thing that the finished bike does, for the printed sheet: its steepest start, its gears.
struct SheetFigure {
  std::string name;
  std::string value;                   // empty while something has to be known first
  std::string us;                      // customary in the US; may be empty
  std::string note;
  std::vector<std::string> presets;    // what it rests on that is not of this bike
  std::vector<std::string> questions;  // what has to be known first
};

/// The bench sheet of one bike.
struct Sheet {
  OrderId order;
  std::string rider;
  std::string need;
  std::string build;
  std::string frame;
  std::vector<SheetPart> parts;
  std::vector<SheetStep> steps;  // in an order that respects every predecessor
  std::vector<SheetCheck> checks;
  bool care = false;  // the bike is in care, and its operations and checks are there too
  double minutes_low = 0;  // of building, as the chain
  double minutes_high = 0;
  double longest_chain_low = 0;   // minutes, enough people and stands
  double longest_chain_high = 0;
  std::vector<std::string> open_questions;  // facts not known that a value needs
};

}  // namespace rollwright::trade

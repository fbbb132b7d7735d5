#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "units/unit_table.hpp"

/// Bench aids: calculations that stand alone, for a mechanic who has no order open. Each is a row of
/// data, so that the command line, the HTTP API and the pages need not know any of them.
namespace rollwright::aids {

/// What can be typed into one field.
enum class InputKind {
  kAmount,  // a number with a unit
  kNumber,  // a plain number
  kCount,   // a whole number
  kCounts,  // whole numbers, spaces between
  kNumbers, // plain numbers, spaces between
  kChoice,  // one of the words
  kText,
  kFile,  // the content of a file, as it is; at most one per aid
};
[[nodiscard]] std::string_view word_of(InputKind kind);

struct Input {
  std::string key;    // "flange_circle"
  std::string label;  // "Circle of spoke holes"
  InputKind kind = InputKind::kAmount;
  Dimension dimension = Dimension::kNone;
  std::string unit;    // that a bare number is taken in
  std::string preset;  // what stands in the field at first; empty: may stay empty
  std::vector<std::string> choices;
  std::string help;
  std::string media;  // of a file: its type as RFC 6838 has it, "audio/wav"; else empty
};

/// One figure of the answer, metric and US side by side.
struct Row {
  std::string name;
  std::string value;
  std::string us;  // empty where it is not customary
  std::string note;
};

struct Table {
  std::string title;
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;
};

/// Marks along a line, as of gears by their development.
struct Scale {
  struct Mark {
    double at = 0;
    std::string label;
    std::string group;  // marks of one group share a line: "chainring 46"
  };
  std::string title;
  std::string unit;
  bool logarithmic = false;  // equal steps in per cent are equally far apart
  std::vector<Mark> marks;
};

/// A figure along a way, with the places that one in ten and nine in ten stay under.
struct Band {
  std::string title;
  std::string along_unit;
  std::string unit;
  std::vector<double> along;  // rising; the others are parallel to it
  std::vector<double> low;
  std::vector<double> middle;
  std::vector<double> high;
};

/// A wheel on the truing stand, to be drawn: as estimated now and as expected once the advised turns
/// are made. Angles are degrees around the rim from the first place on, in the order of the spokes;
/// run-out counts from the rim's own mean, plus is towards the left or towards the axle.
struct WheelOnStand {
  struct Spoke {
    int number = 1;
    std::string side;      // "left" or "right": the flange it hangs from
    double angle_deg = 0;  // of its nipple
    double hub_angle_deg = 0;
    double hub_radius_mm = 0;
    int quarters = 0;  // advised, of a turn; positive is tighter
    std::string turn;  // the same in words; empty for none
    double now_n = 0;  // tension
    double now_uncertainty_n = 0;  // standard
    double after_n = 0;
    double after_uncertainty_n = 0;
    double target_n = 0;  // mean to build to of its side
  };
  struct Place {
    double angle_deg = 0;
    double lateral_now_mm = 0;
    double radial_now_mm = 0;
    double lateral_after_mm = 0;
    double radial_after_mm = 0;
  };
  struct Limits {
    double lateral_mm = 0;         // greatest less least around the rim
    double lateral_middle_mm = 0;  // of the band that it is to stay in
    double radial_mm = 0;
    double radial_middle_mm = 0;
    double highest_n = 0;  // no spoke above
    double spread = 0;     // of a spoke from its side's mean, as a share
  };
  double radius_mm = 0;             // of the nipples
  std::string verdict;              // "inside", "turn", "nearer" or "rim bent"
  std::vector<std::string> said;    // what is expected and how sure that is
  std::vector<Spoke> spokes;
  std::vector<Place> rim;
  Limits limits;
  std::optional<double> bent_at_deg;
  std::vector<int> read_next;       // numbers of spokes whose tension is too little known
};

/// What the fields are to hold when the work goes on from this answer: a wheel's next pass.
struct GoingOn {
  std::string label;                         // "These turns are made"
  std::map<std::string, std::string> fields;  // by key; an empty one waits for a new value
};

struct Reckoned {
  std::vector<Row> rows;
  std::vector<Table> tables;
  std::vector<Scale> scales;
  std::vector<Band> bands;
  std::vector<std::string> cautions;  // about these numbers
  std::optional<GoingOn> going_on;
  std::optional<WheelOnStand> wheel;
};

/// What was typed, by key.
using Typed = std::map<std::string, std::string>;
class Given;

struct Aid {
  std::string id;       // "spoke-length"
  std::string title;    // "Spoke length"
  std::string lead;     // one sentence: what it is for
  std::vector<Input> inputs;
  std::string method;   // how it is reckoned, and how exact it is
  std::string source;   // keys of docs/sources.md
  std::string caution;  // always shown; empty where nobody can be hurt
  std::function<Result<Reckoned>(const Given&)> reckon;
};

}  // namespace rollwright::aids

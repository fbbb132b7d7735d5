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

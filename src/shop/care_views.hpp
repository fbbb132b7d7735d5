#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

/// Bikes that come back, as they are shown and told. Moments are UTC as ISO text.
namespace rollwright::shop {

struct CareOperation {
  std::string operation;
  std::string name;
  std::string standing;  // as at the bench; empty where it is only offered
  bool care = false;     // beside building
};

struct CareVisitView {
  std::string about;
  std::optional<double> km;
  std::string since;
  std::string who;
  std::string note;
  std::vector<CareOperation> asked;
  std::string back;       // empty while it is here
  std::string back_by;
  bool to_be_ridden = false;
  std::string back_note;
};

/// Something a visit can be for, and what it would ask for.
struct CareOffer {
  std::string about;   // "yearly service", "recall R1"
  std::string when;    // "every 26 weeks"; of a recall what is wrong
  bool due = false;    // near today
  std::string work;    // of a recall its remedy
  std::vector<CareOperation> operations;
};

/// A bike that should come back.
struct CareDueLine {
  std::string order;
  std::string rider;
  std::string contact;
  std::vector<std::string> visits;  // of the service plan
  Day from = {};
  Day to = {};
  std::string because;              // "26 weeks after the last"
  std::string sentence;             // all of it
  std::optional<Day> reminded;      // when its rider was told, since it was here last
  std::string said;                 // what they said then
  bool to_be_told = false;          // not told yet, or long ago
};

/// A bike that is here for a visit.
struct CareHereLine {
  std::string order;
  std::string rider;
  std::string about;
  Day since = {};
};

struct ComingBackView {
  Day day = {};
  std::string sentence;            // how many there are
  std::vector<CareHereLine> here;
  std::vector<CareDueLine> due;    // by the day on which they should be here at the latest
};

struct CareView {
  std::string order;
  std::string rider;
  std::string contact;
  std::string state;
  std::string frame;
  std::string sentence;                   // how it stands with this bike
  bool may_open = false;
  std::optional<CareDueLine> due;         // none: nothing near today
  std::optional<CareVisitView> open;
  std::vector<std::string> missing;       // what keeps it from being given back to be ridden
  std::vector<CareVisitView> visits;      // those that are over, newest first
  std::vector<CareOffer> offers;
  std::vector<CareOperation> operations;  // that a repair may name
};

/// A bike that comes back.
struct VisitGiven {
  std::string who;
  std::string key;                      // as DeedsGiven::key
  std::vector<std::string> visits;      // of the service plan, "recall R1", or words: "repair"
  std::string km;                       // as typed; may be empty
  std::string note;                     // what the rider says
  std::vector<std::string> operations;  // beside those of the visits
};

/// More that an open visit asks for.
struct AskedGiven {
  std::string who;
  std::string key;
  std::vector<std::string> operations;
  std::string note;  // why
};

/// The rider was told that the bike should come.
struct RemindedGiven {
  std::string who;
  std::string key;
  std::vector<std::string> visits;  // what for; none: what is due
  std::string note;                 // what the rider said
};

struct BackGiven {
  std::string who;
  std::string key;
  bool to_be_ridden = true;
  std::string note;  // of a bike that is not to be ridden why, and that its rider was told
};

}  // namespace rollwright::shop

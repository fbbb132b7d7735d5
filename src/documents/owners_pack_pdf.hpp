#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"

namespace rollwright::documents {

/// What a rider takes home with the bike, ready to be read. What is not known is empty, and the paper
/// says that it is missing.
struct OwnersPack {
  struct Part {
    std::string place;
    std::string name;
    std::string marks;       // "number 4711, lot L-7"
    bool has_number = false;  // such parts carry a number of their own
  };
  struct Value {
    std::string name;
    std::string value;  // as last read; empty: not read
    std::string limit;  // as it stood then, in words
    std::string by;     // who read it, when, with what
  };
  struct Visit {
    std::string name;
    std::string when;   // "after 200 to 500 km or 4 to 8 weeks, whichever comes first"
    std::string work;
    std::string source;
  };
  struct Talk {
    std::string id;
    std::string text;
    std::string said;   // outcome with who and when; empty: not said yet
  };

  std::string shop;
  std::string town;
  bool invented = false;
  Instant printed = {};
  std::string order;
  std::string rider;
  std::string contact;
  std::string build;
  std::string handed_over;  // day in words; empty: not written down
  std::vector<Part> parts;
  std::vector<Value> settings;  // set for this rider: pressure, saddle height
  std::vector<Value> torques;
  std::string permitted_mass;   // of bike, rider and luggage, with who says so
  std::string bike_mass;        // as weighed
  std::string mass_left;        // for rider and luggage
  std::vector<Visit> visits;
  bool halved = false;          // the distances of the plan: cargo and children
  std::string first_service;    // by date and distance
  std::vector<Talk> talk;
};

/// The pack on A4, with fields for signatures. The same pack gives the same bytes.
[[nodiscard]] std::string owners_pack_pdf(const OwnersPack& pack);

/// Everything that the pack does not know, as the paper says it.
[[nodiscard]] std::vector<std::string> missing_in(const OwnersPack& pack);

}  // namespace rollwright::documents

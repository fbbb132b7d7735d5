#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>

#include "build/aid_fields.hpp"

namespace rollwright::build {

/// One value with where it comes from.
struct Told {
  std::string typed;
  std::string origin;
};

/// Fills the fields of one aid. What is not known becomes a question at its field.
class AidFilling {
 public:
  AidFilling(const FactReader& facts, std::string end) : facts_(facts), end_(std::move(end)) {}

  /// "front" or "rear" as asked, the rear one when nothing was asked: the aid looks at one end.
  [[nodiscard]] std::string end();
  /// The end as asked, one of these; empty when none was.
  [[nodiscard]] const std::string& offered(std::vector<std::string> ends) {
    fields_.ends = std::move(ends);
    return end_;
  }
  /// "rear_tyre" for "tyre".
  [[nodiscard]] std::string at_end(const std::string& what) { return end() + "_" + what; }
  /// A reader without questions; ask facts that a field can do without here.
  [[nodiscard]] FactReader reader() const { return {facts_.trade(), facts_.bike()}; }

  /// The aid has nothing to say of this bike.
  void not_here(std::string sentence) { fields_.not_here = std::move(sentence); }
  /// The aid goes along the order's route.
  void along_route() { fields_.wants_route = true; }
  void set(const std::string& key, std::string typed, std::string origin);
  void ask(const std::string& key, std::string sentence);
  /// One fact, as a person reads it: with its unit, a word as it is.
  void fact(const std::string& key, const std::string& slot, const std::string& attribute);
  /// As `fact`, without a question: for a field that may stay empty.
  void fact_if_known(const std::string& key, const std::string& slot,
                     const std::string& attribute);
  /// A value of several facts; what it asks of its reader become questions at the field.
  void computed(const std::string& key,
                const std::function<std::optional<Told>(FactReader&)>& work);

  [[nodiscard]] AidFields done() && { return std::move(fields_); }

 private:
  FactReader facts_;
  std::string end_;
  AidFields fields_;
};

/// "crankset (Arms 170 mm): crank arm length, measured"
[[nodiscard]] std::string origin_of(const FactReader& facts, const std::string& slot,
                                    const std::string& attribute);

/// The slot whose part has the hub's (or the rim's) facts at this end: the wheel where it was bought
/// whole.
[[nodiscard]] std::string hub_slot(const FactReader& facts, const std::string& end);
[[nodiscard]] std::string rim_slot(const FactReader& facts, const std::string& end);
/// "47-622", of the width measured where it was measured.
[[nodiscard]] std::optional<Told> tyre_size(FactReader& facts, const std::string& end);
/// How the rider sits, as mech::drag_areas_m2 names it, by the bar and the frame's layout.
[[nodiscard]] std::optional<Told> posture(FactReader& facts);
/// Bike, rider and luggage.
[[nodiscard]] std::optional<Told> whole_mass(FactReader& facts);

using AidFill = void (*)(AidFilling&);
using AidFills = std::map<std::string, AidFill>;  // by the aid's id

// By area of the bike.
[[nodiscard]] AidFills drive_aid_fields();
[[nodiscard]] AidFills brake_aid_fields();
[[nodiscard]] AidFills ride_aid_fields();
[[nodiscard]] AidFills fit_aid_fields();
[[nodiscard]] AidFills joint_aid_fields();
[[nodiscard]] AidFills rim_aid_fields();
[[nodiscard]] AidFills wheel_aid_fields();

}  // namespace rollwright::build

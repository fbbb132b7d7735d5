#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "trade/order.hpp"

/// What was done to, measured on and said of one bike, line after line. No line is ever changed or
/// taken away: a correction is a further line.
namespace rollwright::trade {

enum class Deed {
  kKitted,   // a part was put into the bike's kit, by scan: it is bound to this bike
  kOn,       // a part was put on in place of another, or later
  kOff,      // a part was taken off; `note` says why
  kPaired,   // a wheel was scanned at its frame
  kStarted,
  kPaused,   // `note` says why
  kDone,
  kRead,     // a value was read, or a plain pass or fail was said
  kRedo,     // the operation is to be done again; `note` says why
  kFault,    // something is wrong that this operation cannot mend; `note` says what
  kMended,   // the fault of this operation is out of the way; `note` says how
  kChecked,  // a line of a check list
  kSigned,   // a signature; `about` says for what
  kHand,     // somebody lent a hand: `serial` is who; empty: nobody was needed, `note` says why
  kPhoto,    // `serial` is the picture's hash
  kNoted,
  kVisit,    // the bike came back: `about` says for what, `value` how many km it shows
  kAsked,    // the visit asks for this operation
  kLeftOut,  // this operation of care is not done in this visit; `note` says why
  kBack,     // given back to its rider: pass, or stop when it is not to be ridden
  kReminded, // its rider was told what it should come for: `about`; `note` is what they said
};
[[nodiscard]] std::string_view word_of(Deed deed);  // "kitted", "given back", ...
[[nodiscard]] std::optional<Deed> deed_named(std::string_view word);
[[nodiscard]] const std::vector<Deed>& all_deeds();

/// Wheels that are scanned at their frame, as the places of a bike are named.
[[nodiscard]] const std::vector<std::string>& all_wheels();  // front_wheel, rear_wheel

/// How a reading or a check line came out.
enum class Outcome { kNone, kPass, kFix, kStop };
[[nodiscard]] std::string_view word_of(Outcome outcome);  // "", "pass", "fix", "stop"
[[nodiscard]] std::optional<Outcome> outcome_named(std::string_view word);

/// One line of a bike's record. What a deed does not need is empty.
struct BikeLine {
  int number = 0;       // from 1 without gaps, by bike; the book gives it
  Instant at = {};      // when it was done, by the clock of where it was done
  PersonId who;
  Deed deed = Deed::kNoted;
  std::string about;    // operation, check line, slot, or what is signed
  std::string reading;  // of the trade's readings
  int point = 0;        // from 1, of readings taken at several points
  std::optional<double> value;  // in the dimension's own unit; of a visit, km
  Outcome outcome = Outcome::kNone;
  std::string limit;    // as it stood then, in words, with who says so
  std::string tool;
  PartId part;
  std::string serial;
  std::string lot;
  std::string came_by;  // the purchase line by which the part came; where its lot is not known
  std::string note;

  friend bool operator==(const BikeLine&, const BikeLine&) = default;
};

/// Lines that were written together.
struct BikeLines {
  OrderId order;
  int after = 0;    // number of the last line that the writer had read
  std::string key;  // of the sender's own, so that what is sent twice is written once; may be empty
  std::vector<BikeLine> lines;
};

}  // namespace rollwright::trade

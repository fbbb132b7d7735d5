#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"

namespace rollwright::supply {

/// What can be wrong with a delivery.
enum class Trouble { kShort, kWrong, kDamageSeen, kDamageHidden, kLate };
[[nodiscard]] std::string_view word_of(Trouble trouble);

/// Pieces of one purchase line at goods-in. Every piece is in one place.
///
/// Invariants (tested over random courses): no count is negative; `arrived()` never exceeds what
/// was sent for, `ordered + again`; no more is sent again than went back.
struct GoodsIn {
  int ordered = 1;      // on the purchase line, at least 1
  int again = 0;        // sent for once more, in place of what went back
  int to_look_at = 0;   // unloaded, not looked at yet
  int accepted = 0;     // good; may be put by
  int quarantined = 0;  // wrong, damaged or in doubt: labelled, not to be built in
  int sent_back = 0;
  int written_off = 0;  // never came, or scrapped with the supplier's yes: credited
  std::optional<Day> first_arrival;

  [[nodiscard]] int arrived() const {
    return to_look_at + accepted + quarantined + sent_back;
  }
  /// Pieces that are still to come.
  [[nodiscard]] int outstanding() const { return ordered + again - arrived() - written_off; }
};
/// "expected", "part here", "to look at", "quarantined", "accepted", "settled".
[[nodiscard]] std::string_view word_of(const GoodsIn& line);

/// What happens to pieces at goods-in.
enum class Step {
  kUnload,      // they arrive, whole or in part
  kAccept,      // looked at and good
  kQuarantine,  // looked at and not
  kRelease,     // out of quarantine: the rules pass and the customer agrees
  kSendBack,    // out of quarantine
  kSendAgain,   // the supplier sends as many again for what went back
  kWriteOff,    // outstanding pieces that will not come: credited
};
[[nodiscard]] std::string_view word_of(Step step);

/// The line after `pieces` of it took a step on `day`.
///
/// Method:   one table of steps: from where, to where. Source: usual practice at goods-in.
/// Errors:   kOutOfRange when pieces is not positive; kRefused when there are not so many pieces to
///           take the step with; the sentence says how many there are.
[[nodiscard]] Result<GoodsIn> after(const GoodsIn& line, Step step, int pieces, Day day);

/// Days within which somebody has to be told; data/trade/claim_windows.csv (docs/formats.md).
struct ClaimWindow {
  Trouble trouble = Trouble::kShort;
  std::string carrier;  // any, parcel, road, rail, sea, air
  int days = 0;         // calendar days after goods-in, 0 to 365
  std::string source;
};
/// Errors: kBadInput with file, line, field for what is not as the format says.
[[nodiscard]] Result<std::vector<ClaimWindow>> read_claim_windows(std::string_view csv,
                                                                  std::string file);

/// Last day on which the trouble can be claimed.
///
/// Method:   the carrier's own row, else the row for any. Errors: kNotFound when there is neither.
[[nodiscard]] Result<Day> claim_by(const std::vector<ClaimWindow>& windows, Trouble trouble,
                                   std::string_view carrier, Day arrived);

}  // namespace rollwright::supply

#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "trade/goods_in.hpp"

namespace rollwright::supply {

using trade::ClaimWindow;
using trade::GoodsIn;
using trade::read_claim_windows;
using trade::Trouble;
using trade::word_of;

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
  kStillComes,  // written off too soon: they come after all
  kFindBad,     // accepted, and found wrong or damaged later
};
[[nodiscard]] std::string_view word_of(Step step);
[[nodiscard]] std::optional<Step> step_named(std::string_view word);
[[nodiscard]] std::vector<std::string> all_steps();

/// The line after `pieces` of it took a step on `day`.
///
/// Method:   one table of steps: from where, to where. Source: usual practice at goods-in.
/// Errors:   kOutOfRange when pieces is not positive; kRefused when there are not so many pieces to
///           take the step with; the sentence says how many there are.
[[nodiscard]] Result<GoodsIn> after(const GoodsIn& line, Step step, int pieces, Day day);

/// How long a trouble can be claimed, and where that comes from.
struct ClaimClock {
  Day tell_by = {};
  std::string terms;
};

/// Method:   the supplier's own days, else the carrier's row of the windows, else the row for any.
/// Errors:   kNotFound when there is none of these.
[[nodiscard]] Result<ClaimClock> claim_clock(const std::vector<ClaimWindow>& windows,
                                             const std::map<Trouble, int>& of_supplier,
                                             Trouble trouble, std::string_view carrier,
                                             Day arrived);

/// Last day on which the trouble can be claimed.
///
/// Method:   the carrier's own row, else the row for any. Errors: kNotFound when there is neither.
[[nodiscard]] Result<Day> claim_by(const std::vector<ClaimWindow>& windows, Trouble trouble,
                                   std::string_view carrier, Day arrived);

}  // namespace rollwright::supply

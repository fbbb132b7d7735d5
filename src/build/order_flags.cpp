#include "build/order_flags.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"

namespace rollwright::build {
namespace {

Result<void> reason_is_said(const FlagGiven& given) {
  if (trim(given.reason).empty()) {
    return refuse(Code::kBadInput, "say why in one line", {.field = "reason"});
  }
  const bool one_line = given.reason.find('\n') == std::string::npos;
  if (one_line && given.reason.size() <= kLongestReason) return {};
  return refuse(Code::kOutOfRange,
                fmt::format("the reason is one line of at most {} letters", kLongestReason),
                {.field = "reason", .value = shortened(given.reason)});
}

Result<void> may_change(const trade::Order& order, const FlagGiven& given) {
  const bool follows_the_bike = given.flag == "Claim open" || given.flag == "Stop-sale";
  if (given.set && trade::is_over(order.state) && !follows_the_bike) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is {}: only Claim open and Stop-sale follow the bike there",
                              order.id.text, trade::word_of(order.state)),
                  {.field = "flag", .value = given.flag});
  }
  if (!given.set && !order.flags.contains(given.flag)) {
    return refuse(Code::kRefused, "order " + order.id.text + " does not carry this flag",
                  {.field = "flag", .value = given.flag});
  }
  return {};
}

}  // namespace

Result<trade::Order> with_flag(const trade::Order& order, const FlagGiven& given, Day today) {
  if (std::ranges::count(trade::all_flags(), given.flag) == 0) {
    return refuse(Code::kNotFound,
                  "no flag is called so; there are " + listed(trade::all_flags()),
                  {.field = "flag", .value = given.flag});
  }
  if (Result<void> said = reason_is_said(given); !said) return std::unexpected(said.error());
  if (given.until && *given.until < today) {
    return refuse(Code::kOutOfRange, "this day is over",
                  {.field = "until", .value = iso(*given.until)});
  }
  if (Result<void> may = may_change(order, given); !may) return std::unexpected(may.error());
  trade::Order changed = order;
  if (given.set) {
    changed.flags.insert(given.flag);
    changed.flags_said[given.flag] = {.reason = given.reason, .until = given.until,
                                      .who = given.by, .day = today};
  } else {
    changed.flags.erase(given.flag);
    changed.flags_said.erase(given.flag);
  }
  if (given.flag == "Held") changed.held_because = given.set ? given.reason : "";
  return changed;
}

}  // namespace rollwright::build

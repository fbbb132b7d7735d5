#include "build/freeze.hpp"

#include <fmt/format.h>

#include "base/result.hpp"
#include "base/text.hpp"

namespace rollwright::build {
namespace {

using enum trade::OrderState;

bool is_checked(trade::OrderState state) {
  return state == kChecking || state == kReady || state == kBoxed || state == kOnTheRoad ||
         state == kDelivered || trade::is_over(state);
}

bool maker_has_begun(const PartWhere& part) {
  return part.maker_built && part.is_bike &&
         (part.state == kAtMaker || part.state == kUnderWay || part.state == kArrived ||
          part.state == kFinishing);
}

}  // namespace

std::string_view point_of(Freeze freeze) {
  switch (freeze) {
    case Freeze::kFree: return "F0";
    case Freeze::kPrice: return "F1";
    case Freeze::kBought: return "F2";
    case Freeze::kMade: return "F3";
    case Freeze::kBuilt: return "F4";
    case Freeze::kApproved: return "F5";
  }
  broken_promise("every freeze has its point", __FILE__, __LINE__);
}

std::string_view word_of(Freeze freeze) {
  switch (freeze) {
    case Freeze::kFree: return "free";
    case Freeze::kPrice: return "price";
    case Freeze::kBought: return "bought";
    case Freeze::kMade: return "made";
    case Freeze::kBuilt: return "built";
    case Freeze::kApproved: return "approved";
  }
  broken_promise("every freeze has its word", __FILE__, __LINE__);
}

FreezeSaid freeze_of(const PartWhere& part) {
  if (trade::is_before_agreed(part.state)) return {};
  if (is_checked(part.state)) {
    return {Freeze::kApproved, fmt::format("the bike is {}", trade::word_of(part.state))};
  }
  if (!part.built_by.empty()) {
    return {Freeze::kBuilt, fmt::format("built in by {}", listed(part.built_by))};
  }
  if (!part.spoilt_by.empty()) {
    return {Freeze::kMade, fmt::format("cut or laced by {}", listed(part.spoilt_by))};
  }
  if (maker_has_begun(part)) {
    return {Freeze::kMade, fmt::format("the bike is {}", trade::word_of(part.state))};
  }
  if (part.line.empty()) return {Freeze::kPrice, "nothing is bought for it"};
  const std::string on = fmt::format("on line {}, {}", part.line, part.line_state);
  if (part.made_to_order) return {Freeze::kMade, "made for this order, " + on};
  return {Freeze::kBought, on};
}

}  // namespace rollwright::build

#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "trade/order.hpp"

namespace rollwright::build {

/// How far a chosen part has gone, and so what changing it costs. Source: common practice.
enum class Freeze {
  kFree,      // F0: before Agreed, nothing
  kPrice,     // F1: agreed and nothing placed for it: the difference in price
  kBought,    // F2: on a purchase line: restocking and freight
  kMade,      // F3: cut, laced, made for this order: its full price
  kBuilt,     // F4: on the bike: its price, labour out and in, checking again
  kApproved,  // F5: in the checks or past them: as built, and all checks again
};
[[nodiscard]] std::string_view point_of(Freeze freeze);  // "F2"
[[nodiscard]] std::string_view word_of(Freeze freeze);   // "bought"

/// Where one chosen part is.
struct PartWhere {
  trade::OrderState state = trade::OrderState::kDraft;  // of the order
  bool maker_built = false;
  bool is_bike = false;               // the maker's bike itself, or a part that comes on it
  std::string line;                   // purchase line placed for this order; empty: none
  std::string line_state;             // "Back-ordered"
  bool made_to_order = false;         // the supplier makes it, and has confirmed the line
  std::vector<std::string> spoilt_by; // operations done that cannot be taken back: cut, laced
  std::vector<std::string> built_by;  // operations done that put it on the bike
};

struct FreezeSaid {
  Freeze freeze = Freeze::kFree;
  std::string why;  // "on line P-7, Back-ordered"; empty when it is free
};
/// The furthest point that the part has reached.
[[nodiscard]] FreezeSaid freeze_of(const PartWhere& part);

}  // namespace rollwright::build

#pragma once

#include <set>
#include <vector>

#include "shop/state.hpp"
#include "trade/recall.hpp"

/// Which bikes a recall touches, read off their records. Pure.
namespace rollwright::shop {

/// The flag that keeps an order from being built and sold.
inline constexpr const char* kStopSale = "Stop-sale";

/// A piece that is called back, on a bike, in its kit or chosen for it.
struct RecalledPiece {
  std::string slot;
  trade::PartId part;
  std::string serial;
  std::string lot;
  trade::Certainty certainty = trade::Certainty::kPossible;
  bool bound = false;  // the record has the piece; else the order only names the part
};

[[nodiscard]] std::set<trade::PartId> parts_meant(const State& state, const trade::Recall& recall);

/// One bike, as its order and its record say.
struct RecordOfBike {
  const trade::Order& order;
  const std::vector<trade::BikeLine>& lines;  // those with parts are enough
};
/// What of the recall this bike has or may have. A part that the order names and the record does not
/// bind is possible or certain by itself, but for a bike that was cancelled.
[[nodiscard]] std::vector<RecalledPiece> recalled_pieces(const State& state,
                                                         const trade::Recall& recall,
                                                         const RecordOfBike& bike);

/// Out of the shop, with a rider.
[[nodiscard]] bool was_handed_over(trade::OrderState state);

/// What counts of the recalls at one moment.
struct RecallsNow {
  std::vector<trade::Recall> recalls;
  std::vector<trade::RecallStep> steps;
};
/// Those of the state, with what a change puts over them.
[[nodiscard]] RecallsNow recalls_now(const State& state, const trade::ShopFiles& put = {});

/// The last step of a bike in a recall; null before the first.
[[nodiscard]] const trade::RecallStep* last_step(const RecallsNow& now, const std::string& recall,
                                                 const trade::OrderId& order);
/// Numbers of the open recalls that touch the bike and of which it is not fixed yet.
[[nodiscard]] std::vector<std::string> recalls_on(const State& state, const RecallsNow& now,
                                                  const RecordOfBike& bike);

/// "fixed", for the open recalls that this bike has no piece of any more, though it had before its last visit
/// or somebody said something of it; once. `step` has the day, the person and the note.
[[nodiscard]] std::vector<trade::RecallStep> fixed_by_visit(const State& state,
                                                            const RecordOfBike& bike,
                                                            const trade::RecallStep& step);

}  // namespace rollwright::shop

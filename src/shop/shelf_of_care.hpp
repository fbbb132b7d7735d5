#pragma once

#include <map>
#include <string_view>

#include "build/bench_rules.hpp"
#include "shop/state.hpp"

namespace rollwright::shop {

/// How a piece came that goes onto a bike in care while by the count none is free on the shelf.
inline constexpr std::string_view kElsewhere = "elsewhere";

/// The shelf while parts go onto a bike that was handed over. What went onto it before left the shelf at
/// its handover; pieces that go on in a visit leave it here, one deed after the other.
class ShelfOfCare {
 public:
  /// `state` and `order` outlive this.
  ShelfOfCare(const State& state, const trade::Order& order) : state_(state), order_(order) {}

  /// Takes the pieces that go into a place of the bike off the free shelf, and says in `wanted.came_by` that they
  /// came from elsewhere when not so many are free there: they are on the bike all the same, whether the
  /// rider brought them or somebody counted wrong. Nothing is taken for a part that is only written down
  /// where it is already, or that was on this bike before (by its number).
  void give(const trade::Sheet& sheet, const build::BenchState& now, build::DeedWanted& wanted);

  /// The shelf and what was used up, as they are then.
  void into(trade::ShopFiles& put, Day today) const;

 private:
  const State& state_;
  const trade::Order& order_;
  std::map<trade::PartId, trade::Stock> shelf_;
  std::map<trade::PartId, int> taken_;
};

}  // namespace rollwright::shop

#pragma once

#include <vector>

#include "build/change_price.hpp"
#include "shop/life_facts.hpp"
#include "shop/life_views.hpp"
#include "trade/change_terms.hpp"
#include "trade/sheet.hpp"
#include "trade/signed_spec.hpp"

/// Where the parts of an order stand, and what changing or cancelling them costs.
namespace rollwright::shop {

struct ChangeAt {
  LifeAt life;
  const trade::ChangeTerms& terms;
  const trade::Sheet& sheet;  // of the order as it is
};

/// Of each chosen part, in the order of the trade's slots.
[[nodiscard]] std::vector<FreezeView> freeze_views(const ChangeAt& at);

/// The differences between two specifications, each with where the part given up stands.
[[nodiscard]] std::vector<build::PartChange> part_changes(
    const ChangeAt& at, const std::vector<trade::SignedLine>& from,
    const std::vector<trade::SignedLine>& to);

/// What was signed last, else what is chosen.
[[nodiscard]] std::vector<trade::SignedLine> lines_signed(const LifeAt& at);

/// What the deposit is held against when the order is cancelled now.
[[nodiscard]] build::CancelledOrder cancelled_now(const ChangeAt& at);

[[nodiscard]] ChangePriceView change_price_view(const LifeAt& at, const build::ChangePrice& price);
[[nodiscard]] SettlementView settlement_view(const LifeAt& at, const build::Settlement& settled);

}  // namespace rollwright::shop

#pragma once

#include "build/life_facts.hpp"
#include "shop/life_facts.hpp"
#include "shop/life_views.hpp"

namespace rollwright::shop {

/// The life of an order as it is shown.
[[nodiscard]] LifeView life_view(const LifeAt& at, const build::LifeFacts& facts);

}  // namespace rollwright::shop

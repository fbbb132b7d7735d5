#include "spec/trials/demo_orders.hpp"

#include <algorithm>

#include "base/random.hpp"
#include "trade/load_trade.hpp"
#include "trade/order_facts.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::spec::testing {

namespace {

constexpr Day kFirstDay{std::chrono::year(2026) / std::chrono::December / 1};

/// Days made up here: what suppliers keep of their word is another room's matter.
Arrivals made_up_arrivals(const std::vector<trade::Part>& parts) {
  Arrivals arrivals;
  Random random(1);
  for (const trade::Part& part : parts) {
    const auto days = static_cast<int>(random.below(45));
    if (random.uniform() > 0.02) arrivals[part.id] = kFirstDay + std::chrono::days(days);
  }
  return arrivals;
}

}  // namespace

Result<DemoOrder> demo_order(const std::string& id) {
  trade::LoadedTrade loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  if (!loaded.problems.empty()) return std::unexpected(loaded.problems.front());
  trade::ReadShopFiles shop = trade::read_shop_files(loaded.trade, ROLLWRIGHT_ROOT "/data/demo");
  if (!shop.problems.empty()) return std::unexpected(shop.problems.front());
  const auto order = std::ranges::find(shop.files.orders, trade::OrderId(id), &trade::Order::id);
  if (order == shop.files.orders.end()) {
    return refuse(Code::kNotFound, "the demo has no order " + id);
  }
  return DemoOrder{.catalogue = {.trade = std::move(loaded.trade),
                                 .parts = shop.files.parts,
                                 .order = trade::order_facts(*order),
                                 .rider = trade::rider_facts(*order),
                                 .arrivals = made_up_arrivals(shop.files.parts),
                                 .build_id = order->build},
                   .choices = order->choices};
}

}  // namespace rollwright::spec::testing

#include "supply/needs.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace rollwright::supply {
namespace {

/// What is left to give of one part.
struct Shelf {
  int free = 0;
  std::map<trade::OrderId, int> named;
};
struct UnderWay {
  std::string id;
  std::optional<trade::OrderId> order;
  Day day = {};
  int left = 0;
};
struct Supply {
  Shelf shelf;
  std::vector<UnderWay> purchases;
};

std::map<trade::PartId, Supply> lay_out(const std::vector<trade::Stock>& stock,
                                        const std::vector<trade::PurchaseLine>& purchases) {
  std::map<trade::PartId, Supply> supply;
  for (const trade::Stock& held : stock) {
    Shelf& shelf = supply[held.part].shelf;
    shelf.free = held.on_shelf;
    for (const auto& [order, quantity] : held.put_by) {
      const int kept = std::min(quantity, shelf.free);
      shelf.named[order] += kept;
      shelf.free -= kept;
    }
  }
  for (const trade::PurchaseLine& line : purchases) {
    const int pieces = trade::pieces_to_come(line);
    if (pieces == 0) continue;
    supply[line.part].purchases.push_back(
        {line.id, line.order, line.confirmed.value_or(line.placed + std::chrono::days(3650)),
         pieces});
  }
  for (auto& [part, held] : supply) {
    std::sort(held.purchases.begin(), held.purchases.end(),
              [](const UnderWay& a, const UnderWay& b) {
                return std::tie(a.day, a.id) < std::tie(b.day, b.id);
              });
  }
  return supply;
}

/// Takes at most `wanted` from `left`; says how much.
int take(int& left, int wanted) {
  const int taken = std::min(left, wanted);
  left -= taken;
  return taken;
}

Cover piece(const Need& need, int quantity, Source source) {
  Cover cover{.need = need, .source = source};
  cover.need.quantity = quantity;
  return cover;
}

}  // namespace

std::vector<Need> explode(const trade::Trade& trade, const std::vector<trade::Part>& parts,
                          const std::vector<Wanting>& orders) {
  std::map<trade::PartId, bool> may_follow;
  for (const trade::Part& part : parts) may_follow[part.id] = part.may_follow;
  std::vector<Need> needs;
  for (const auto& [order, kit, follow] : orders) {
    std::map<trade::PartId, int> quantities;  // front and rear tyre may be the same part
    for (const auto& [slot_id, part] : order.choices) {
      const trade::Slot* slot = trade::find_slot(trade, slot_id);
      quantities[part] += slot == nullptr ? 1 : slot->quantity;
    }
    for (const auto& [part, quantity] : quantities) {
      const bool later = may_follow[part];
      needs.push_back({.order = order.id, .part = part, .quantity = quantity,
                       .needed_by = later ? follow : kit, .may_follow = later});
    }
  }
  return needs;
}

std::vector<Cover> cover(const std::vector<Need>& needs, const std::vector<trade::Stock>& stock,
                         const std::vector<trade::PurchaseLine>& purchases) {
  std::map<trade::PartId, Supply> supply = lay_out(stock, purchases);
  std::vector<Need> order = needs;
  std::stable_sort(order.begin(), order.end(), [](const Need& a, const Need& b) {
    return std::tie(a.needed_by, a.order) < std::tie(b.needed_by, b.order);
  });
  std::vector<Cover> covers;
  std::vector<int> wanted(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) wanted[i] = order[i].quantity;

  const auto give = [&](std::size_t i, int& left, Source source, const std::string& purchase,
                        bool named) {
    const int taken = take(left, wanted[i]);
    if (taken == 0) return;
    wanted[i] -= taken;
    covers.push_back(piece(order[i], taken, source));
    covers.back().purchase = purchase;
    covers.back().put_by = named && source == Source::kShelf;
  };
  // By name first, over all needs: a name is a promise.
  for (std::size_t i = 0; i < order.size(); ++i) {
    Supply& held = supply[order[i].part];
    const auto named = held.shelf.named.find(order[i].order);
    if (named != held.shelf.named.end()) give(i, named->second, Source::kShelf, "", true);
    for (UnderWay& line : held.purchases) {
      if (line.order == order[i].order) give(i, line.left, Source::kPurchase, line.id, true);
    }
  }
  for (std::size_t i = 0; i < order.size(); ++i) {
    Supply& held = supply[order[i].part];
    give(i, held.shelf.free, Source::kShelf, "", false);
    for (UnderWay& line : held.purchases) {
      if (!line.order) give(i, line.left, Source::kPurchase, line.id, false);
    }
    if (wanted[i] > 0) covers.push_back(piece(order[i], wanted[i], Source::kToBuy));
  }
  return covers;
}

}  // namespace rollwright::supply

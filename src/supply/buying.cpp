#include "supply/buying.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

/// All pieces of one part that have to be bought.
struct Wanted {
  int quantity = 0;
  Day needed_by = Day::max();
  double confidence = 0;  // the highest any of its kits asks for
  std::vector<trade::OrderId> orders;
  std::vector<Need> needs;
};

/// Lines still to buy per order: a kit of n such lines needs each at the n-th root.
std::map<trade::OrderId, int> open_lines(const std::vector<Cover>& covers) {
  std::map<trade::OrderId, int> lines;
  for (const Cover& cover : covers) {
    if (cover.source == Source::kToBuy && !cover.need.may_follow) ++lines[cover.need.order];
  }
  return lines;
}

std::map<trade::PartId, Wanted> wanted_parts(const std::vector<Cover>& covers,
                                             double kit_confidence) {
  const std::map<trade::OrderId, int> lines = open_lines(covers);
  std::map<trade::PartId, Wanted> wanted;
  for (const Cover& cover : covers) {
    if (cover.source != Source::kToBuy) continue;
    Wanted& part = wanted[cover.need.part];
    part.quantity += cover.need.quantity;
    part.needed_by = std::min(part.needed_by, cover.need.needed_by);
    const auto count = lines.find(cover.need.order);
    const double n = count == lines.end() ? 1 : count->second;
    part.confidence = std::max(part.confidence, std::pow(kit_confidence, 1 / n));
    part.orders.push_back(cover.need.order);
    part.needs.push_back(cover.need);
  }
  return wanted;
}

PurchaseProposal propose(const trade::PartId& part, const Wanted& wanted,
                         const trade::Offer& offer, const LeadTimes& lead_times,
                         const BuyingSettings& settings) {
  PurchaseProposal line{.supplier = offer.supplier, .part = part};
  line.quantity = in_packs(offer, wanted.quantity);
  line.orders = wanted.orders;
  line.needed_by = wanted.needed_by;
  line.unit_cost = unit_cost(offer, line.quantity);
  line.lead = lead_times.of(offer);
  line.confidence = wanted.confidence;
  const int days = static_cast<int>(std::ceil(quantile(line.lead, wanted.confidence)));
  line.order_by = add_working_days(wanted.needed_by, -days, settings.closed);
  line.too_late = line.order_by < settings.today;
  return line;
}

void finish(SupplierBasket& basket, const trade::Supplier& supplier) {
  for (const PurchaseProposal& line : basket.lines) basket.goods += line.unit_cost * line.quantity;
  std::sort(basket.lines.begin(), basket.lines.end(), [](const auto& a, const auto& b) {
    return std::tie(a.order_by, a.part) < std::tie(b.order_by, b.part);
  });
  const bool free = supplier.free_freight_over.cents > 0 &&
                    basket.goods >= supplier.free_freight_over;
  basket.freight = free ? Money{} : supplier.freight;
  if (basket.goods < supplier.minimum_order) basket.surcharge = supplier.small_order_charge;
}

}  // namespace

Money unit_cost(const trade::Offer& offer, int quantity) {
  ROLLWRIGHT_PROMISE(!offer.breaks.empty());
  Money cost = offer.breaks.front().unit_cost;
  for (const trade::PriceBreak& step : offer.breaks) {
    if (step.from_quantity <= quantity) cost = step.unit_cost;
  }
  return cost;
}

int in_packs(const trade::Offer& offer, int quantity) {
  const int pack = std::max(1, offer.pack);
  return (quantity + pack - 1) / pack * pack;
}

BuyingPlan plan_buying(const std::vector<Cover>& covers, const std::vector<trade::Offer>& offers,
                       const std::vector<trade::Supplier>& suppliers, const LeadTimes& lead_times,
                       const BuyingSettings& settings) {
  std::map<trade::PartId, std::vector<const trade::Offer*>> by_part;
  for (const trade::Offer& offer : offers) {
    if (!offer.breaks.empty()) by_part[offer.part].push_back(&offer);
  }
  BuyingPlan plan;
  std::map<trade::SupplierId, SupplierBasket> baskets;
  for (const auto& [part, wanted] : wanted_parts(covers, settings.kit_confidence)) {
    std::vector<PurchaseProposal> candidates;
    for (const trade::Offer* offer : by_part[part]) {
      candidates.push_back(propose(part, wanted, *offer, lead_times, settings));
    }
    if (candidates.empty()) {
      plan.no_offer.insert(plan.no_offer.end(), wanted.needs.begin(), wanted.needs.end());
      continue;
    }
    // In time and cheap; when nobody is in time, the one whose order-by day is the least past.
    const auto best = std::min_element(
        candidates.begin(), candidates.end(),
        [](const PurchaseProposal& a, const PurchaseProposal& b) {
          if (a.too_late != b.too_late) return b.too_late;
          if (a.too_late && a.order_by != b.order_by) return a.order_by > b.order_by;
          return std::make_tuple(a.unit_cost * a.quantity, a.supplier) <
                 std::make_tuple(b.unit_cost * b.quantity, b.supplier);
        });
    SupplierBasket& basket = baskets[best->supplier];
    basket.supplier = best->supplier;
    basket.lines.push_back(*best);
  }
  for (auto& [id, basket] : baskets) {
    for (const trade::Supplier& supplier : suppliers) {
      if (supplier.id == id) finish(basket, supplier);
    }
    plan.baskets.push_back(std::move(basket));
  }
  std::sort(plan.baskets.begin(), plan.baskets.end(), [](const auto& a, const auto& b) {
    return std::tie(a.lines.front().order_by, a.supplier) <
           std::tie(b.lines.front().order_by, b.supplier);
  });
  return plan;
}

}  // namespace rollwright::supply

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/shop.hpp"
#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

/// A kit is wanted complete nine times in ten.
constexpr double kKitConfidence = 0.90;

BuyLine line_view(const State& state, const supply::PurchaseProposal& proposal) {
  const trade::Part* part = state.part(proposal.part);
  BuyLine line{.part = proposal.part.text,
               .name = part == nullptr ? proposal.part.text : part->name,
               .quantity = proposal.quantity,
               .orders = {},
               .order_by = proposal.order_by,
               .needed_by = proposal.needed_by,
               .too_late = proposal.too_late,
               .unit_cost_cents = proposal.unit_cost.cents,
               .total_cents = (proposal.unit_cost * proposal.quantity).cents,
               .lead_days_50 = trade::quantile(proposal.lead, 0.5),
               .lead_days_90 = trade::quantile(proposal.lead, 0.9),
               .basis = proposal.lead.basis};
  for (const trade::OrderId& order : proposal.orders) line.orders.push_back(order.text);
  return line;
}

std::string note_for(const trade::Supplier& supplier, const supply::SupplierBasket& basket,
                     const std::string& currency) {
  std::vector<std::string> notes;
  if (basket.surcharge.cents > 0) {
    notes.push_back(fmt::format("below the minimum of {} {}: {} {} extra",
                                shown(supplier.minimum_order), currency,
                                shown(basket.surcharge), currency));
  }
  if (basket.freight.cents > 0 && supplier.free_freight_over.cents > 0) {
    notes.push_back(fmt::format("{} {} more and freight is free",
                                shown(supplier.free_freight_over - basket.goods), currency));
  }
  return join(notes, "; ");
}

BuyGroup group_view(const State& state, const supply::SupplierBasket& basket) {
  BuyGroup group{.supplier = basket.supplier.text, .name = basket.supplier.text};
  for (const supply::PurchaseProposal& line : basket.lines) {
    group.lines.push_back(line_view(state, line));
  }
  group.goods_cents = basket.goods.cents;
  group.freight_cents = basket.freight.cents;
  group.surcharge_cents = basket.surcharge.cents;
  const auto supplier = state.suppliers.find(basket.supplier);
  if (supplier != state.suppliers.end()) {
    const trade::Supplier& known = *supplier->second;
    group.name = known.name;
    group.cut_off = fmt::format("{}:{:02}", known.cut_off_minute / 60, known.cut_off_minute % 60);
    group.note = note_for(known, basket, state.settings.currency);
  }
  return group;
}

std::string sentence_for(const BuyView& view, Day today) {
  int now = 0;
  int late = 0;
  int lines = 0;
  for (const BuyGroup& group : view.groups) {
    for (const BuyLine& line : group.lines) {
      ++lines;
      if (line.too_late) {
        ++late;
      } else if (line.order_by == today) {
        ++now;
      }
    }
  }
  if (lines == 0) return "Nothing has to be bought for the agreed orders.";
  std::string text = fmt::format("{} lines to buy.", lines);
  if (now > 0) text += fmt::format(" {} must be ordered today, before the cut-off.", now);
  if (late > 0) {
    text += fmt::format(" {} cannot be there in time any more with nine kits in ten complete, "
                        "even if ordered today.",
                        late);
  }
  return text;
}

}  // namespace

Result<BuyView> Shop::buy() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const State& held = **current;
  const supply::BuyingPlan plan = supply::plan_buying(
      covers_of(trade_, held, time->day), held.held.offers, held.held.suppliers,
      lead_times_of(trade_, held),
      {.today = time->day, .kit_confidence = kKitConfidence, .closed = held.settings.closed});
  BuyView view;
  for (const supply::SupplierBasket& basket : plan.baskets) {
    view.groups.push_back(group_view(held, basket));
  }
  for (const supply::Need& need : plan.no_offer) {
    const trade::Part* part = held.part(need.part);
    view.no_offer.push_back(fmt::format("{} for order {}: no supplier on file sells it",
                                        part == nullptr ? need.part.text : part->name,
                                        need.order.text));
  }
  view.sentence = sentence_for(view, time->day);
  return view;
}

}  // namespace rollwright::shop

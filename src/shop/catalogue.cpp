#include <algorithm>

#include <fmt/format.h>

#include "shop/shop.hpp"
#include "shop/spec_view.hpp"
#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

PurchaseView purchase_view(const State& state, const trade::PurchaseLine& line) {
  const trade::Part* part = state.part(line.part);
  const auto supplier = state.suppliers.find(line.supplier);
  return {.id = line.id,
          .supplier = supplier == state.suppliers.end() ? line.supplier.text
                                                        : supplier->second->name,
          .part = line.part.text,
          .name = part == nullptr ? line.part.text : part->name,
          .quantity = line.quantity,
          .order = line.order ? line.order->text : "",
          .placed = line.placed,
          .confirmed = line.confirmed,
          .state = std::string(trade::word_of(line.state))};
}

/// Attributes that the part's kind asks for; what the part does not state is not known.
std::vector<std::string> asked_of(const trade::Trade& trade, const trade::Part& part) {
  std::vector<std::string> asked = {"mass"};
  const auto kind = trade.kinds.find(part.kind);
  if (kind == trade.kinds.end()) return asked;
  for (const std::string& attribute : kind->second.attributes) {
    if (attribute != "mass") asked.push_back(attribute);
  }
  return asked;
}

PartRow row_of(const trade::Trade& trade, const State& state, const trade::Part& part) {
  PartRow row{.part = part_line(part), .kind_name = part.kind.text, .gone = part.gone};
  const auto kind = trade.kinds.find(part.kind);
  if (kind != trade.kinds.end()) row.kind_name = kind->second.name;
  for (const std::string& attribute : asked_of(trade, part)) {
    const trade::Fact* fact = trade::fact_of(part, attribute);
    if (fact == nullptr) {
      ++row.not_known;
    } else if (fact->standing == trade::Standing::kMeasured) {
      ++row.measured;
    } else {
      ++row.known;
    }
  }
  const auto stock = state.stock.find(part.id);
  if (stock != state.stock.end()) {
    row.on_shelf = stock->second->on_shelf;
    for (const auto& [order, quantity] : stock->second->put_by) row.put_by += quantity;
  }
  return row;
}

FactView fact_view(const trade::Trade& trade, const trade::Part& part,
                   const std::string& attribute_id) {
  FactView view{.attribute = attribute_id, .name = attribute_id,
                .standing = std::string(trade::word_of(trade::Standing::kNotKnown))};
  const auto attribute = trade.attributes.find(attribute_id);
  if (attribute != trade.attributes.end()) {
    view.name = attribute->second.name;
    view.help = attribute->second.help;
    view.unit = attribute->second.unit;
    view.type = trade::word_of(attribute->second.type);
    view.words = attribute->second.choices;
  }
  const trade::Fact* fact = trade::fact_of(part, attribute_id);
  if (fact == nullptr) return view;
  view.standing = std::string(trade::word_of(fact->standing));
  view.source = fact->source;
  view.by = fact->by;
  view.date = fact->date;
  if (attribute != trade.attributes.end()) {
    view.value = trade::shown(attribute->second, fact->value);
    if (const auto* number = std::get_if<double>(&fact->value)) {
      view.us = us_customary(*number, attribute->second.dimension).value_or("");
    }
  }
  return view;
}

OfferView offer_view(const State& state, const supply::LeadTimes& lead_times,
                     const trade::Offer& offer) {
  const auto supplier = state.suppliers.find(offer.supplier);
  const trade::Spread lead = lead_times.of(offer);
  OfferView view{.supplier = supplier == state.suppliers.end() ? offer.supplier.text
                                                               : supplier->second->name,
                 .article = offer.article,
                 .prices = {},
                 .availability = offer.availability,
                 .lead_days_50 = trade::quantile(lead, 0.5),
                 .lead_days_90 = trade::quantile(lead, 0.9),
                 .basis = lead.basis};
  for (const trade::PriceBreak& step : offer.breaks) {
    view.prices.push_back(fmt::format("from {}: {} {}", step.from_quantity, shown(step.unit_cost),
                                      state.settings.currency));
  }
  return view;
}

}  // namespace

Result<PartsView> Shop::parts() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  PartsView view;
  std::map<trade::PartId, int> under_way;
  for (const trade::PurchaseLine& line : (*current)->held.purchases) {
    const int pieces = trade::pieces_to_come(line);
    if (pieces == 0) continue;
    under_way[line.part] += pieces;
    view.purchases.push_back(purchase_view(**current, line));
  }
  for (const trade::Part& part : (*current)->held.parts) {
    view.parts.push_back(row_of(trade_, **current, part));
    view.parts.back().under_way = under_way[part.id];
  }
  return view;
}

Result<PartView> Shop::part(const std::string& id) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const trade::Part* part = (*current)->part(trade::PartId(id));
  if (part == nullptr) {
    return refuse(Code::kNotFound, fmt::format("there is no part {} in the catalogue", id),
                  {.field = "part", .value = id});
  }
  PartView view{.row = row_of(trade_, **current, *part)};
  const auto kind = trade_.kinds.find(part->kind);
  for (const std::string& attribute : asked_of(trade_, *part)) {
    view.facts.push_back(fact_view(trade_, *part, attribute));
    if (kind != trade_.kinds.end()) {
      const auto& decisive = kind->second.decisive;
      view.facts.back().decisive =
          std::find(decisive.begin(), decisive.end(), attribute) != decisive.end();
    }
  }
  const auto lead_times = lead_times_of(trade_, **current);
  for (const trade::Offer& offer : (*current)->held.offers) {
    if (offer.part == part->id) view.offers.push_back(offer_view(**current, *lead_times, offer));
  }
  for (const trade::PurchaseLine& line : (*current)->held.purchases) {
    if (line.part != part->id) continue;
    view.row.under_way += trade::pieces_to_come(line);
    view.purchases.push_back(purchase_view(**current, line));
  }
  for (const trade::Order& order : (*current)->held.orders) {
    for (const auto& [slot, chosen] : order.choices) {
      if (chosen != part->id) continue;
      view.orders.push_back(order.id.text);
      break;
    }
  }
  return view;
}

}  // namespace rollwright::shop

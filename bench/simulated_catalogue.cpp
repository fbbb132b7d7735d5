#include "simulated_catalogue.hpp"

#include <algorithm>
#include <string_view>

#include "build/applicable.hpp"
#include "build/facts.hpp"
#include "build/traits.hpp"
#include "shop/workshop_pieces.hpp"
#include "trade/order_facts.hpp"
#include "trade/load_trade.hpp"
#include "trade/skills.hpp"

namespace rollwright::bench {
namespace {

/// Mostly whole orders of each build: the demo's drafts have few parts.
constexpr std::size_t kFewestChoices = 25;

Result<std::vector<DesignStep>> steps_of(const Catalogue& catalogue, const trade::Order& order) {
  std::map<trade::PartId, const trade::Part*> parts;
  for (const trade::Part& part : catalogue.files.parts) parts[part.id] = &part;
  build::BikeFacts bike{.build = &catalogue.trade.templates.at(order.build),
                        .order = trade::order_facts(order),
                        .rider = trade::rider_facts(order)};
  for (const auto& [slot, id] : order.choices) {
    if (const auto found = parts.find(id); found != parts.end()) bike.parts[slot] = found->second;
  }
  const build::BikeTraits traits = build::traits_of(catalogue.trade, bike);
  const auto operations = build::applicable_operations(catalogue.trade.operations, traits.holding);
  if (!operations) return std::unexpected(operations.error());
  std::vector<DesignStep> steps;
  std::map<std::string, int> place;
  for (const build::ApplicableStep& step : operations->steps) {
    if (!shop::is_planned(*step.operation)) continue;
    const std::string& id = step.operation->id;
    DesignStep made{.operation = step.operation, .skill = trade::skill_bit(step.operation->skill)};
    made.asks_for_kit = std::ranges::find(shop::kKitAsked, id) != shop::kKitAsked.end();
    made.asks_for_all = std::ranges::find(shop::kAllAsked, id) != shop::kAllAsked.end();
    for (const std::string& before : step.after) {
      if (place.contains(before)) made.after.push_back(place[before]);
    }
    for (const std::string_view checked : shop::kFourEyes) {
      const auto found = place.find(std::string(checked));
      if (step.operation->second_person && found != place.end()) {
        made.not_by_doer_of.push_back(found->second);
        steps[static_cast<std::size_t>(found->second)].checked_by.push_back(
            static_cast<int>(steps.size()));
      }
    }
    place[id] = static_cast<int>(steps.size());
    steps.push_back(std::move(made));
  }
  return steps;
}

/// A maker's bike comes as one part, the one in the slot of the frame.
std::vector<WantedPart> parts_of(const Catalogue& catalogue, const trade::Order& order) {
  const bool bike_only = catalogue.trade.templates.at(order.build).maker_built;
  std::map<trade::PartId, int> quantities;
  for (const auto& [slot_id, part] : order.choices) {
    if (bike_only && slot_id.text != "frame") continue;
    const trade::Slot* slot = trade::find_slot(catalogue.trade, slot_id);
    if (catalogue.offers.contains(part)) quantities[part] += slot ? slot->quantity : 1;
  }
  std::vector<WantedPart> wanted;
  for (const trade::Part& part : catalogue.files.parts) {
    const auto found = quantities.find(part.id);
    if (found == quantities.end()) continue;
    wanted.push_back({.part = part.id, .quantity = found->second, .may_follow = part.may_follow});
  }
  return wanted;
}

}  // namespace

const std::string& Catalogue::kind_of(const trade::PartId& part) const { return kinds_.at(part); }

std::vector<WantedPart> Catalogue::varied(const Design& design, Random& random) const {
  std::vector<WantedPart> parts = design.parts;
  for (WantedPart& wanted : parts) {
    const std::vector<trade::PartId>& choice = alike.at(kind_of(wanted.part));
    const trade::PartId other = choice[random.below(choice.size())];
    const bool is_new = std::ranges::none_of(
        parts, [&](const WantedPart& already) { return already.part == other; });
    if (random.uniform() < 0.5 && is_new) wanted.part = other;
  }
  return parts;
}

Result<Catalogue> read_catalogue(const std::string& root) {
  trade::LoadedTrade loaded = trade::load_trade(root + "/data/trade");
  if (!loaded.problems.empty()) return std::unexpected(loaded.problems.front());
  Catalogue catalogue;
  catalogue.trade = std::move(loaded.trade);
  trade::ReadShopFiles read = trade::read_shop_files(catalogue.trade, root + "/data/demo");
  if (!read.problems.empty()) return std::unexpected(read.problems.front());
  catalogue.files = std::move(read.files);
  for (const trade::Offer& offer : catalogue.files.offers) {
    if (!offer.breaks.empty()) catalogue.offers[offer.part].push_back(&offer);
  }
  for (const trade::Part& part : catalogue.files.parts) {
    const auto kind = catalogue.trade.kinds.find(part.kind);
    if (kind == catalogue.trade.kinds.end()) continue;
    catalogue.kinds_[part.id] = part.kind.text;
    catalogue.group_of[part.id] = kind->second.lead_time_group;
    if (!part.gone && catalogue.offers.contains(part.id)) {
      catalogue.alike[part.kind.text].push_back(part.id);
    }
  }
  for (const trade::Order& order : catalogue.files.orders) {
    if (order.choices.size() < kFewestChoices) continue;
    auto steps = steps_of(catalogue, order);
    if (!steps) return std::unexpected(steps.error());
    std::vector<WantedPart> parts = parts_of(catalogue, order);
    std::erase_if(parts, [&](const WantedPart& wanted) {
      return !catalogue.alike.contains(catalogue.kind_of(wanted.part));
    });
    catalogue.designs.push_back({.build = order.build, .steps = std::move(*steps),
                                 .parts = std::move(parts)});
  }
  return catalogue;
}

}  // namespace rollwright::bench

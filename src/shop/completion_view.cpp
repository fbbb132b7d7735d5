#include "shop/completion_view.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bike.hpp"
#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

std::string slot_name(const trade::Trade& trade, const trade::SlotId& id) {
  const trade::Slot* slot = trade::find_slot(trade, id);
  return slot == nullptr ? id.text : slot->name;
}

int pieces(const trade::Trade& trade, const trade::SlotId& id) {
  const trade::Slot* slot = trade::find_slot(trade, id);
  return slot == nullptr ? 1 : slot->quantity;
}

std::string part_name(const State& state, const trade::PartId& id) {
  return id.empty() ? "nothing" : state.name_of(id);
}

/// Price and mass of the changed parts, new less old; no mass where one is not known.
void add_differences(RepairView& view, const trade::Trade& trade, const State& state,
                     const spec::Repair& repair) {
  std::int64_t cents = 0;
  std::optional<Mass> mass = Mass{};
  for (const spec::Change& change : repair.changes) {
    const int quantity = pieces(trade, change.slot);
    const auto add = [&](const trade::PartId& id, int sign) {
      const trade::Part* part = state.part(id);
      if (part == nullptr) return;
      cents += sign * quantity * part->price.cents;
      const auto own = trade::mass_of(*part);
      mass = mass && own ? std::optional(*mass + *own * (sign * quantity)) : std::nullopt;
    };
    add(change.to, 1);
    add(change.from, -1);
  }
  view.price_difference_cents = cents;
  if (mass) view.mass_difference_kg = mass->in(kg);
}

std::string sentence_for(const CompletionView& view) {
  std::string sentence =
      view.fills.empty()
          ? std::string("Every slot is decided already")
          : fmt::format("{} more {} make a whole bike", view.fills.size(),
                        view.fills.size() == 1 ? "part" : "parts");
  sentence += view.ready ? fmt::format(", ready on {}", in_words(*view.ready))
                         : std::string(", of which some part cannot be had now");
  sentence += view.verdict == "not known" ? "; some facts are not known." : ".";
  return sentence + (view.proven ? "" : " It is not proven that none is better.");
}

}  // namespace

std::vector<RepairView> repair_views(const trade::Trade& trade, const State& state,
                                     const std::vector<spec::Repair>& repairs) {
  std::vector<RepairView> views;
  for (const spec::Repair& repair : repairs) {
    if (repair.changes.empty()) continue;
    RepairView view{.verdict = std::string(trade::word_of(repair.bike.verdict))};
    std::vector<std::string> pieces_of_sentence;
    for (const spec::Change& change : repair.changes) {
      view.changes.push_back({.slot = change.slot.text, .slot_name = slot_name(trade, change.slot),
                              .from = change.from.text, .from_name = part_name(state, change.from),
                              .to = change.to.text, .to_name = part_name(state, change.to)});
      const ChangeView& told = view.changes.back();
      pieces_of_sentence.push_back(
          fmt::format("the {}: {} for {}", told.slot_name, told.from_name, told.to_name));
    }
    view.sentence = "Change " + join(pieces_of_sentence, "; ") + ".";
    add_differences(view, trade, state, repair);
    views.push_back(std::move(view));
  }
  return views;
}

CompletionView completion_view(const trade::Trade& trade, const Reckoned& reckoned,
                               const trade::Order& order, const spec::Completion& bike) {
  const State& state = *reckoned.state;
  CompletionView view{.aim = {}, .sentence = {}, .price_cents = bike.price.cents,
                      .mass_kg = bike.mass.in(kg), .masses_not_known = bike.masses_not_known,
                      .ready = {}, .verdict = std::string(trade::word_of(bike.verdict)),
                      .proven = bike.proven, .fills = {}};
  if (bike.ready) {
    view.ready = ready_day(*bike.ready, hands_on_minutes(trade, state, completed(order, bike)),
                           state.settings.closed);
  }
  for (const auto& [slot, id] : bike.parts) {
    const trade::Part* part = state.part(id);
    if (part == nullptr || reckoned.selection.contains(slot)) continue;
    const int quantity = pieces(trade, slot);
    FillView fill{.slot = slot.text, .slot_name = slot_name(trade, slot), .part = id.text,
                  .name = part->name, .price_cents = (part->price * quantity).cents, .mass_kg = {}};
    if (const auto mass = trade::mass_of(*part)) fill.mass_kg = (*mass * quantity).in(kg);
    view.fills.push_back(std::move(fill));
  }
  view.sentence = sentence_for(view);
  return view;
}

}  // namespace rollwright::shop

#include "shop/spec_view.hpp"

#include <algorithm>
#include <map>

#include "shop/bike.hpp"
#include "shop/questions.hpp"
#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

SlotView slot_view(const trade::Slot& slot, bool required) {
  SlotView view;
  view.slot = slot.id.text;
  view.name = slot.name;
  view.required = required;
  view.quantity = slot.quantity;
  return view;
}

bool has(const std::vector<trade::SlotId>& slots, const trade::SlotId& slot) {
  return std::find(slots.begin(), slots.end(), slot) != slots.end();
}

}  // namespace

PartLine part_line(const trade::Part& part) {
  PartLine line{.id = part.id.text, .name = part.name, .maker = part.maker,
                .kind = part.kind.text, .price_cents = part.price.cents};
  if (const auto mass = trade::mass_of(part)) line.mass_kg = mass->in(kg);
  return line;
}

FindingView finding_view(const spec::Finding& finding) {
  FindingView view{.rule = finding.rule,
                   .severity = std::string(trade::word_of(finding.severity)),
                   .verdict = std::string(trade::word_of(finding.verdict)),
                   .sentence = finding.sentence,
                   .source = finding.source};
  for (const spec::SlotPart& part : finding.parts) view.slots.push_back(part.slot.text);
  for (const trade::SlotId& slot : finding.missing_slots) view.slots.push_back(slot.text);
  return view;
}

SpecView spec_view(const trade::Trade& trade, const State& state,
                   const trade::BuildTemplate& build, const trade::Order& order,
                   const std::vector<supply::Cover>& covers) {
  const spec::Bike bike = bike_of(state, order);
  const spec::SpecCheck check = check_order(trade, build, bike, order);
  SpecView view;
  std::map<trade::SlotId, trade::Verdict> worst;
  for (const spec::Finding& finding : check.findings) {
    view.findings.push_back(finding_view(finding));
    for (const spec::SlotPart& part : finding.parts) {
      worst[part.slot] = std::max(worst[part.slot], finding.verdict);
    }
  }
  for (const trade::Slot& slot : trade.slots) {
    const bool required = has(build.required, slot.id);
    if (!required && !has(build.optional, slot.id)) continue;
    SlotView line = slot_view(slot, required);
    const auto part = bike.parts.find(slot.id);
    if (part != bike.parts.end()) {
      line.part = part_line(*part->second);
      line.verdict = std::string(trade::word_of(worst[slot.id]));
      const Whereabouts where = whereabouts(state, covers, order, part->second->id);
      line.here = where.words;
      line.here_on = where.day;
    }
    view.slots.push_back(std::move(line));
  }
  for (const trade::SlotId& slot : check.missing_slots) {
    const trade::Slot* known = trade::find_slot(trade, slot);
    view.missing.push_back(known == nullptr ? slot.text : known->name);
  }
  // A specification without parts has no verdict: there is nothing yet that could fit.
  if (!bike.parts.empty()) view.verdict = std::string(trade::word_of(check.verdict));
  view.rules_checked = check.coverage.checked;
  view.rules_not_known = check.coverage.not_known;
  view.rules_do_not_apply = check.coverage.not_applying;
  view.price_cents = check.totals.price.cents;
  view.mass_kg = check.totals.mass.in(kg);
  view.masses_not_known = check.totals.masses_not_known;
  return view;
}

}  // namespace rollwright::shop

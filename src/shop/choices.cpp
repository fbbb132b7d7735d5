#include <algorithm>

#include "shop/bike.hpp"
#include "shop/completion_view.hpp"
#include "shop/shop.hpp"
#include "shop/spec_view.hpp"
#include "shop/supply_side.hpp"
#include "spec/choices.hpp"
#include "spec/repair.hpp"
#include "spec/why_not.hpp"

namespace rollwright::shop {
namespace {

/// What to say beside the parts of one slot: the adapter or care that a part needs, or why it is
/// closed, and which slots that touches. The findings are those of the bike with the part in the
/// slot and the order's other choices.
class Notes {
 public:
  Notes(const trade::Trade& trade, spec::Bike bike, trade::SlotId slot)
      : trade_(trade), rules_(rules_at(trade, slot)), slot_(std::move(slot)),
        bike_(std::move(bike)) {}

  void add(ChoiceView& line, const trade::Part& part) {
    bike_.parts[slot_] = &part;
    for (const spec::Finding& finding : spec::findings_of(trade_, rules_, bike_)) {  // worst first
      const auto here = std::find_if(finding.parts.begin(), finding.parts.end(),
                                     [&](const auto& touched) { return touched.slot == slot_; });
      if (here == finding.parts.end()) continue;
      line.note = finding.sentence;
      for (const spec::SlotPart& touched : finding.parts) line.touches.push_back(touched.slot.text);
      return;
    }
  }

 private:
  const trade::Trade& trade_;
  std::vector<const trade::Rule*> rules_;
  trade::SlotId slot_;
  spec::Bike bike_;
};

/// What the part makes of the best complete bikes, against those with today's choices.
void add_differences(ChoiceView& line, const spec::PartChoice& choice,
                     const Reckoned& reckoned) {
  const spec::Bests& with = choice.best;
  const spec::Bests& today = reckoned.choices.best;
  line.proven = choice.status != spec::Status::kNotProven && with.proven && today.proven;
  if (with.price && today.price) {
    line.price_difference_cents = with.price->cents - today.price->cents;
  }
  // Sums that leave out different numbers of parts cannot be compared.
  if (with.mass && today.mass && with.masses_not_known == today.masses_not_known) {
    line.mass_difference_kg = (*with.mass - *today.mass).in(kg);
  }
  if (with.ready && today.ready) {
    const auto difference = reckoned.ready(*with.ready) - reckoned.ready(*today.ready);
    line.ready_difference_days = static_cast<int>(difference.count());
  }
}

/// In which order a person wants to read the parts of a slot.
int rank(spec::Status status) { return static_cast<int>(status); }

}  // namespace

Result<SlotChoicesView> Shop::choices(const std::string& id, const std::string& slot) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const trade::Order& order = *at->order;
  const auto known_now = reckoned(*at);
  if (!known_now) return std::unexpected(known_now.error());
  const spec::Choices* answer = &(*known_now)->choices;
  const auto wanted = std::find_if(answer->slots.begin(), answer->slots.end(),
                                   [&](const auto& s) { return s.slot.text == slot; });
  if (wanted == answer->slots.end()) {
    return refuse(Code::kNotFound, "this build has no such slot",
                  {.field = "slot", .value = slot});
  }
  const auto held = order.choices.find(wanted->slot);
  const trade::Part* chosen =
      held == order.choices.end() ? nullptr : at->state->part(held->second);
  const trade::Slot* known = trade::find_slot(trade_, wanted->slot);
  SlotChoicesView view{.order = id, .slot = slot, .name = known == nullptr ? slot : known->name,
                       .may_be_empty = !wanted->required, .choices = {}};
  Notes notes(trade_, bike_of(*at->state, order), wanted->slot);
  std::vector<spec::PartChoice> parts = wanted->parts;
  std::stable_sort(parts.begin(), parts.end(), [](const auto& a, const auto& b) {
    return rank(a.status) < rank(b.status);
  });
  for (const spec::PartChoice& choice : parts) {
    const trade::Part* part = at->state->part(choice.part);
    if (part == nullptr) continue;  // "leave empty" is the view's may_be_empty
    ChoiceView line{.part = part_line(*part), .status = std::string(spec::word_of(choice.status))};
    line.chosen = part == chosen;
    add_differences(line, choice, **known_now);
    if (choice.status != spec::Status::kOpen) notes.add(line, *part);
    line.here = whereabouts(*at->state, (*known_now)->covers, order, part->id).words;
    view.choices.push_back(std::move(line));
  }
  return view;
}

Result<ClashView> Shop::why_not(const std::string& id, const std::string& slot,
                                const std::string& part) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const auto known_now = reckoned(*at);
  if (!known_now) return std::unexpected(known_now.error());
  const Reckoned& now = **known_now;
  const auto clash = spec::why_not(now.problem, now.selection,
                                   {.slot = trade::SlotId(slot), .part = trade::PartId(part)});
  if (!clash) return std::unexpected(clash.error());
  ClashView view{.order = id, .slot = slot, .part = part, .choices = {}, .rules = {}};
  for (const spec::SlotPart& choice : clash->choices) {
    const trade::Part* chosen = at->state->part(choice.part);
    const trade::Slot* known = trade::find_slot(trade_, choice.slot);
    view.choices.push_back((known == nullptr ? choice.slot.text : known->name) + ": " +
                           (chosen == nullptr ? choice.part.text : chosen->name));
  }
  for (const spec::ClashRule& rule : clash->rules) {
    FindingView finding{.rule = rule.rule, .severity = std::string(trade::word_of(rule.severity)),
                        .verdict = std::string(trade::word_of(trade::Verdict::kDoesNotFit)),
                        .sentence = rule.sentence, .source = rule.source};
    for (const trade::SlotId& touched : rule.slots) finding.slots.push_back(touched.text);
    view.rules.push_back(std::move(finding));
  }
  const auto opens = spec::openings(now.problem, now.selection,
                                    {trade::SlotId(slot), trade::PartId(part)},
                                    {.search = {.arrivals = &now.arrivals}});
  // Where nothing opens it, the clash says all there is to say.
  if (opens) view.opens = repair_views(trade_, *at->state, *opens);
  return view;
}

}  // namespace rollwright::shop

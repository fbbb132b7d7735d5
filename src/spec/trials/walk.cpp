#include "spec/trials/walk.hpp"

#include <vector>

namespace rollwright::spec::testing {

namespace {
constexpr double kTakeBack = 0.07;
constexpr double kChange = 0.14;
}  // namespace

bool Walk::step(const Choices& answer) {
  if (selection_.size() == answer.slots.size()) {
    selection_.clear();
    return true;
  }
  const double fate = selection_.empty() ? 1 : random_.uniform();
  if (fate < kTakeBack) {
    selection_.erase(std::next(selection_.begin(),
                               static_cast<long>(random_.below(selection_.size()))));
    return true;
  }
  return choose(answer, fate < kTakeBack + kChange) || choose(answer, false);
}

namespace {

/// Mostly parts of which everything is known: a shop rarely orders what it has to ask about first.
constexpr double kAsksFirst = 0.1;

std::vector<const PartChoice*> worth_choosing(const SlotChoices& slot, const Selection& selection,
                                              Status worst) {
  std::vector<const PartChoice*> parts;
  for (const PartChoice& part : slot.parts) {
    const bool is_chosen = slot.chosen && selection.at(slot.slot) == part.part;
    if (part.status <= worst && !is_chosen) parts.push_back(&part);
  }
  return parts;
}

}  // namespace

bool Walk::choose(const Choices& answer, bool decided) {
  std::vector<std::pair<const SlotChoices*, std::vector<const PartChoice*>>> possible;
  const Status worst =
      random_.uniform() < kAsksFirst ? Status::kNotKnown : Status::kOpenWithCare;
  for (const SlotChoices& slot : answer.slots) {
    if (slot.chosen != decided) continue;
    auto open = worth_choosing(slot, selection_, worst);
    if (open.empty()) open = worth_choosing(slot, selection_, Status::kNotKnown);
    if (!open.empty()) possible.emplace_back(&slot, std::move(open));
  }
  if (possible.empty()) return false;
  const auto& [slot, open] = possible[random_.below(possible.size())];
  selection_[slot->slot] = open[random_.below(open.size())]->part;
  return true;
}

}  // namespace rollwright::spec::testing

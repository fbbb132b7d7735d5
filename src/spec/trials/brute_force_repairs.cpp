#include <algorithm>
#include <bit>
#include <set>

#include <fmt/format.h>

#include "base/random.hpp"
#include "spec/repair.hpp"
#include "spec/trials/brute_force.hpp"

namespace rollwright::spec::testing {

using trade::Verdict;

namespace {

using Slots = std::set<trade::SlotId>;
using Rows = std::vector<const Enumeration::Row*>;

/// What changing exactly these slots comes to: how many, whether facts are not known, cents.
struct Mend {
  std::size_t changes = 0;
  bool not_known = false;
  std::int64_t cents = 0;
  Slots slots;

  [[nodiscard]] auto rank() const { return std::tuple(changes, not_known, cents); }
};

struct Broken {
  const Selection& choices;  // that may be changed
  Selection always;          // that may not
  Selection named;           // discontinued parts that count
};

Rows bikes_after(const Enumeration& all, const Broken& broken, const Slots& changed) {
  Selection kept = broken.always;
  for (const auto& [slot, part] : broken.choices) {
    if (!changed.contains(slot)) kept[slot] = part;
  }
  return all.complete(kept, broken.named, Verdict::kNotKnown);
}

Mend mend_by(const Rows& bikes, const Slots& changed) {
  Mend mend{.changes = changed.size(), .slots = changed};
  const auto rank = [](const Enumeration::Row* row) {
    return std::pair(row->worst == Verdict::kNotKnown, row->figures.cents);
  };
  std::tie(mend.not_known, mend.cents) = rank(std::ranges::min(bikes, {}, rank));
  return mend;
}

/// Every set of slots whose change mends, and no part of which does; ranked.
std::vector<Mend> all_mends(const Enumeration& all, const Broken& broken) {
  std::vector<trade::SlotId> slots;
  for (const auto& [slot, part] : broken.choices) slots.push_back(slot);
  std::vector<std::uint32_t> subsets;
  for (std::uint32_t bits = 0; bits < (1u << slots.size()); ++bits) subsets.push_back(bits);
  std::ranges::stable_sort(subsets, {}, [](std::uint32_t bits) { return std::popcount(bits); });
  std::vector<std::uint32_t> found;
  std::vector<Mend> mends;
  for (const std::uint32_t bits : subsets) {
    const bool covers = std::ranges::any_of(
        found, [&](std::uint32_t smaller) { return (bits & smaller) == smaller; });
    if (covers) continue;
    Slots changed;
    for (std::size_t i = 0; i < slots.size(); ++i) {
      if ((bits >> i) & 1) changed.insert(slots[i]);
    }
    const Rows bikes = bikes_after(all, broken, changed);
    if (bikes.empty()) continue;
    found.push_back(bits);
    mends.push_back(mend_by(bikes, changed));
  }
  std::ranges::stable_sort(mends, {}, &Mend::rank);
  return mends;
}

/// The bike of an answer must be one that its changes allow, and its figures true.
bool is_bike_after(const Repair& repair, const Rows& bikes, const Enumeration& all) {
  return std::ranges::any_of(bikes, [&](const Enumeration::Row* row) {
    bool same = repair.bike.parts.size() == row->parts.size();
    for (std::size_t i = 0; i < row->parts.size() && same; ++i) {
      const auto part = repair.bike.parts.find(all.slots()[i]);
      same = part != repair.bike.parts.end() && part->second == row->parts[i];
    }
    return same && repair.bike.price.cents == row->figures.cents &&
           repair.bike.verdict == row->worst && repair.bike.ready == row->figures.ready;
  });
}

void compare(const Enumeration& all, const Broken& broken, int most,
             const Result<std::vector<Repair>>& answers, Comparison& comparison) {
  const std::vector<Mend> right = all_mends(all, broken);
  comparison.expect(answers.has_value() == !right.empty(), "answered or refused wrongly");
  if (!answers || right.empty()) return;
  const std::size_t wanted = std::min(right.size(), static_cast<std::size_t>(most));
  comparison.expect(answers->size() == wanted,
                    fmt::format("{} answers; by enumeration {}", answers->size(), wanted));
  std::set<Slots> told;
  for (std::size_t i = 0; i < std::min(wanted, answers->size()); ++i) {
    const Repair& repair = (*answers)[i];
    Slots changed;
    bool truthful = true;
    for (const Change& change : repair.changes) {
      changed.insert(change.slot);
      truthful &= broken.choices.at(change.slot) == change.from && change.to != change.from &&
                  repair.bike.parts.at(change.slot) == change.to;
    }
    const auto own = std::ranges::find(right, changed, &Mend::slots);
    comparison.expect(own != right.end() && told.insert(changed).second,
                      fmt::format("answer {}: not a smallest set of changes", i + 1));
    if (own == right.end()) continue;
    comparison.expect(own->rank() == right[i].rank(),
                      fmt::format("answer {}: {} changes, {} cents; by enumeration {}, {}", i + 1,
                                  own->changes, own->cents, right[i].changes, right[i].cents));
    truthful &= is_bike_after(repair, bikes_after(all, broken, changed), all);
    comparison.expect(truthful && repair.bike.price.cents == own->cents &&
                          (repair.bike.verdict == Verdict::kNotKnown) == own->not_known,
                      fmt::format("answer {}: changes and bike do not belong together", i + 1));
  }
}

/// Some part of some slot, mostly a closed one.
SlotPart some_part(const Choices& answer, std::uint64_t seed) {
  std::vector<SlotPart> closed;
  std::vector<SlotPart> any;
  for (const SlotChoices& slot : answer.slots) {
    for (const PartChoice& part : slot.parts) {
      any.push_back({slot.slot, part.part});
      if (part.status == Status::kClosed) closed.push_back(any.back());
    }
  }
  Random random(seed);
  const auto& from = closed.empty() ? any : closed;
  return from.empty() ? SlotPart{} : from[random.below(from.size())];
}

}  // namespace

Comparison compare_repairs(const Catalogue& catalogue, const Enumeration& all,
                           const Problem& problem, const Selection& selection) {
  Comparison comparison;
  RepairSettings settings{.search = {.arrivals = &catalogue.arrivals}};
  for (const bool gone_stays : {true, false}) {
    settings.gone_stays = gone_stays;
    Comparison one;
    const Broken broken{selection, {}, gone_stays ? selection : Selection{}};
    compare(all, broken, settings.most, repairs(problem, selection, settings), one);
    comparison.add(one, gone_stays ? "mend" : "mend without discontinued parts");
  }
  settings.gone_stays = true;
  const auto answer = choices(problem, selection);
  const SlotPart wanted = answer ? some_part(*answer, selection.size() + 1) : SlotPart{};
  if (wanted.slot.empty()) return comparison;
  Selection others = selection;
  others.erase(wanted.slot);
  Selection named = others;
  named[wanted.slot] = wanted.part;
  Comparison one;
  compare(all, {others, {{wanted.slot, wanted.part}}, named}, settings.most,
          openings(problem, selection, wanted, settings), one);
  comparison.add(one, "open " + wanted.part.text);
  return comparison;
}

}  // namespace rollwright::spec::testing

#include "spec/trials/brute_force.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "spec/complete.hpp"
#include "spec/count.hpp"

namespace rollwright::spec::testing {

using trade::Verdict;

namespace {

using Rows = std::vector<const Enumeration::Row*>;

Selection with(Selection selection, const trade::SlotId& slot, const trade::PartId& part) {
  selection[slot] = part;
  return selection;
}

/// The bikes that figures are said of: those of which every fact is known, if there are any.
Rows best_known(const Enumeration& all, const Selection& selection, const Selection& named) {
  Rows known = all.complete(selection, named, Verdict::kFitsWithCare);
  return known.empty() ? all.complete(selection, named, Verdict::kNotKnown) : known;
}

Bests bests_among(const Rows& rows) {
  std::vector<const Figures*> bikes;
  for (const Enumeration::Row* row : rows) bikes.push_back(&row->figures);
  return bests_of(bikes);
}

std::string text(const Bests& bests) {
  return fmt::format("{} cents, {} mg and {} masses not known, ready {}, {}",
                     bests.price ? std::to_string(bests.price->cents) : "no",
                     bests.mass ? std::to_string(milligrams_of(*bests.mass)) : "no",
                     bests.masses_not_known, bests.ready ? iso(*bests.ready) : "never",
                     bests.proven ? "proven" : "not proven");
}

/// Writes what the bests of one part or selection should be.
void expect_bests(const Bests& ours, const Rows& rows, const std::string& whose,
                  Comparison& comparison) {
  const std::string right = text(bests_among(rows));
  comparison.expect(text(ours) == right, fmt::format("best of {}: {}; by enumeration {}", whose,
                                                     text(ours), right));
}

/// As few as can be were set aside, and the rest can be completed.
void expect_set_aside(const Enumeration& all, const Selection& selection, const Choices& answer,
                      Comparison& comparison) {
  Selection kept = selection;
  for (const SlotPart& aside : answer.set_aside) kept.erase(aside.slot);
  const bool any = all.best({}, selection) != Verdict::kDoesNotFit;
  if (!any) return;
  comparison.expect(all.best(kept, selection) != Verdict::kDoesNotFit,
                    "what was not set aside cannot be completed");
  std::size_t most_kept = 0;
  for (const Enumeration::Row* row : all.complete({}, selection, Verdict::kNotKnown)) {
    std::size_t same = 0;
    for (std::size_t i = 0; i < row->parts.size(); ++i) {
      const auto chosen = selection.find(all.slots()[i]);
      same += chosen != selection.end() && chosen->second == row->parts[i] ? 1 : 0;
    }
    most_kept = std::max(most_kept, same);
  }
  comparison.expect(kept.size() == most_kept, "more was set aside than had to be");
}

/// A whole bike as answered, found again among the enumerated ones.
const Enumeration::Row* row_of(const Enumeration& all, const Selection& parts) {
  for (const Enumeration::Row& row : all.rows()) {
    bool same = parts.size() == row.parts.size();
    for (std::size_t i = 0; i < row.parts.size() && same; ++i) {
      const auto part = parts.find(all.slots()[i]);
      same = part != parts.end() && part->second == row.parts[i];
    }
    if (same) return &row;
  }
  return nullptr;
}

void expect_truthful(const Completion& bike, const Enumeration::Row& row, const std::string& which,
                     Comparison& comparison) {
  const bool truthful = bike.verdict == row.worst && bike.price.cents == row.figures.cents &&
                        milligrams_of(bike.mass) == row.figures.milligrams &&
                        bike.masses_not_known == row.figures.masses_not_known &&
                        bike.ready == row.figures.ready && bike.proven;
  comparison.expect(truthful, which + ": the bike's own figures are wrong");
}

/// What is minimised, then what breaks ties. Smaller is better.
using Key = std::tuple<std::int64_t, double, std::int64_t, std::int64_t, std::int64_t>;

Key key_of(const Figures& figures, const CompletionQuestion& question) {
  const std::int64_t day = figures.ready ? figures.ready->time_since_epoch().count() : 1'000'000;
  const auto [lacking, milligrams] = figures.mass();
  switch (question.aim) {
    case Aim::kCheapest: return {0, 0, figures.cents, lacking, milligrams};
    case Aim::kLightest: return {lacking, 0, milligrams, figures.cents, 0};
    case Aim::kSoonest: return {day, 0, figures.cents, lacking, milligrams};
    case Aim::kWeighted: break;
  }
  const Weights& weights = question.weights;
  const double value = static_cast<double>(figures.cents) +
                       weights.cents_per_kg * static_cast<double>(milligrams) / 1e6 +
                       weights.cents_per_day * static_cast<double>(day);
  // Rounded to hundredths of a cent: sums in another order differ in their last digits.
  return {weights.cents_per_kg > 0 ? lacking : 0, std::round(value * 100) / 100, 0, 0, 0};
}

struct Aimed {
  std::string name;
  CompletionQuestion question;
};
const std::vector<Aimed> kAims = {
    {"cheapest", {Aim::kCheapest, {}}},
    {"lightest", {Aim::kLightest, {}}},
    {"soonest", {Aim::kSoonest, {}}},
    {"weighted by mass and days", {Aim::kWeighted, {.cents_per_kg = 130, .cents_per_day = 40}}},
    {"weighted by days", {Aim::kWeighted, {.cents_per_kg = 0, .cents_per_day = 75}}},
    {"weighted by mass", {Aim::kWeighted, {.cents_per_kg = 420, .cents_per_day = 0}}},
};

void compare_completion(const Enumeration& all, const Rows& rows, const Result<Completion>& bike,
                        const Aimed& aim, Comparison& comparison) {
  comparison.expect(bike.has_value() == !rows.empty(),
                    aim.name + (bike ? ": a bike where none is" : ": no bike where one is"));
  if (!bike || rows.empty()) return;
  const Enumeration::Row* row = row_of(all, bike->parts);
  const bool allowed = std::ranges::find(rows, row) != rows.end();
  comparison.expect(allowed, aim.name + ": not a complete bike with these choices");
  if (!allowed) return;
  expect_truthful(*bike, *row, aim.name, comparison);
  const auto key = [&](const Enumeration::Row* one) { return key_of(one->figures, aim.question); };
  comparison.expect(key(row) == key(std::ranges::min(rows, {}, key)), aim.name + ": a better bike exists");
}

bool no_worse(const Figures& a, const Figures& b) {
  const Day never = Day::max();
  return a.cents <= b.cents && a.mass() <= b.mass() && a.ready.value_or(never) <= b.ready.value_or(never);
}
bool same(const Figures& a, const Figures& b) { return no_worse(a, b) && no_worse(b, a); }

void compare_trade_offs(const Enumeration& all, const Rows& rows,
                        const Result<std::vector<Completion>>& bikes, Comparison& comparison) {
  comparison.expect(bikes.has_value() == !rows.empty(), "trade-offs: answered or refused wrongly");
  if (!bikes || rows.empty()) return;
  Rows told;
  for (const Completion& bike : *bikes) {
    told.push_back(row_of(all, bike.parts));
    const bool allowed = std::ranges::find(rows, told.back()) != rows.end();
    comparison.expect(allowed, "trade-offs: not a complete bike with these choices");
    if (!allowed) return;
    expect_truthful(bike, *told.back(), "trade-offs", comparison);
    const bool beaten = std::ranges::any_of(rows, [&](const Enumeration::Row* row) {
      return no_worse(row->figures, told.back()->figures) &&
             !same(row->figures, told.back()->figures);
    });
    comparison.expect(!beaten, "trade-offs: one bike is beaten by another");
  }
  const auto price = [](const Enumeration::Row* row) { return row->figures.cents; };
  comparison.expect(std::ranges::is_sorted(told, {}, price), "trade-offs: not by price");
  for (std::size_t i = 1; i < told.size(); ++i) {
    comparison.expect(!same(told[i - 1]->figures, told[i]->figures), "trade-offs: one twice");
  }
  comparison.expect(text(bests_among(told)) == text(bests_among(rows)),
                    fmt::format("trade-offs: extremes are {}; by enumeration {}",
                                text(bests_among(told)), text(bests_among(rows))));
}

}  // namespace

void Comparison::expect(bool agrees, const std::string& what) {
  ++compared;
  if (!agrees) mismatches.push_back(what);
}

void Comparison::add(const Comparison& other, const std::string& where) {
  compared += other.compared;
  for (const std::string& what : other.mismatches) mismatches.push_back(where + ": " + what);
}

Selection judged_with(const Enumeration& all, const Selection& selection, const Choices& answer,
                      const trade::SlotId& slot) {
  Selection others = selection;
  others.erase(slot);
  if (all.best(others, selection) != Verdict::kDoesNotFit) return others;
  for (const SlotPart& aside : answer.set_aside) others.erase(aside.slot);
  return others;
}

Comparison compare_choices(const Catalogue& catalogue, const Enumeration& all,
                           const Problem& problem, const Selection& selection) {
  Comparison comparison;
  const auto answer = choices(problem, selection, {.arrivals = &catalogue.arrivals});
  comparison.expect(answer.has_value(), "choices refused");
  if (!answer) return comparison;
  comparison.expect(answer->selection == static_cast<Status>(all.best(selection, selection)),
                    fmt::format("the selection is {}", word_of(answer->selection)));
  expect_bests(answer->best, best_known(all, selection, selection), "the selection", comparison);
  if (answer->selection == Status::kClosed) {
    expect_set_aside(all, selection, *answer, comparison);
  }
  for (const SlotChoices& slot : answer->slots) {
    const Selection others = judged_with(all, selection, *answer, slot.slot);
    for (const PartChoice& part : slot.parts) {
      const std::string name = slot.slot.text + " " + part.part.text;
      const Selection asked = with(others, slot.slot, part.part);
      const auto right = static_cast<Status>(all.best(asked, selection));
      comparison.expect(part.status == right,
                        fmt::format("{} is {}; by enumeration {}", name, word_of(part.status),
                                    word_of(right)));
      expect_bests(part.best, best_known(all, asked, selection), name, comparison);
    }
  }
  return comparison;
}

Comparison compare_completions(const Catalogue& catalogue, const Enumeration& all,
                               const Problem& problem, const Selection& selection) {
  Comparison comparison;
  const ChoicesSettings settings{.arrivals = &catalogue.arrivals};
  const Rows rows = best_known(all, selection, selection);
  for (const Aimed& aim : kAims) {
    compare_completion(all, rows, complete(problem, selection, aim.question, settings), aim,
                       comparison);
  }
  compare_trade_offs(all, rows, trade_offs(problem, selection, 7, settings), comparison);
  return comparison;
}

Comparison compare_counts(const Enumeration& all, const Problem& problem,
                          const Selection& selection) {
  Comparison comparison;
  const auto counted = count(problem, selection);
  comparison.expect(counted.has_value(), "the count was refused");
  if (!counted) return comparison;
  const auto right = [&](Verdict at_most) {
    return static_cast<unsigned long long>(all.complete(selection, selection, at_most).size());
  };
  const auto agrees = [&](const std::string& digits, unsigned long long bikes) {
    const unsigned long long ours = std::stoull(digits);
    return counted->exact ? ours == bikes : ours >= bikes;
  };
  const auto say = [&](const std::string& digits, Verdict at_most) {
    comparison.expect(agrees(digits, right(at_most)),
                      fmt::format("{} bikes{}; by enumeration {}", digits,
                                  counted->exact ? "" : " at most", right(at_most)));
  };
  say(counted->fitting, Verdict::kFitsWithCare);
  say(counted->possible, Verdict::kNotKnown);
  return comparison;
}

Comparison compare_all(const Catalogue& catalogue, const Enumeration& all, const Problem& problem,
                       const Selection& selection) {
  Comparison comparison = compare_choices(catalogue, all, problem, selection);
  comparison.add(compare_completions(catalogue, all, problem, selection), "complete");
  comparison.add(compare_counts(all, problem, selection), "count");
  comparison.add(compare_repairs(catalogue, all, problem, selection), "repairs");
  return comparison;
}

}  // namespace rollwright::spec::testing

#include "spec/check.hpp"

#include <algorithm>
#include <set>

#include "spec/rule_form.hpp"

namespace rollwright::spec {

namespace {

/// Every real slot that the rule looks at in this bike, in slot order.
std::vector<SlotPart> parts_seen(const trade::Trade& trade, const trade::Rule& rule,
                                 const Bike& bike) {
  std::set<trade::SlotId> scope;
  for (const trade::SlotId& slot : trade::scope_of(rule)) scope.insert(slot);
  const bool all = std::ranges::any_of(
      rule.terms, [](const trade::Operand& term) { return term.slot.text == "*"; });
  std::vector<SlotPart> seen;
  for (const trade::Slot& slot : trade.slots) {
    const trade::Part* part = bike.part_in(slot.id);
    if (scope.contains(slot.id) || (all && part != nullptr)) {
      seen.push_back({slot.id, part != nullptr ? part->id : trade::PartId()});
    }
  }
  return seen;
}

Finding finding_of(const trade::Trade& trade, const trade::Rule& rule, const Bike& bike,
                   Outcome outcome) {
  return {.rule = rule.name(),
          .severity = rule.severity,
          .verdict = outcome.verdict,
          .parts = parts_seen(trade, rule, bike),
          .sentence = std::move(outcome.sentence),
          .adapter = std::move(outcome.adapter),
          .missing_facts = std::move(outcome.missing_facts),
          .missing_slots = std::move(outcome.missing_slots),
          .source = rule.source};
}

void count(Coverage& coverage, const Outcome& outcome) {
  ++coverage.rules;
  if (!outcome.applies) {
    ++coverage.not_applying;
  } else if (outcome.verdict == trade::Verdict::kNotKnown) {
    ++coverage.not_known;
  } else {
    ++coverage.checked;
  }
}

Totals totals_of(const trade::Trade& trade, const Bike& bike) {
  Totals totals;
  for (const trade::Slot& slot : trade.slots) {
    const trade::Part* part = bike.part_in(slot.id);
    if (part == nullptr) continue;
    ++totals.parts;
    totals.price += part->price * slot.quantity;
    if (const auto mass = trade::mass_of(*part)) {
      totals.mass += *mass * slot.quantity;
    } else {
      ++totals.masses_not_known;
    }
  }
  return totals;
}

std::vector<std::string> adapters_of(const std::vector<Finding>& findings) {
  std::vector<std::string> adapters;
  for (const Finding& finding : findings) {
    if (finding.verdict != trade::Verdict::kFitsWith) continue;
    const std::string& line = finding.adapter.empty() ? finding.sentence : finding.adapter;
    if (std::ranges::find(adapters, line) == adapters.end()) adapters.push_back(line);
  }
  return adapters;
}

bool worse(const Finding& a, const Finding& b) {
  if (a.verdict != b.verdict) return a.verdict > b.verdict;
  return a.severity < b.severity;
}

bool may_fill(const trade::Trade& trade, const trade::BuildTemplate& build,
              const trade::SlotId& slot, const trade::KindId& kind) {
  const std::vector<trade::KindId> kinds = trade::kinds_for(trade, build, slot);
  return std::ranges::find(kinds, kind) != kinds.end();
}

}  // namespace

std::string Coverage::sentence() const {
  return std::to_string(checked) + " of " + std::to_string(rules) + " rules checked, " +
         std::to_string(not_known) + " not known, " + std::to_string(not_applying) +
         (not_applying == 1 ? " does not apply" : " do not apply");
}

std::vector<Finding> findings_of(const trade::Trade& trade,
                                 std::span<const trade::Rule* const> rules, const Bike& bike) {
  std::vector<Finding> findings;
  for (const trade::Rule* rule : rules) {
    Outcome outcome = evaluate(trade, *rule, bike);
    if (outcome.verdict == trade::Verdict::kFits) continue;
    findings.push_back(finding_of(trade, *rule, bike, std::move(outcome)));
  }
  std::ranges::stable_sort(findings, worse);
  return findings;
}

SpecCheck check(const trade::Trade& trade, const trade::BuildTemplate& build, const Bike& bike) {
  SpecCheck result;
  for (const trade::Rule& rule : trade.rules) {
    Outcome outcome = evaluate(trade, rule, bike);
    count(result.coverage, outcome);
    result.verdict = std::max(result.verdict, outcome.verdict);
    if (outcome.verdict == trade::Verdict::kFits) continue;
    result.findings.push_back(finding_of(trade, rule, bike, std::move(outcome)));
  }
  std::ranges::stable_sort(result.findings, worse);
  for (const trade::SlotId& slot : build.required) {
    if (bike.part_in(slot) == nullptr) result.missing_slots.push_back(slot);
  }
  result.complete = result.missing_slots.empty();
  result.totals = totals_of(trade, bike);
  result.adapters = adapters_of(result.findings);
  return result;
}

Result<Bike> bike_of(const ProblemInput& input, const Selection& selection) {
  std::map<trade::PartId, const trade::Part*> by_id;
  for (const trade::Part& part : input.parts) by_id.emplace(part.id, &part);
  Bike bike{.order = input.order, .rider = input.rider};
  for (const auto& [slot, id] : selection) {
    if (id.empty()) continue;
    const auto found = by_id.find(id);
    if (found == by_id.end()) {
      return refuse(Code::kNotFound,
                    "no part " + id.text + " is in the catalogue; choose another for " + slot.text);
    }
    if (!may_fill(input.trade, input.build, slot, found->second->kind)) {
      return refuse(Code::kContradiction,
                    found->second->name + " (" + id.text + ") does not belong into the slot " +
                        slot.text + " of " + input.build.id);
    }
    bike.parts.emplace(slot, found->second);
  }
  return bike;
}

}  // namespace rollwright::spec

#include "shop/spec_versions.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "shop/supply_side.hpp"

namespace rollwright::shop {
namespace {

std::string name_of_slot(const trade::Trade& trade, const trade::SlotId& id) {
  const trade::Slot* slot = trade::find_slot(trade, id);
  return slot == nullptr ? id.text : slot->name;
}

std::map<trade::SlotId, trade::PartId> by_slot(const std::vector<trade::SignedLine>& lines) {
  std::map<trade::SlotId, trade::PartId> parts;
  for (const trade::SignedLine& line : lines) parts[line.slot] = line.part;
  return parts;
}

}  // namespace

std::vector<trade::SignedLine> spec_lines(const trade::Trade& trade, const State& state,
                                          const trade::Order& order) {
  std::vector<trade::SignedLine> lines;
  for (const auto& [slot_id, part_id] : order.choices) {
    const trade::Slot* slot = trade::find_slot(trade, slot_id);
    const trade::Part* part = state.part(part_id);
    lines.push_back({.slot = slot_id, .part = part_id,
                     .quantity = slot == nullptr ? 1 : slot->quantity,
                     .each = part == nullptr ? Money{} : part->price});
  }
  return lines;
}

Money price_of(const std::vector<trade::SignedLine>& lines) {
  Money price;
  for (const trade::SignedLine& line : lines) price += line.each * line.quantity;
  return price;
}

std::vector<const trade::SignedSpec*> versions_of(const State& state,
                                                  const trade::OrderId& order) {
  std::vector<const trade::SignedSpec*> versions;
  for (const trade::SignedSpec& spec : state.held.rest.signed_specs) {
    if (spec.order == order) versions.push_back(&spec);
  }
  std::ranges::sort(versions, {}, &trade::SignedSpec::version);
  return versions;
}

std::vector<std::string> differences(const trade::Trade& trade, const State& state,
                                     const std::vector<trade::SignedLine>& before,
                                     const std::vector<trade::SignedLine>& now) {
  const auto was = by_slot(before);
  const auto is = by_slot(now);
  std::vector<std::string> lines;
  for (const auto& [slot, part] : is) {
    const auto old = was.find(slot);
    if (old == was.end()) {
      lines.push_back(fmt::format("{}: {}, which was not there", name_of_slot(trade, slot),
                                  state.name_of(part)));
    } else if (old->second != part) {
      lines.push_back(fmt::format("{}: {} instead of {}", name_of_slot(trade, slot),
                                  state.name_of(part), state.name_of(old->second)));
    }
  }
  for (const auto& [slot, part] : was) {
    if (is.contains(slot)) continue;
    lines.push_back(
        fmt::format("{}: none instead of {}", name_of_slot(trade, slot), state.name_of(part)));
  }
  return lines;
}

SignedState signed_state(const trade::Trade& trade, const State& state,
                         const trade::Order& order) {
  const auto versions = versions_of(state, order.id);
  if (versions.empty()) {
    return {.version = trade::is_before_agreed(order.state) ? 0 : order.spec_version, .changed = {}};
  }
  const trade::SignedSpec& newest = *versions.back();
  return {.version = newest.version,
          .changed = differences(trade, state, newest.lines, spec_lines(trade, state, order))};
}

trade::SignedSpec next_version(const trade::Trade& trade, const State& state,
                               const trade::Order& order, const Signature& signature) {
  const auto versions = versions_of(state, order.id);
  const int last = versions.empty() ? order.spec_version : versions.back()->version;
  trade::SignedSpec spec{.order = order.id, .version = last + 1, .signed_by = signature.by,
                         .who = signature.who, .day = signature.day,
                         .changes = versions.empty() ? Money{} : versions.back()->changes,
                         .lines = spec_lines(trade, state, order)};
  // What stays is not dearer than it was when it was signed.
  for (trade::SignedLine& line : spec.lines) {
    if (versions.empty()) break;
    for (const trade::SignedLine& old : versions.back()->lines) {
      if (old.slot == line.slot && old.part == line.part) line.each = old.each;
    }
  }
  spec.price = price_of(spec.lines) + spec.changes;
  return spec;
}

std::optional<trade::SignedSpec> version_before_versions(const trade::Trade& trade,
                                                         const State& state,
                                                         const trade::Order& order) {
  if (!versions_of(state, order.id).empty()) return std::nullopt;
  trade::SignedSpec first = next_version(
      trade, state, order, {.by = order.rider.name, .who = "import", .day = order.opened});
  first.version = std::max(1, order.spec_version);
  return first;
}

}  // namespace rollwright::shop

#include "build/sheet.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/applicable.hpp"
#include "build/limits.hpp"
#include "build/traits.hpp"

namespace rollwright::build {
namespace {

constexpr const char* kPrintedValue = "printed_value";

Result<BikeFacts> bike_of(const SheetRequest& request) {
  const auto build = request.trade->templates.find(request.order->build);
  if (build == request.trade->templates.end()) {
    return refuse(Code::kNotFound,
                  fmt::format("order {} is for the build \"{}\", which the trade does not have",
                              request.order->id.text, request.order->build),
                  {.field = "build", .value = request.order->build});
  }
  for (const auto& [slot, part] : request.order->choices) {
    const auto found = request.parts.find(slot);
    if (found == request.parts.end() || found->second == nullptr) {
      return refuse(Code::kNotFound,
                    fmt::format("order {} has {} as its {}, and no such part is in the catalogue",
                                request.order->id.text, part.text, slot.text),
                    {.field = slot.text, .value = part.text});
    }
  }
  return BikeFacts{.build = &build->second,
                   .parts = request.parts,
                   .order = trade::order_facts(*request.order, request.ride),
                   .rider = trade::rider_facts(*request.order)};
}

void ask_for_empty_slots(const trade::Trade& trade, FactReader& facts) {
  for (const trade::SlotId& slot : facts.bike().build->required) {
    if (!facts.filled(slot.text)) {
      facts.ask(not_known_sentence(trade, facts.bike(), {slot, "*filled", 0.0}));
    }
  }
}

bool mentions(const trade::AppliesWhen& when, const std::string& trait) {
  return std::ranges::count(when.all, trait) > 0 || std::ranges::count(when.any, trait) > 0 ||
         std::ranges::count(when.none, trait) > 0;
}

/// Facts that decide whether whole steps apply, with those steps.
void ask_for_traits(const trade::Trade& trade, const BikeTraits& traits, FactReader& facts) {
  for (const auto& [trait, open] : traits.not_known) {
    std::vector<std::string> steps;
    for (const trade::Operation& operation : trade.operations) {
      if (mentions(operation.when, trait)) steps.push_back(operation.id);
    }
    for (const std::string& fact : open) {
      facts.ask(steps.empty() ? fact
                              : fmt::format("{}; it decides about {}", fact, listed(steps)));
    }
  }
}

std::vector<std::string> caution_sentences(const trade::Trade& trade,
                                           const trade::Operation& operation, bool has_numbers) {
  std::vector<std::string> ids = operation.cautions;
  if (has_numbers && std::ranges::count(ids, kPrintedValue) == 0) ids.push_back(kPrintedValue);
  std::vector<std::string> sentences;
  for (const std::string& id : ids) {
    const auto found = trade.cautions.find(id);
    if (found != trade.cautions.end()) sentences.push_back(found->second.sentence);
  }
  return sentences;
}

std::vector<trade::SheetValue> values_of(const trade::Operation& operation,
                                         const std::set<std::string>& traits, FactReader& facts) {
  std::vector<trade::SheetValue> values;
  for (const trade::Reading& reading : facts.trade().readings) {
    const bool asked = std::ranges::count(reading.operations, operation.id) > 0;
    if (asked && applies(reading.when, traits)) values.push_back(value_for(reading, facts));
  }
  return values;
}

trade::SheetStep step_of(const ApplicableStep& applicable, const std::set<std::string>& traits,
                         FactReader& facts) {
  const trade::Operation& operation = *applicable.operation;
  trade::SheetStep step{.operation = operation.id,
                        .name = operation.name,
                        .area = operation.area,
                        .skill = operation.skill,
                        .minutes_low = operation.minutes_low,
                        .minutes_high = operation.minutes_high,
                        .after = applicable.after,
                        .second_person = operation.second_person,
                        .hands = applicable.hands,
                        .unattended_minutes = operation.unattended_minutes,
                        .steps = operation.steps,
                        .tools = operation.tools,
                        .consumables = operation.consumables};
  for (const trade::SlotId& slot : operation.fits) {
    if (facts.filled(slot.text)) step.fits.push_back(slot.text);
  }
  step.values = values_of(operation, traits, facts);
  const bool numbers = !std::ranges::all_of(step.values, &trade::SheetValue::pass_or_fail);
  step.cautions = caution_sentences(facts.trade(), operation, numbers);
  return step;
}

std::string letter_of(trade::CheckMark mark) {
  switch (mark) {
    case trade::CheckMark::kStop: return "S";
    case trade::CheckMark::kMust: return "M";
    case trade::CheckMark::kNote: return "N";
  }
  broken_promise("every mark has a letter", __FILE__, __LINE__);
}

void add_parts(const trade::Trade& trade, const BikeFacts& bike, trade::Sheet& sheet) {
  for (const trade::Slot& slot : trade.slots) {
    const trade::Part* part = part_at(bike, slot.id);
    if (part == nullptr) continue;
    const auto kind = trade.kinds.find(part->kind);
    sheet.parts.push_back({.slot = slot.id.text,
                           .position = slot.name,
                           .part = part->id.text,
                           .name = part->name,
                           .quantity = slot.quantity,
                           .has_serial = kind != trade.kinds.end() && kind->second.has_serial});
    if (slot.id.text == "frame") sheet.frame = part->name;
  }
}

void add_checks(const trade::Trade& trade, const std::set<std::string>& traits,
                trade::Sheet& sheet) {
  for (const trade::CheckLine& line : trade.check_lines) {
    if (!applies(line.when, traits)) continue;
    if (line.list == trade::kCareList && !sheet.care) continue;
    sheet.checks.push_back({line.id, line.list, line.text, line.limit, letter_of(line.mark),
                            line.covers});
  }
}

void add_steps(const ApplicableOperations& operations, const std::set<std::string>& traits,
               FactReader& facts, trade::Sheet& sheet) {
  for (const ApplicableStep& applicable : operations.steps) {
    trade::SheetStep& step = sheet.steps.emplace_back(step_of(applicable, traits, facts));
    step.number = static_cast<int>(sheet.steps.size());
  }
}

void add_minutes(const ApplicableOperations& operations, trade::Sheet& sheet) {
  sheet.minutes_low = operations.minutes_low;
  sheet.minutes_high = operations.minutes_high;
  sheet.longest_chain_low = operations.chain.low;
  sheet.longest_chain_high = operations.chain.high;
}

/// What a visit may ask for; until it does, none of it is open.
Result<void> add_care(const trade::Trade& trade, const std::set<std::string>& traits,
                      FactReader& facts, trade::Sheet& sheet) {
  const auto operations = applicable_operations(trade.care, traits);
  if (!operations) return std::unexpected(operations.error());
  const std::size_t built = sheet.steps.size();
  add_steps(*operations, traits, facts, sheet);
  for (std::size_t i = built; i < sheet.steps.size(); ++i) sheet.steps[i].care = true;
  return {};
}

/// Each wheel hangs with the last step whose operation hangs it.
void add_wheels(const trade::Trade& trade, trade::Sheet& sheet) {
  std::set<std::string> hung;
  for (auto step = sheet.steps.rbegin(); step != sheet.steps.rend(); ++step) {
    for (const std::string& wheel : trade::find_operation(trade, step->operation)->hangs) {
      if (hung.insert(wheel).second) step->hangs.push_back(wheel);
    }
  }
}

}  // namespace

Result<trade::Sheet> make_sheet(const SheetRequest& request) {
  ROLLWRIGHT_PROMISE(request.trade != nullptr && request.order != nullptr);
  const trade::Trade& trade = *request.trade;
  const Result<BikeFacts> bike = bike_of(request);
  if (!bike) return std::unexpected(bike.error());
  const BikeTraits traits = traits_of(trade, *bike);
  const auto operations = applicable_operations(trade.operations, traits.holding);
  if (!operations) return std::unexpected(operations.error());

  trade::Sheet sheet{.order = request.order->id,
                     .rider = request.order->rider.name,
                     .need = request.order->need.words,
                     .build = bike->build->name,
                     .care = request.care};
  FactReader facts(trade, *bike);
  ask_for_empty_slots(trade, facts);
  ask_for_traits(trade, traits, facts);
  add_parts(trade, *bike, sheet);
  add_steps(*operations, traits.holding, facts, sheet);
  add_minutes(*operations, sheet);
  add_wheels(trade, sheet);
  if (request.care) {
    if (Result<void> ok = add_care(trade, traits.holding, facts, sheet); !ok) {
      return std::unexpected(ok.error());
    }
  }
  add_checks(trade, traits.holding, sheet);
  for (trade::SheetStep& step : sheet.steps) {
    step.done = request.care || request.order->done.contains(step.operation);
  }
  sheet.open_questions = facts.questions();
  return sheet;
}

}  // namespace rollwright::build

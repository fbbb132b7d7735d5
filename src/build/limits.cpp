#include "build/limits.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/value_text.hpp"

namespace rollwright::build {
namespace {

// What a setting torque tool may be off: 6 % below 10 N·m, 4 % from there (ISO 6789-1, from
// memory). A printed torque is a value to set, so this is how near it has to be.
constexpr double kSmallTorque = 10;
constexpr double kSmallTorqueShare = 0.06;
constexpr double kTorqueShare = 0.04;

struct Bound {
  std::optional<double> value;
  std::string source;
};

Bound greatest_least(const std::vector<trade::Limit>& limits) {
  Bound bound;
  for (const trade::Limit& limit : limits) {
    if (!limit.least || (bound.value && *limit.least <= *bound.value)) continue;
    bound = {limit.least, limit.source};
  }
  return bound;
}

Bound smallest_most(const std::vector<trade::Limit>& limits) {
  Bound bound;
  for (const trade::Limit& limit : limits) {
    if (!limit.most || (bound.value && *limit.most >= *bound.value)) continue;
    bound = {limit.most, limit.source};
  }
  return bound;
}

std::string sources_of(const Bound& least, const Bound& most) {
  if (!least.value) return most.source;
  if (!most.value || least.source == most.source) return least.source;
  return fmt::format("least: {}; most: {}", least.source, most.source);
}

}  // namespace

Result<trade::Limit> strictest_of(const std::vector<trade::Limit>& printed,
                                  const std::vector<trade::Limit>& usual) {
  Bound least = greatest_least(printed);
  Bound most = smallest_most(printed);
  if (least.value && most.value && *least.value > *most.value) {
    return refuse(Code::kContradiction,
                  fmt::format("at least {} ({}) and at most {} ({}) cannot both hold",
                              plain(*least.value), least.source, plain(*most.value), most.source));
  }
  const Bound usual_least = greatest_least(usual);
  const Bound usual_most = smallest_most(usual);
  const auto above = [](const std::optional<double>& a, const std::optional<double>& b) {
    return a && (!b || *a > *b);
  };
  const bool least_possible = !most.value || !above(usual_least.value, most.value);
  const bool most_possible = !least.value || !above(least.value, usual_most.value);
  if (least_possible && above(usual_least.value, least.value)) least = usual_least;
  if (most_possible && usual_most.value && (!most.value || *usual_most.value < *most.value)) {
    most = usual_most;
  }
  return trade::Limit{least.value, most.value, sources_of(least, most)};
}

namespace {

std::string printed_on(const FactReader& facts, const trade::Operand& operand) {
  const trade::Part* part = part_at(facts.bike(), operand.slot);
  return "stated for " + (part == nullptr ? operand.slot.text : part->name);
}

struct Prints {
  std::vector<trade::Limit> limits;
  std::optional<double> target;
  bool replaces_range = false;
  std::vector<trade::Operand> not_known;  // facts that filled slots could state
};

void take_limit(const FactReader& facts, const trade::Operand& operand, bool is_most,
                Prints& prints) {
  const auto value = facts.number_if_known(operand.slot.text, operand.attribute);
  if (!value) {
    if (facts.can_state(operand.slot.text, operand.attribute)) prints.not_known.push_back(operand);
    return;
  }
  trade::Limit limit{.source = printed_on(facts, operand)};
  (is_most ? limit.most : limit.least) = *value;
  prints.limits.push_back(limit);
}

void take_target(const FactReader& facts, const trade::Operand& operand, Dimension dimension,
                 Prints& prints) {
  const auto value = facts.number_if_known(operand.slot.text, operand.attribute);
  if (!value) {
    if (facts.can_state(operand.slot.text, operand.attribute)) prints.not_known.push_back(operand);
    return;
  }
  prints.replaces_range = true;
  prints.target = prints.target ? std::min(*prints.target, *value) : *value;
  if (dimension != Dimension::kTorque) return;
  const double share = *value < kSmallTorque ? kSmallTorqueShare : kTorqueShare;
  prints.limits.push_back({*value * (1 - share), *value * (1 + share),
                           fmt::format("{}, within {} % of the wrench",
                                       printed_on(facts, operand), rounded(share * 100, 0))});
}

Prints prints_of(const trade::Reading& reading, const FactReader& facts) {
  Prints prints;
  for (const trade::Operand& fact : reading.part_limits_most) take_limit(facts, fact, true, prints);
  for (const trade::Operand& fact : reading.part_limits_least) {
    take_limit(facts, fact, false, prints);
  }
  for (const trade::Operand& fact : reading.part_targets) {
    take_target(facts, fact, reading.dimension, prints);
  }
  return prints;
}

void compute_target(const trade::Reading& reading, FactReader& facts, trade::SheetValue& value,
                    std::vector<trade::Limit>& limits) {
  const auto found = calculations().find(reading.compute);
  if (found == calculations().end()) {
    facts.ask(fmt::format("{}: no calculation is called \"{}\"", reading.id, reading.compute));
    return;
  }
  const std::optional<ComputedValue> computed = found->second(facts);
  if (!computed) return;
  value.target = computed->target;
  value.how = computed->how;
  if (computed->least || computed->most) {
    limits.push_back({computed->least, computed->most, computed->limit_source});
  }
}

/// A print that nobody has read yet: a question when there is nothing else to go by, a word beside
/// the handbook's range when there is.
void mention_blank_prints(const Prints& prints, FactReader& facts, trade::SheetValue& value) {
  const bool known = value.target || value.strictest.least || value.strictest.most;
  for (const trade::Operand& fact : prints.not_known) {
    const std::string sentence = not_known_sentence(facts.trade(), facts.bike(), fact);
    if (!known) facts.ask(sentence);
    if (known && prints.limits.empty()) {
      value.how += fmt::format("{}{}; read the print first", value.how.empty() ? "" : "; ",
                               sentence);
      return;
    }
  }
}

void settle_strictest(const std::vector<trade::Limit>& printed,
                      const std::vector<trade::Limit>& usual, FactReader& facts,
                      trade::SheetValue& value) {
  const Result<trade::Limit> strictest = strictest_of(printed, usual);
  if (strictest) {
    value.strictest = *strictest;
    return;
  }
  facts.ask(fmt::format("{}: {}", value.name, strictest.error().sentence));
  value.target.reset();
}

/// A calculated target outside the limits is a question for the shop; a usual one moves inside.
void check_target(bool computed, FactReader& facts, trade::SheetValue& value) {
  if (!value.target) return;
  const double low = value.strictest.least.value_or(*value.target);
  const double high = value.strictest.most.value_or(*value.target);
  if (low <= *value.target && *value.target <= high) return;
  if (computed) {
    facts.ask(fmt::format("{}: this bike comes to {}, outside the limits ({})", value.name,
                          with_unit(*value.target, value.unit, 1), value.strictest.source));
    return;
  }
  value.target = std::clamp(*value.target, low, high);
}

}  // namespace

trade::SheetValue value_for(const trade::Reading& reading, FactReader& facts) {
  trade::SheetValue value{.reading = reading.id,
                          .name = reading.name,
                          .dimension = reading.dimension,
                          .unit = reading.unit,
                          .pass_or_fail = reading.pass_or_fail,
                          .stop = reading.stop,
                          .stop_below = reading.stop_below,
                          .stop_above = reading.stop_above,
                          .count = reading.count};
  if (reading.pass_or_fail) {
    value.strictest.source = reading.source;
    value.limits.push_back(value.strictest);
    return value;
  }
  Prints prints = prints_of(reading, facts);
  std::vector<trade::Limit> usual;
  const bool torque_is_printed = prints.replaces_range && reading.dimension == Dimension::kTorque;
  if ((reading.least || reading.most) && !torque_is_printed) {
    usual.push_back({reading.least, reading.most, reading.source});
  }
  value.target = prints.target ? prints.target : reading.target;
  if (!reading.compute.empty()) {
    value.target.reset();
    compute_target(reading, facts, value, prints.limits);
  }
  value.limits = prints.limits;
  value.limits.insert(value.limits.end(), usual.begin(), usual.end());
  settle_strictest(prints.limits, usual, facts, value);
  check_target(!reading.compute.empty() || prints.target.has_value(), facts, value);
  mention_blank_prints(prints, facts, value);
  tell(value);
  return value;
}

}  // namespace rollwright::build

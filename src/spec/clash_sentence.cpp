#include "spec/clash_sentence.hpp"

#include <algorithm>
#include <limits>

#include "base/index.hpp"
#include "base/text.hpp"
#include "spec/evaluate.hpp"
#include "spec/sentence.hpp"

namespace rollwright::spec {

namespace {

/// More different values than this are told as a range, or as the first few.
constexpr std::size_t kMostListed = 3;

/// "28.6 mm", "28.6 mm or 31.8 mm", "a, b or c"
std::string alternatives(std::vector<std::string> pieces) {
  if (pieces.size() < 2) return pieces.empty() ? "nothing" : pieces[0];
  const std::string last = pieces.back();
  pieces.pop_back();
  return join(pieces, ", ") + " or " + last;
}

class Teller {
 public:
  Teller(const Compiled& compiled, const Constraint& constraint, std::span<const Fixed> fixed)
      : compiled_(compiled), constraint_(constraint), rule_(*constraint.form.rule), fixed_(fixed) {}

  [[nodiscard]] bool determined() const {
    return std::ranges::all_of(constraint_.slots, [this](int slot) { return choice_in(slot); });
  }

  [[nodiscard]] std::string sentence() const {
    if (determined()) return evaluate(compiled_.trade, rule_, lookup()).sentence;
    Blanks blanks{.value = [this](const trade::Operand& operand) { return value(operand); },
                  .part_name = [this](const trade::SlotId& slot) { return part_name(slot); }};
    if (constraint_.kind == Constraint::Kind::kSum) {
      blanks.answer = least_total();
      blanks.before_answer = "at least ";
    }
    return filled_in(compiled_.trade, rule_, blanks);
  }

 private:
  [[nodiscard]] const Fixed* choice_in(int domain) const {
    const auto found = std::ranges::find(fixed_, domain, &Fixed::domain);
    return found == fixed_.end() ? nullptr : &*found;
  }

  [[nodiscard]] int domain_of(const trade::SlotId& slot) const {
    const auto found = compiled_.domain_of.find(slot);
    return found == compiled_.domain_of.end() ? -1 : found->second;
  }

  /// The part that is decided for the slot; null when undecided or left empty.
  [[nodiscard]] const trade::Part* part_in(const trade::SlotId& slot) const {
    if (slot.text == "order") return &compiled_.order;
    if (slot.text == "rider") return &compiled_.rider;
    const int domain = domain_of(slot);
    const Fixed* choice = domain < 0 ? nullptr : choice_in(domain);
    return choice == nullptr ? nullptr : compiled_.domains[at(domain)].parts[at(choice->candidate)];
  }

  [[nodiscard]] Lookup lookup() const {
    return [this](const trade::SlotId& slot) { return part_in(slot); };
  }

  [[nodiscard]] std::string part_name(const trade::SlotId& slot) const {
    const trade::Part* part = part_in(slot);
    if (part != nullptr) return part->name;
    const int domain = domain_of(slot);
    const bool is_open = domain >= 0 && choice_in(domain) == nullptr;
    return (is_open ? "any " : "no ") + slot_name(compiled_.trade, slot);
  }

  [[nodiscard]] std::string value(const trade::Operand& operand) const {
    const int domain = domain_of(operand.slot);
    if (domain >= 0 && choice_in(domain) == nullptr) return values_on_offer(operand, domain);
    const Held held = held_by(operand, part_in(operand.slot));
    if (held.known()) return shown_value(compiled_.trade, rule_, operand, *held.value);
    return held.empty() ? "no " + slot_name(compiled_.trade, operand.slot) : "not known";
  }

  [[nodiscard]] std::string values_on_offer(const trade::Operand& operand, int domain) const {
    std::vector<trade::Value> values;
    for (const trade::Part* part : compiled_.domains[at(domain)].parts) {
      const Held held = held_by(operand, part);
      const bool counts = part != nullptr && !part->gone && held.known();
      if (counts) values.push_back(*held.value);
    }
    std::ranges::sort(values);
    values.erase(std::unique(values.begin(), values.end()), values.end());
    const auto show = [&](const trade::Value& value) {
      return shown_value(compiled_.trade, rule_, operand, value);
    };
    const bool numbers = !values.empty() && std::holds_alternative<double>(values.front());
    if (values.size() > kMostListed && numbers) {
      return show(values.front()) + " to " + show(values.back());
    }
    std::vector<std::string> pieces;
    for (const trade::Value& value : values) {
      pieces.push_back(pieces.size() < kMostListed ? show(value) : "others");
      if (pieces.size() > kMostListed) break;
    }
    return alternatives(std::move(pieces));
  }

  /// What the sum comes to with the lightest of everything that is undecided.
  [[nodiscard]] double least_total() const {
    double total = constraint_.base_amount;
    for (std::size_t place = 0; place < constraint_.slots.size(); ++place) {
      const int slot = constraint_.slots[place];
      const Domain& domain = compiled_.domains[at(slot)];
      if (const Fixed* choice = choice_in(slot)) {
        total += constraint_.shares[place][at(choice->group)].amount;
        continue;
      }
      double least = std::numeric_limits<double>::infinity();
      for (std::size_t group = 0; group < domain.offered.size(); ++group) {
        if (domain.offered[group]) least = std::min(least, constraint_.shares[place][group].amount);
      }
      total += least;
    }
    return rule_.share * total + rule_.offset;
  }

  const Compiled& compiled_;
  const Constraint& constraint_;
  const trade::Rule& rule_;
  std::span<const Fixed> fixed_;
};

}  // namespace

ClashRule clash_rule(const Compiled& compiled, int constraint, std::span<const Fixed> fixed) {
  const Constraint& own = compiled.constraints[at(constraint)];
  const Teller teller(compiled, own, fixed);
  std::vector<trade::SlotId> slots;
  for (const int slot : own.slots) slots.push_back(compiled.domains[at(slot)].slot->id);
  return {.rule = own.form.rule->name(),
          .severity = own.form.rule->severity,
          .slots = std::move(slots),
          .sentence = teller.sentence(),
          .determined = teller.determined(),
          .source = own.form.rule->source};
}

}  // namespace rollwright::spec

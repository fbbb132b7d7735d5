#include "spec/choices_by_search.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "spec/harvest.hpp"

namespace rollwright::spec {

namespace {

std::vector<Fixed> without(const std::vector<Fixed>& fixed, int domain) {
  std::vector<Fixed> rest;
  std::ranges::copy_if(fixed, std::back_inserter(rest),
                       [&](const Fixed& choice) { return choice.domain != domain; });
  return rest;
}

bool can_be_completed(Status status) {
  return status != Status::kClosed && status != Status::kNotProven;
}

/// One call of choices.
class Searching {
 public:
  Searching(const Compiled& compiled, std::vector<Fixed> fixed, Budget& budget)
      : compiled_(compiled), fixed_(std::move(fixed)), budget_(budget) {}

  Choices run() {
    result_.selection = best_completion(compiled_, fixed_, fixed_, budget_);
    result_.best.proven = result_.selection == Status::kClosed;
    agreed_ = fixed_;
    if (!can_be_completed(result_.selection)) set_aside();
    lay_slots();
    answer_undecided();
    for (const Fixed& choice : fixed_) answer_decided(choice);
    result_.steps = budget_.spent;
    return std::move(result_);
  }

 private:
  /// Keeps choices in slot order as long as they can be completed together.
  void set_aside() {
    agreed_.clear();
    for (const Fixed& choice : fixed_) {
      agreed_.push_back(choice);
      if (can_be_completed(best_completion(compiled_, agreed_, fixed_, budget_))) continue;
      agreed_.pop_back();
      const Domain& domain = compiled_.domains[at(choice.domain)];
      const trade::Part* part = domain.parts[at(choice.candidate)];
      result_.set_aside.push_back(
          {domain.slot->id, part != nullptr ? part->id : trade::PartId()});
    }
  }

  [[nodiscard]] const Fixed* choice_in(int domain) const {
    const auto found = std::ranges::find(fixed_, domain, &Fixed::domain);
    return found == fixed_.end() ? nullptr : &*found;
  }

  void lay_slots() {
    for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) {
      const Domain& domain = compiled_.domains[at(d)];
      result_.slots.push_back({.slot = domain.slot->id,
                               .required = domain.required,
                               .chosen = choice_in(d) != nullptr});
    }
  }

  void answer_undecided() {
    HarvestInput input{.fixed = agreed_, .also_offered = fixed_};
    for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) {
      if (choice_in(d) == nullptr) input.targets.push_back(d);
    }
    // Nothing can be better than the best completion of what is chosen.
    if (can_be_completed(result_.selection)) {
      input.first_level = static_cast<int>(result_.selection);
    }
    const auto statuses = harvest(compiled_, input, budget_);
    for (const int target : input.targets) write(target, statuses[at(target)]);
  }

  void answer_decided(const Fixed& choice) {
    HarvestInput input{.fixed = without(fixed_, choice.domain),
                       .targets = {choice.domain},
                       .also_offered = fixed_};
    if (!can_be_completed(result_.selection) &&
        !can_be_completed(best_completion(compiled_, input.fixed, fixed_, budget_))) {
      input.fixed = without(agreed_, choice.domain);
    }
    write(choice.domain, harvest(compiled_, input, budget_)[at(choice.domain)]);
  }

  void write(int slot, const std::vector<Status>& by_group) {
    const Domain& domain = compiled_.domains[at(slot)];
    const Fixed* choice = choice_in(slot);
    for (std::size_t i = 0; i < domain.parts.size(); ++i) {
      const trade::Part* part = domain.parts[i];
      const bool gone = part != nullptr && part->gone;
      const bool chosen = choice != nullptr && at(choice->candidate) == i;
      if (gone && !chosen) continue;
      PartChoice line{.part = part != nullptr ? part->id : trade::PartId(),
                      .status = by_group[at(domain.group_of[i])], .gone = gone, .best = {}};
      line.best.proven = line.status == Status::kClosed;
      result_.slots[at(slot)].parts.push_back(std::move(line));
    }
  }

  const Compiled& compiled_;
  const std::vector<Fixed> fixed_;
  Budget& budget_;
  std::vector<Fixed> agreed_;  // the choices, less those set aside
  Choices result_;
};

}  // namespace

Choices choices_by_search(const Compiled& compiled, std::vector<Fixed> fixed, Budget& budget) {
  return Searching(compiled, std::move(fixed), budget).run();
}

}  // namespace rollwright::spec

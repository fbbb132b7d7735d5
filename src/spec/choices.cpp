#include "spec/choices.hpp"

#include <algorithm>

#include "base/index.hpp"
#include "spec/choices_by_search.hpp"
#include "spec/fewest_changes.hpp"
#include "spec/margins.hpp"

namespace rollwright::spec {

namespace {

/// One call of choices with a diagram.
class Answering {
 public:
  Answering(const Compiled& compiled, std::vector<Fixed> fixed, const ChoicesSettings& settings)
      : compiled_(compiled), fixed_(std::move(fixed)), settings_(settings),
        budget_{.left = settings.most_steps} {}

  Choices run() {
    const Margins as_chosen = margins_with(fixed_);
    result_.selection = as_chosen.whole.status;
    result_.best = as_chosen.whole.best;
    if (result_.selection == Status::kClosed || result_.selection == Status::kNotProven) {
      const Margins agreed = margins_with(agreed_choices());
      lay_slots(as_chosen, agreed);
    } else {
      lay_slots(as_chosen, as_chosen);
    }
    result_.steps = budget_.spent;
    return std::move(result_);
  }

 private:
  [[nodiscard]] Margins margins_with(const std::vector<Fixed>& decided) {
    Margins margins =
        margins_of(situations_of(compiled_, decided, fixed_, settings_.arrivals), budget_);
    if (compiled_.possible == nullptr) close_what_rules_close(decided, margins);
    return margins;
  }

  /// Without a diagram of possible bikes, what the rules take away one by one is proven closed.
  void close_what_rules_close(const std::vector<Fixed>& decided, Margins& margins) {
    Search search(compiled_, trade::Verdict::kNotKnown, budget_);
    search.also_offer(fixed_);
    const std::optional<Bits> bits = search.start(decided);
    if (!bits) margins.whole = {};
    for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) {
      // In a decided slot the parts are judged without what is decided there; this is not.
      if (std::ranges::find(decided, d, &Fixed::domain) != decided.end()) continue;
      const Domain& domain = compiled_.domains[at(d)];
      for (std::size_t i = 0; i < domain.parts.size(); ++i) {
        Margins::Margin& margin = margins.by_candidate[at(d)][i];
        const bool is_gone = !bits || !has(*bits, domain, domain.group_of[i]);
        if (margin.status == Status::kNotProven && is_gone) margin = {};
      }
    }
  }

  /// The choices, less as few as can be that keep them from being completed.
  std::vector<Fixed> agreed_choices() {
    const Situations nothing_decided =
        situations_of(compiled_, {}, fixed_, settings_.arrivals);
    const FewestChanges fewest = fewest_changes(nothing_decided, fixed_, budget_);
    std::vector<Fixed> agreed;
    for (const Fixed& choice : fixed_) {
      const bool kept = !fewest.candidates.empty() &&
                        fewest.candidates[at(choice.domain)] == choice.candidate;
      if (kept) {
        agreed.push_back(choice);
        continue;
      }
      const Domain& domain = compiled_.domains[at(choice.domain)];
      const trade::Part* part = domain.parts[at(choice.candidate)];
      result_.set_aside.push_back(
          {domain.slot->id, part != nullptr ? part->id : trade::PartId()});
    }
    return agreed;
  }

  void lay_slots(const Margins& as_chosen, const Margins& agreed) {
    for (int d = 0; d < static_cast<int>(compiled_.domains.size()); ++d) {
      const auto choice = std::ranges::find(fixed_, d, &Fixed::domain);
      const int chosen = choice == fixed_.end() ? -1 : choice->candidate;
      const auto& own = as_chosen.by_candidate[at(d)];
      // In a decided slot: with all other choices, if they can be completed as they stand.
      const bool others_stand =
          chosen >= 0 && std::ranges::any_of(own, [](const Margins::Margin& margin) {
            return margin.status != Status::kClosed;
          });
      lay_slot(d, chosen, others_stand ? own : agreed.by_candidate[at(d)]);
    }
  }

  void lay_slot(int d, int chosen, const std::vector<Margins::Margin>& margins) {
    const Domain& domain = compiled_.domains[at(d)];
    SlotChoices slot{.slot = domain.slot->id, .required = domain.required, .chosen = chosen >= 0,
                     .parts = {}};
    for (std::size_t i = 0; i < domain.parts.size(); ++i) {
      const trade::Part* part = domain.parts[i];
      const bool gone = part != nullptr && part->gone;
      if (gone && chosen != static_cast<int>(i)) continue;
      slot.parts.push_back({.part = part != nullptr ? part->id : trade::PartId(),
                            .status = margins[i].status, .gone = gone, .best = margins[i].best});
    }
    result_.slots.push_back(std::move(slot));
  }

  const Compiled& compiled_;
  const std::vector<Fixed> fixed_;
  const ChoicesSettings& settings_;
  Budget budget_;
  Choices result_;
};

}  // namespace

std::string_view word_of(Status status) {
  switch (status) {
    case Status::kOpen: return "open";
    case Status::kOpenWithAdapter: return "open with adapter";
    case Status::kOpenWithCare: return "open with care";
    case Status::kNotKnown: return "not known";
    case Status::kClosed: return "closed";
    case Status::kNotProven: return "not proven";
  }
  broken_promise("every status has a word", __FILE__, __LINE__);
}

Result<Choices> choices(const Problem& problem, const Selection& selection,
                        const ChoicesSettings& settings) {
  const Compiled& compiled = problem.compiled();
  Result<std::vector<Fixed>> fixed = fixed_by(compiled, selection);
  if (!fixed) return std::unexpected(fixed.error());
  if (compiled.known != nullptr) {
    return Answering(compiled, std::move(*fixed), settings).run();
  }
  Budget budget{.left = settings.most_steps};
  return choices_by_search(compiled, std::move(*fixed), budget);
}

}  // namespace rollwright::spec

#include "spec/harvest.hpp"

#include "base/index.hpp"

namespace rollwright::spec {

namespace {

/// One call of harvest: what is still asked for, and what is settled.
class Harvest {
 public:
  Harvest(const Compiled& compiled, const HarvestInput& input, Budget& budget)
      : compiled_(compiled), input_(input), budget_(budget), wanted_(compiled.words, 0) {
    for (const Domain& domain : compiled.domains) {
      statuses_.emplace_back(at(domain.groups()), Status::kClosed);
    }
    for (const int target : input.targets) {
      const Domain& domain = compiled.domains[at(target)];
      for (int group = 0; group < domain.groups(); ++group) insert(wanted_, domain, group);
    }
  }

  std::vector<std::vector<Status>> run() {
    for (int level = input_.first_level; level < kLevels; ++level) gather(level);
    return std::move(statuses_);
  }

 private:
  void gather(int level) {
    Search search(compiled_, static_cast<trade::Verdict>(level), budget_);
    search.also_offer(input_.also_offered);
    std::optional<Bits> root = search.start(input_.fixed);
    for (const int target : input_.targets) {
      const Domain& domain = compiled_.domains[at(target)];
      for (int group = 0; root && group < domain.groups(); ++group) {
        if (!has(wanted_, domain, group) || !has(*root, domain, group)) continue;
        ask(search, *root, target, group);
        if (last_ == Answer::kNo && !search.take_away(*root, target, group)) root.reset();
      }
    }
  }

  void ask(Search& search, const Bits& root, int target, int group) {
    Bits probe = root;
    last_ = search.decide(probe, target, group) ? search.complete(probe, wanted_, solution_)
                                                : Answer::kNo;
    if (last_ == Answer::kGaveUp) settle(target, group, Status::kNotProven);
    if (last_ != Answer::kYes) return;
    for (const int domain : input_.targets) {
      settle(domain, solution_[at(domain)], static_cast<Status>(search.level()));
    }
  }

  void settle(int target, int group, Status status) {
    const Domain& domain = compiled_.domains[at(target)];
    if (!has(wanted_, domain, group)) return;
    erase(wanted_, domain, group);
    statuses_[at(target)][at(group)] = status;
  }

  const Compiled& compiled_;
  const HarvestInput& input_;
  Budget& budget_;
  Bits wanted_;
  std::vector<std::vector<Status>> statuses_;
  std::vector<int> solution_;
  Answer last_ = Answer::kNo;
};

}  // namespace

Status best_completion(const Compiled& compiled, std::span<const Fixed> fixed,
                       std::span<const Fixed> offered, Budget& budget) {
  const Bits nothing(compiled.words, 0);
  std::vector<int> solution;
  for (int level = 0; level < kLevels; ++level) {
    Search search(compiled, static_cast<trade::Verdict>(level), budget);
    search.also_offer(offered);
    const std::optional<Bits> root = search.start(fixed);
    if (!root) continue;
    const Answer answer = search.complete(*root, nothing, solution);
    if (answer == Answer::kGaveUp) return Status::kNotProven;
    if (answer == Answer::kYes) return static_cast<Status>(level);
  }
  return Status::kClosed;
}

std::vector<std::vector<Status>> harvest(const Compiled& compiled, const HarvestInput& input,
                                         Budget& budget) {
  return Harvest(compiled, input, budget).run();
}

}  // namespace rollwright::spec

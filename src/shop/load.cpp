#include <algorithm>
#include <bit>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "plan/load.hpp"
#include "shop/proposal.hpp"
#include "shop/shop.hpp"
#include "trade/skills.hpp"

namespace rollwright::shop {
namespace {

/// Above this a week has no room for anything that goes wrong (our own choice).
constexpr double kFull = 0.9;

/// Puts the engine's numbers into the shop's names.
class LoadWords {
 public:
  LoadWords(const State& state, const plan::PlanInput& input) : input_(input) {
    for (const plan::Person& person : input.people) {
      names_.push_back(state.name_of(trade::PersonId(person.id)));
    }
  }

  WeekLoadView week(const plan::WeekLoad& load, bool running) const {
    WeekLoadView view{.first = load.first,
                      .last = load.last,
                      .planned = fullest(load.planned_fullest),
                      .promised = fullest(load.due_fullest)};
    for (const plan::SkillLoad& row : load.skills) {
      SkillLoadView skill{.skill = plan::skill_words(input_, row.any_of),
                          .name = skill_name(row.any_of),
                          .people = people(row.people),
                          .planned = row.planned};
      for (std::size_t i = 0; i < load.there.size(); ++i) {
        if ((row.people >> i & 1) != 0) skill.there += load.there[i];
      }
      view.skills.push_back(std::move(skill));
    }
    for (std::size_t i = 0; i < load.there.size(); ++i) {
      view.people.push_back({.id = input_.people[i].id,
                             .name = names_[i],
                             .planned = load.planned[i],
                             .there = load.there[i]});
    }
    for (const plan::Order& order : input_.orders) {
      if (!order.due || *order.due > load.last) continue;
      if (*order.due >= load.first || running) view.due.push_back(order.id);
    }
    return view;
  }

 private:
  std::string skill_name(plan::SkillSet any_of) const {
    if (input_.skills.size() > 1 && std::popcount(any_of) == static_cast<int>(input_.skills.size())) {
      return "lending a hand";
    }
    std::vector<std::string> words;
    for (std::size_t i = 0; i < input_.skills.size(); ++i) {
      if ((any_of >> i & 1) != 0) words.push_back(trade::skill_words(input_.skills[i]));
    }
    return join(words, " or ");
  }

  /// Names; one word when all of several are meant.
  std::vector<std::string> people(std::uint64_t bits) const {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < names_.size(); ++i) {
      if ((bits >> i & 1) != 0) names.push_back(names_[i]);
    }
    if (names.size() > 1 && names.size() == names_.size()) return {"everybody"};
    return names;
  }

  FullestView fullest(const plan::Fullest& group) const {
    FullestView view{.people = people(group.people), .work = group.work, .hours = group.hours};
    for (const plan::SkillSet any_of : group.any_of) view.skills.push_back(skill_name(any_of));
    if (std::isfinite(group.share())) view.in_100 = static_cast<int>(std::ceil(100 * group.share()));
    return view;
  }

  const plan::PlanInput& input_;
  std::vector<std::string> names_;  // parallel to the input's people
};

std::string group_words(const FullestView& group) {
  return group.people.empty()
             ? fmt::format("{:.1f} hours of {}, for which nobody is there", group.work,
                           listed(group.skills))
             : fmt::format("{:.1f} hours of {}, for which {} {} {:.1f}", group.work,
                           listed(group.skills), listed(group.people),
                           group.people.size() == 1 ? "has" : "have", group.hours);
}

std::string sentence_for(const std::vector<plan::WeekLoad>& loads,
                         const std::vector<WeekLoadView>& weeks) {
  for (std::size_t i = 0; i < loads.size(); ++i) {
    if (loads[i].due_fullest.share() <= 1) continue;
    return fmt::format("By {} is promised: {}. In whatever sequence, a promise breaks.",
                       in_words(weeks[i].last), group_words(weeks[i].promised));
  }
  const auto fullest = std::ranges::max_element(
      loads, {}, [](const plan::WeekLoad& week) { return week.planned_fullest.share(); });
  if (fullest == loads.end() || fullest->planned_fullest.share() <= 0) {
    return "No work is planned for these weeks.";
  }
  const WeekLoadView& week = weeks[static_cast<std::size_t>(fullest - loads.begin())];
  const std::string what = fmt::format("{} to {}: {}", in_short(week.first), in_short(week.last),
                                       group_words(week.planned));
  return fullest->planned_fullest.share() >= kFull
             ? fmt::format("There is no air in {}.", what)
             : fmt::format("What is promised fits into the hours. Fullest is {}.", what);
}

}  // namespace

Result<LoadView> Shop::load(int weeks) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const auto agreed = agreed_input(trade_, **current, *time);
  if (!agreed) return std::unexpected(agreed.error());
  const auto plan = mended_plan(*agreed, **current);
  if (!plan) return std::unexpected(plan.error());
  const auto loads = plan::load_by_week(agreed->input, *plan, weeks);
  if (!loads) return std::unexpected(loads.error());
  const LoadWords words(**current, agreed->input);
  LoadView view;
  for (const plan::WeekLoad& load : *loads) view.weeks.push_back(words.week(load, view.weeks.empty()));
  view.sentence = sentence_for(*loads, view.weeks);
  return view;
}

}  // namespace rollwright::shop

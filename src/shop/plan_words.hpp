#pragma once

#include <string>
#include <vector>

#include "shop/agreed_input.hpp"
#include "shop/plan_views.hpp"
#include "plan/plan_changes.hpp"

/// A plan in the shop's words: names instead of numbers, days as a person says them.
namespace rollwright::shop {

/// "Mara Lind"
[[nodiscard]] std::string person_words(const State& state, const plan::PlanInput& input,
                                       int person);
/// Their names, of bits by index.
[[nodiscard]] std::vector<std::string> people_words(const State& state,
                                                    const plan::PlanInput& input,
                                                    std::uint64_t people);
/// "Thu 3 Dec at 10:30"
[[nodiscard]] std::string moment_words(const plan::PlanInput& input, int minute);
/// "Thu 3 Dec"
[[nodiscard]] std::string weekday_words(Day day);
/// "A-20 of order 2031"
[[nodiscard]] std::string task_words(const AgreedInput& agreed, int task);

/// Why work is elsewhere, the event first: "Senad Okoro is not there then".
[[nodiscard]] std::vector<std::string> because_words(const AgreedInput& agreed, const State& state,
                                                     const std::vector<plan::Cause>& because);

/// What a plan changed beside the agreed one. Where a cause is work that stands where it did and yet
/// ends later, the absence that draws it out is added.
[[nodiscard]] plan::PlanChanges changes_of(const AgreedInput& agreed, const State& state,
                                           const plan::ShopPlan& plan);

/// What takes more people at once than the shop has; empty usually.
[[nodiscard]] std::string short_of_hands_words(const WorkshopInput& workshop);

/// What happened since the plan was agreed; what concerns most operations first.
[[nodiscard]] std::vector<OutOfDate> out_of_date(const AgreedInput& agreed, const State& state);

}  // namespace rollwright::shop

#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "plan/calendar.hpp"
#include "plan/learned_minutes.hpp"
#include "plan/workshop.hpp"
#include "trade/operation.hpp"
#include "trade/person.hpp"

/// Pieces of the planner's workshop that need no book: people, operations, what nobody can foresee.
namespace rollwright::shop {

/// Common practice (four eyes): who audits or releases a bike did neither its steering nor its
/// brakes. Operations of the trade's process data.
inline constexpr std::array<std::string_view, 4> kFourEyes = {"A-20", "A-61", "N-40", "N-60"};
/// Operations for which every part that may not follow is in hand: the kit is put together, the
/// maker's bike taken in; and those for which the others are, too.
inline constexpr std::array<std::string_view, 2> kKitAsked = {"G-30", "N-10"};
inline constexpr std::array<std::string_view, 2> kAllAsked = {"T-10", "N-80"};

/// The handover itself is an appointment with the rider and no part of the queue.
[[nodiscard]] bool is_planned(const trade::Operation& operation);

/// The operation as a task of the bench; whose, after what and with which parts is left to set.
///
/// Minutes: the middle of the range learned; the simulation draws a lognormal with it as its 10 to
///          90 %.
[[nodiscard]] plan::Task task_for(const trade::Operation& operation,
                                  const plan::LearnedMinutes& minutes);

/// When a person is at work: their week less the days away and the shop's own closed days.
/// Errors: those of plan::working_windows.
[[nodiscard]] Result<std::vector<plan::Window>> windows_of(const trade::Person& person,
                                                           const std::vector<Day>& closed,
                                                           const plan::Horizon& horizon);

/// Days of leave that somebody takes in a year, weekends included: four weeks, the least that the
/// law grants in the EU (Directive 2003/88/EC, article 7).
inline constexpr int kLeaveDays = 28;

/// A person over the horizon: week, days away, holidays of the shop. Leave not told yet is what is
/// missing to kLeaveDays in a year among the days that are too far ahead to have been told
/// (plan::Disturbance::leave_from).
/// Errors: those of plan::working_windows.
[[nodiscard]] Result<plan::Person> person_for(const trade::Person& person,
                                              const std::vector<Day>& closed,
                                              const plan::Horizon& horizon);

/// Who falls ill is out for a week in the mean; walk-ins take half to one and a half times their
/// usual share of a day.
[[nodiscard]] plan::Disturbance disturbance_for(const trade::ShopSettings& settings);

}  // namespace rollwright::shop

#pragma once

#include "plan/workshop.hpp"
#include "shop/agreed_input.hpp"
#include "shop/plan_views.hpp"

namespace rollwright::shop {

/// An operation to be put to a person, a stand and a time.
struct Move {
  int task = 0;
  plan::Assignment where;  // with those who lend a hand
  int stand = 0;  // 0: any
};

/// Errors: kNotFound for an order, an operation of it or a person that the workshop does not have;
///         kRefused when the operation is done.
[[nodiscard]] Result<int> task_named(const AgreedInput& agreed, const std::string& order,
                                     const std::string& operation);

/// What the person asks for, if it can be at all, whatever else would have to move for it.
/// Errors: those of task_named; kBadInput for a start that is no time; kOutOfRange for a start that
///         is past or beyond the horizon, and for a stand that the area does not have; kRefused when
///         the operation is frozen, when the person lacks the skill, is not at work, has frozen or
///         pinned work then or did what a second person must check, when the work may not be left
///         over the pause it would run into, when it takes several people and not so many are free
///         of frozen and pinned work then, when parts come later, and when the stand or the bike is
///         taken by work that does not move. One sentence each, with names and times.
[[nodiscard]] Result<Move> move_by_hand(const AgreedInput& agreed, const State& state,
                                        const ProposalWish& wish);

}  // namespace rollwright::shop

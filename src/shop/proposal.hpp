#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "plan/improve_plan.hpp"
#include "shop/agreed_input.hpp"
#include "shop/move_by_hand.hpp"
#include "shop/plan_views.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::shop {

/// A plan that could be agreed instead of the one that is: the answer to "plan anew", to a move by
/// hand and to letting a pin go. A value: nothing in it changes once it is made.
struct Proposal {
  std::string id;
  ProposalWish wish;
  std::shared_ptr<const State> state;  // of the book when it was made
  AgreedInput agreed;           // without the pin of the operation that is moved or let go
  plan::PlanInput input;        // what was searched on: with the move pinned
  std::optional<Move> move;
  std::optional<int> let_go;    // task whose pin is let go
  plan::ShopPlan before;        // the agreed plan, mended where it cannot stay
  plan::ImprovedPlan found;
  double seconds = 0;    // spent searching, in all
  int searches = 0;      // each with random numbers of its own
};

/// What a search may take, and whom it tells. With placements alone the answer is the same wherever
/// and whenever it is searched for.
struct SearchBudget {
  std::int64_t placements = 1'000'000'000'000;  // tasks put down in all
  double seconds = 1e9;
  std::function<bool(const plan::PlanProgress&, double seconds)> watch;  // false ends it
};

/// Enough for a good plan, and few enough for an answer at once (docs/decisions/0014): plans anew
/// are searched for longer than moves by hand.
inline constexpr std::int64_t kReplanPlacements = 200'000;
inline constexpr std::int64_t kMovePlacements = 60'000;

/// Asks the wish of the plan as it stands. A move is answered with what must move for it: an
/// operation moved weighs four times as much as when planning anew, so that little else does.
/// Errors: those of agreed_input, of move_by_hand and of plan::pinned_by_hand; kRefused when the
/// operation to be let go was not put anywhere by hand.
[[nodiscard]] Result<Proposal> propose(const trade::Trade& trade,
                                       std::shared_ptr<const State> state, const LocalTime& now,
                                       const ProposalWish& wish, const SearchBudget& budget);

/// The same proposal after a longer search; it is never worse.
[[nodiscard]] Result<Proposal> improved(const Proposal& proposal, const SearchBudget& budget);

/// The agreed plan; what of it cannot stay goes where there is room. Without an agreed plan how work
/// would be planned now. Errors: those of the engine.
[[nodiscard]] Result<plan::ShopPlan> mended_plan(const AgreedInput& agreed, const State& state);

/// What it changes and what that costs, in words and numbers. Odds are drawn for promises that it
/// touches when something was put somewhere by hand or let go.
[[nodiscard]] ProposalView view_of(const Proposal& proposal);

/// The agreed plan, or when there is none the one that would be made now. Errors: as agreed_input.
[[nodiscard]] Result<PlanView> view_of_plan(const trade::Trade& trade, const State& state,
                                            const LocalTime& now);

/// What the book is to hold once the proposal is agreed by `who` at `at`.
[[nodiscard]] trade::ShopFiles to_agree(const Proposal& proposal, const std::string& who,
                                        Instant at);

/// Whether all of the proposal can still be done as things stand now.
/// Errors: kConflict naming what came in between.
[[nodiscard]] Result<void> still_holds(const Proposal& proposal, const trade::Trade& trade,
                                       const State& state, const LocalTime& now);

}  // namespace rollwright::shop

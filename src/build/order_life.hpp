#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "build/life_facts.hpp"

/// The life of an order: which state may follow which, who moves it, and what each move needs.
///
/// Source:   the states and moves of the trade's notes, common practice in shops that build to
///           order; docs/formats.md lists them. STOP lines, the second person and readings outside
///           their limits cannot be waved through by anybody.
namespace rollwright::build {

/// How a statement is written: "yes", one line of words, a day as in 2026-11-25, an amount as in
/// 512.00, ids of operations with spaces between, or a budget as trade::parse_budget reads it. A
/// budget is not asked for where the order has one.
enum class SaidAs { kYes, kWords, kDay, kAmount, kOperations, kBudget };
[[nodiscard]] std::string_view word_of(SaidAs kind);

/// Something that only a person can say, and says with the move.
struct Statement {
  std::string_view key;  // "terms_shown"
  SaidAs as = SaidAs::kYes;
  std::string_view ask;      // "The terms for changes and cancelling were shown"
  std::string_view missing;  // "nobody said that the terms ... were shown"
  bool only_electric = false;
  std::string_view photos_of = {};  // photographs about this show it: "boxes"
};
[[nodiscard]] std::span<const Statement> statements();

/// A move that the table has from this state on this road, and what stands in its way.
struct NextMove {
  trade::OrderState to = trade::OrderState::kDraft;
  bool is_back = false;                   // to work again on named operations
  std::vector<Hat> moved_by;              // any one of these
  std::vector<std::string> missing;       // each a piece of a sentence; without what is to be said
  std::vector<const Statement*> to_say;   // all that go with the move
  std::vector<const Statement*> may_say;  // not needed in itself
  std::vector<std::string> not_said;      // what of these is missing or not as it should be
  [[nodiscard]] bool allowed() const { return missing.empty() && not_said.empty(); }
};

/// Every move that the table has from this state on this road, in the order of the states.
[[nodiscard]] std::vector<NextMove> next_moves(const LifeFacts& facts);

/// Those of them that may be made now.
[[nodiscard]] std::vector<trade::OrderState> allowed_moves(const LifeFacts& facts);

/// Errors: kRefused with one sentence that says everything that is missing; kBadInput for a
/// statement that is not asked for with this move, or is not written as it should be.
[[nodiscard]] Result<void> judge_move(const LifeFacts& facts, trade::OrderState to);

/// What agreeing in one go at the counter needs (Draft or Offer to Agreed in the customer's
/// presence): a whole specification that fits, no STOP that is not known, the rider's mass. Empty
/// when nothing is missing.
[[nodiscard]] std::vector<std::string> missing_at_the_counter(const LifeFacts& facts);

/// What signing the specification needs: an offer that is not over, whole and fitting, and something
/// that is not signed yet.
[[nodiscard]] std::vector<std::string> missing_to_sign(const LifeFacts& facts);

}  // namespace rollwright::build

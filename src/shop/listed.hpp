#pragma once

#include "book/book.hpp"
#include "shop/catalogue_views.hpp"
#include "shop/state.hpp"
#include "trade/take_in.hpp"

/// A supplier's list between the trade's judgement and what is shown and written.
namespace rollwright::shop {

struct JudgedList {
  const trade::Supplier* supplier = nullptr;  // points into the state
  trade::SupplierSheet sheet;
  trade::ColumnMapping mapping;
  Day day = {};
  Problems problems;  // of the whole list: then there are no outcomes
  std::vector<trade::RowOutcome> outcomes;
};

/// Reads and judges a list. Errors: a supplier that the book does not have, a text that cannot be
/// read at all, a day to come.
[[nodiscard]] Result<JudgedList> judge_list(const trade::Trade& trade, const State& state,
                                            const GivenList& given, Day today);

[[nodiscard]] PreviewView preview_of(const trade::Trade& trade, const JudgedList& judged);

/// Why nothing is written, in a sentence; empty when all may be.
[[nodiscard]] std::string why_not_taken(const PreviewView& preview, const HowToTakeIn& how);

struct Taker {
  std::string who;
  Day today = {};
};
/// One change of the book with everything that the good rows bring, the mapping and the list's own
/// record; its `at` is left to the caller.
[[nodiscard]] book::Change change_of(const State& state, const JudgedList& judged,
                                     const Taker& taker);

[[nodiscard]] TakenListView taken_list_view(const State& state, const trade::TakenList& list);
[[nodiscard]] CatalogueView catalogue_view(const trade::Trade& trade, const State& state);

inline constexpr std::string_view kTakeInList = "take in list";
inline constexpr std::string_view kTakeBackList = "take back list";
/// Names one list in the journal: every entry of a change carries it.
[[nodiscard]] std::string reason_of(const trade::TakenList& list);

}  // namespace rollwright::shop

#pragma once

#include <string>
#include <vector>

#include "build/as_built.hpp"
#include "shop/life_facts.hpp"
#include "trade/read_maker_list.hpp"

/// A bike that a maker builds: what was signed, what the maker says, and what was said to that.
namespace rollwright::shop {

/// The supplier that the whole bike comes from: of the order's line for the frame, else the first
/// who offers it. Empty when nobody does.
[[nodiscard]] trade::SupplierId maker_of(const LifeAt& at);

/// What was signed as lines of an order form, in the order of the trade's slots; then how the bike
/// is set up. Articles are the maker's, where the catalogue has them; the notes name STOP rules.
[[nodiscard]] std::vector<trade::MakerLine> ordered_lines(const LifeAt& at);

[[nodiscard]] trade::MakerListTerms list_terms(const LifeAt& at);

/// The newest, or null.
[[nodiscard]] const trade::MakerForm* newest_form(const State& state, const trade::OrderId& order);
[[nodiscard]] const trade::MakerList* newest_list(const State& state, const trade::OrderId& order,
                                                  trade::MakerListKind kind);
/// As built, else confirmed, else null: what counts.
[[nodiscard]] const trade::MakerList* list_that_counts(const State& state,
                                                       const trade::OrderId& order);
/// Oldest first.
[[nodiscard]] std::vector<const trade::DifferenceAnswer*> answers_of(const State& state,
                                                                     const trade::OrderId& order);

/// Open: nobody answered, or it was accepted and the bike is not chosen so any more.
enum class RowStanding { kSame, kOpen, kAccepted, kDenied };
[[nodiscard]] std::string_view word_of(RowStanding standing);  // "same", "open", "accepted" ...

/// A line of what was signed with its line of the list that counts.
struct MakerRow {
  std::string key;  // its position; "front_tyre.2" for the second of one position
  build::ComparedLine compared;
  RowStanding standing = RowStanding::kSame;
  const trade::DifferenceAnswer* answer = nullptr;
};
[[nodiscard]] std::vector<MakerRow> maker_rows(const LifeAt& at, const trade::MakerList& list);

/// What accepting a row does: it chooses another part or none, which the customer signs as a new
/// version, or it is written down only.
[[nodiscard]] bool changes_choice(const LifeAt& at, const MakerRow& row);

/// "saddle: Fjell 2 instead of Fjell 1 (other part)"
[[nodiscard]] std::string row_in_words(const LifeAt& at, const build::ComparedLine& row);
/// "2 x Fjell 1, F 2 (size: S 46)"; "none".
[[nodiscard]] std::string line_in_words(const LifeAt& at,
                                        const std::optional<trade::MakerLine>& line);
[[nodiscard]] std::string position_name(const trade::Trade& trade, const std::string& position);

/// Puts form, lists, differences and numbers into the facts that decide moves.
void add_maker(const LifeAt& at, const build::BenchState& bench, build::LifeFacts& facts);

/// Subjects of the journal under which forms, lists and answers of an order stand: they belong to
/// the record of its bike.
[[nodiscard]] std::vector<std::string> maker_subjects(const State& state,
                                                      const trade::OrderId& order);

/// A difference that was accepted as a change of the parts, chosen and not signed yet.
struct AcceptedChange {
  trade::SlotId slot;
  Money price_change;  // to the customer
  std::string why;
};
[[nodiscard]] std::vector<AcceptedChange> accepted_not_signed(const LifeAt& at);

}  // namespace rollwright::shop

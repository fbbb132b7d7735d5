#pragma once

#include <functional>
#include <set>
#include <string>
#include <vector>

#include "build/life_facts.hpp"

/// What the trade's notes on the life of an order say, typed by hand as words, and facts with one
/// thing wrong.
namespace rollwright::build::testing {

/// One move as the notes have it.
struct OpinionRow {
  std::string from;
  std::string to;
  std::string bikes;             // "any", "shop-built", "maker-built", "fetched", "by freight"
  std::set<std::string> who;     // any one of them
  std::set<std::string> stopped_by;  // names of `spoilers`
  std::set<std::string> says;    // keys; those of e-bikes alone end in "*"
};
[[nodiscard]] const std::vector<OpinionRow>& opinion();

/// The row for a move of this bike, or null: there is no such move.
[[nodiscard]] const OpinionRow* opinion_on(const LifeFacts& facts, const std::string& to);

/// Facts with which every move that the bike's road has may be made, by somebody of every hat; `row`
/// says what is said with it, none when there is no such move.
[[nodiscard]] LifeFacts facts_in_order(const LifeFacts& bike, const OpinionRow* row);

/// One thing made wrong.
struct Spoiler {
  std::string name;
  std::function<void(LifeFacts&)> spoil;
};
[[nodiscard]] const std::vector<Spoiler>& spoilers();

[[nodiscard]] std::string hat_name(Hat hat);

}  // namespace rollwright::build::testing

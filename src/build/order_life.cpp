#include "build/order_life.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/life_table.hpp"

namespace rollwright::build {
namespace {

constexpr std::string_view kHeld = "Held";

/// "the owner", "goods-in or the lead".
std::string any_of(const std::vector<Hat>& hats) {
  std::vector<std::string> words;
  for (const Hat hat : hats) words.emplace_back(word_of(hat));
  return join(words, " or ");
}

std::string who_is_missing(const LifeMove& move, const LifeFacts& facts) {
  const bool may = std::ranges::any_of(
      move.moved_by, [&facts](Hat hat) { return facts.hats.contains(hat); });
  if (may) return "";
  return fmt::format("{} is asked to move it{}", any_of(move.moved_by),
                     facts.by.empty() ? "" : fmt::format(", and {} is not that", facts.by));
}

std::vector<std::string> flags_in_the_way(const LifeMove& move, const LifeFacts& facts) {
  std::vector<std::string> words;
  if (move.to == trade::OrderState::kCancelled) return words;
  if (facts.flags.contains(std::string(kHeld))) {
    words.push_back("it is Held" +
                    (facts.held_because.empty() ? "" : " (" + facts.held_because + ")"));
  }
  if (move.is_back) return words;
  for (const LifeFlag& flag : life_flags()) {
    if (!facts.flags.contains(std::string(flag.word))) continue;
    if (std::ranges::count(flag.stops, move.to) > 0) words.emplace_back(flag.because);
  }
  return words;
}

const Statement& statement_called(std::string_view key) {
  const auto found = std::ranges::find(statements(), key, &Statement::key);
  if (found == statements().end()) broken_promise("every key has its statement", __FILE__, __LINE__);
  return *found;
}

bool is_asked(const Statement& statement, const LifeFacts& facts) {
  if (statement.as == SaidAs::kBudget && facts.budget_written) return false;
  return !statement.only_electric || facts.electric;
}

bool is_said_right(const Statement& statement, const std::string& text) {
  switch (statement.as) {
    case SaidAs::kYes: return text == "yes";
    case SaidAs::kDay: return parse_day(text).has_value();
    case SaidAs::kAmount: return parse_money(text).has_value();
    case SaidAs::kBudget: return trade::parse_budget(text).has_value();
    case SaidAs::kWords:
    case SaidAs::kOperations: return !trim(text).empty();
  }
  return false;
}

NextMove judged(const LifeMove& row, const LifeFacts& facts) {
  NextMove move{.to = row.to, .is_back = row.is_back, .moved_by = row.moved_by};
  if (std::string who = who_is_missing(row, facts); !who.empty()) move.missing.push_back(who);
  for (std::string& flag : flags_in_the_way(row, facts)) move.missing.push_back(std::move(flag));
  for (const LifeNeed need : row.needs) {
    std::string missing = missing_for(need, facts);
    if (!missing.empty()) move.missing.push_back(std::move(missing));
  }
  for (const std::string_view key : row.says) {
    const Statement& statement = statement_called(key);
    if (!is_asked(statement, facts)) continue;
    move.to_say.push_back(&statement);
    const auto said = facts.said.find(std::string(key));
    if (said == facts.said.end() || !is_said_right(statement, said->second)) {
      move.not_said.emplace_back(statement.missing);
    }
  }
  for (const std::string_view key : row.may_say) move.may_say.push_back(&statement_called(key));
  return move;
}

std::string where_it_goes(const LifeFacts& facts) {
  std::vector<std::string> words;
  for (const NextMove& move : next_moves(facts)) words.emplace_back(trade::word_of(move.to));
  return words.empty() ? "it stays so"
                       : fmt::format("from there it goes to {}", join(words, " or "));
}

/// Statements that this move does not ask for, or that are not written as they should be.
Result<void> said_as_asked(const NextMove& move, const LifeFacts& facts) {
  std::vector<std::string> keys;
  for (const Statement* statement : move.to_say) keys.emplace_back(statement->key);
  for (const Statement* statement : move.may_say) keys.emplace_back(statement->key);
  for (const auto& [key, text] : facts.said) {
    if (key == "budget" && facts.budget_written) {
      return refuse(Code::kBadInput, "the order has its budget already: change it there",
                    {.field = "said." + key, .value = text});
    }
    if (std::ranges::count(keys, key) == 0) {
      return refuse(Code::kBadInput,
                    keys.empty() ? "nothing has to be said with this move"
                                 : "this is not asked for with this move; what is: " + listed(keys),
                    {.field = "said." + key, .value = text});
    }
    const Statement& statement = statement_called(key);
    if (!is_said_right(statement, text)) {
      return refuse(Code::kBadInput,
                    fmt::format("this is said as {}", word_of(statement.as)),
                    {.field = "said." + key, .value = text});
    }
  }
  return {};
}

}  // namespace

std::string_view word_of(Hat hat) {
  switch (hat) {
    case Hat::kOwner: return "the owner";
    case Hat::kAdviser: return "an adviser";
    case Hat::kBuyer: return "the parts desk";
    case Hat::kGoodsIn: return "goods-in";
    case Hat::kLead: return "the workshop lead";
    case Hat::kMechanic: return "a mechanic";
    case Hat::kSecondPerson: return "a second person of senior skill";
    case Hat::kPacker: return "whoever packs";
  }
  broken_promise("every hat has a word", __FILE__, __LINE__);
}

std::vector<NextMove> next_moves(const LifeFacts& facts) {
  std::vector<NextMove> moves;
  for (const LifeMove& row : life_moves()) {
    if (row.from == facts.state && is_on(row.road, facts)) moves.push_back(judged(row, facts));
  }
  return moves;
}

std::vector<trade::OrderState> allowed_moves(const LifeFacts& facts) {
  std::vector<trade::OrderState> allowed;
  for (const NextMove& move : next_moves(facts)) {
    if (move.allowed()) allowed.push_back(move.to);
  }
  return allowed;
}

Result<void> judge_move(const LifeFacts& facts, trade::OrderState to) {
  const std::vector<NextMove> moves = next_moves(facts);
  const auto move = std::ranges::find(moves, to, &NextMove::to);
  if (move == moves.end()) {
    return refuse(Code::kRefused,
                  fmt::format("an order that is {} does not go to {}: {}",
                              trade::word_of(facts.state), trade::word_of(to),
                              where_it_goes(facts)),
                  {.field = "to", .value = std::string(trade::word_of(to))});
  }
  if (Result<void> said = said_as_asked(*move, facts); !said) return said;
  if (move->allowed()) return {};
  std::vector<std::string> missing = move->missing;
  missing.insert(missing.end(), move->not_said.begin(), move->not_said.end());
  return refuse(Code::kRefused,
                fmt::format("it cannot go to {}: {}", trade::word_of(to), join(missing, "; ")),
                {.field = "to", .value = std::string(trade::word_of(to))});
}

std::vector<std::string> missing_at_the_counter(const LifeFacts& facts) {
  std::vector<std::string> missing;
  if (facts.state != trade::OrderState::kDraft && facts.state != trade::OrderState::kOffer) {
    missing.push_back(fmt::format("the order is {}, not Draft or Offer",
                                  trade::word_of(facts.state)));
  }
  const LifeMove agreeing{.from = facts.state, .to = trade::OrderState::kAgreed};
  for (std::string& flag : flags_in_the_way(agreeing, facts)) missing.push_back(std::move(flag));
  using enum LifeNeed;
  for (const LifeNeed need : {kSlots, kFits, kStopsKnown, kMass}) {
    std::string piece = missing_for(need, facts);
    if (!piece.empty()) missing.push_back(std::move(piece));
  }
  return missing;
}

std::vector<std::string> missing_to_sign(const LifeFacts& facts) {
  std::vector<std::string> missing;
  using enum trade::OrderState;
  if (facts.state == kEnquiry || facts.state == kDraft || trade::is_over(facts.state)) {
    missing.push_back(fmt::format("the order is {}: what is signed is an offer, or an agreed order "
                                  "that is not over",
                                  trade::word_of(facts.state)));
  }
  for (const LifeNeed need : {LifeNeed::kSlots, LifeNeed::kFits}) {
    std::string piece = missing_for(need, facts);
    if (!piece.empty()) missing.push_back(std::move(piece));
  }
  if (facts.signed_version > 0 && facts.changed_since_signed.empty()) {
    missing.push_back(fmt::format("version {} is signed, and nothing was changed since",
                                  facts.signed_version));
  }
  return missing;
}

}  // namespace rollwright::build

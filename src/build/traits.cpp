#include "build/traits.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "trade/pseudo.hpp"

namespace rollwright::build {
namespace {

enum class Answer { kNo, kNotKnown, kYes };

Answer negated(Answer answer) {
  if (answer == Answer::kNotKnown) return answer;
  return answer == Answer::kYes ? Answer::kNo : Answer::kYes;
}

Answer yes_if(bool holds) { return holds ? Answer::kYes : Answer::kNo; }

bool still_to_fill(const BikeFacts& bike, const trade::SlotId& slot) {
  return bike.build != nullptr && std::ranges::count(bike.build->required, slot) > 0;
}

std::vector<std::string> words_of(const trade::Value& value) {
  if (const auto* flag = std::get_if<bool>(&value)) return {*flag ? "yes" : "no"};
  if (const auto* number = std::get_if<double>(&value)) return {plain(*number)};
  if (const auto* word = std::get_if<std::string>(&value)) return {*word};
  return std::get<std::vector<std::string>>(value);
}

bool among(const trade::Value& value, const std::vector<std::string>& words) {
  return std::ranges::any_of(words_of(value), [&words](const std::string& word) {
    return std::ranges::count(words, word) > 0;
  });
}

Answer asked(const BikeFacts& bike, const trade::TraitCondition& condition) {
  const trade::Operand& operand = condition.operand;
  const trade::Part* part = part_at(bike, operand.slot);
  if (operand.attribute == "*filled") {
    if (part != nullptr) return Answer::kYes;
    return still_to_fill(bike, operand.slot) ? Answer::kNotKnown : Answer::kNo;
  }
  if (part == nullptr) return still_to_fill(bike, operand.slot) ? Answer::kNotKnown : Answer::kNo;
  const trade::Fact* fact = trade::fact_of(*part, operand.attribute);
  if (fact == nullptr) return Answer::kNotKnown;
  if (!condition.at_least) return yes_if(among(fact->value, condition.words));
  const auto* number = std::get_if<double>(&fact->value);
  return yes_if(number != nullptr && *number >= *condition.at_least);
}

Answer answer_of(const trade::Trade& trade, const BikeFacts& bike,
                 const trade::TraitCondition& condition) {
  const trade::Part* part = part_at(bike, condition.operand.slot);
  // A kind that never states the attribute ("placement" of a hub without a motor) answers no.
  const std::string& attribute = condition.operand.attribute;
  const bool askable =
      part == nullptr || attribute == "*filled" || can_state(trade, *part, attribute);
  const Answer plain_answer = askable ? asked(bike, condition) : Answer::kNo;
  return condition.negated ? negated(plain_answer) : plain_answer;
}

/// The least of all conditions; `open` collects what a clause that is not known rests on.
Answer answer_of(const trade::Trade& trade, const BikeFacts& bike,
                 const std::vector<trade::TraitCondition>& clause, std::vector<std::string>& open) {
  Answer whole = Answer::kYes;
  std::vector<std::string> facts;
  for (const trade::TraitCondition& condition : clause) {
    const Answer answer = answer_of(trade, bike, condition);
    whole = std::min(whole, answer);
    if (answer == Answer::kNotKnown) {
      facts.push_back(not_known_sentence(trade, bike, condition.operand));
    }
  }
  if (whole == Answer::kNotKnown) open.insert(open.end(), facts.begin(), facts.end());
  return whole;
}

void judge(const trade::Trade& trade, const BikeFacts& bike, const trade::Trait& trait,
           BikeTraits& traits) {
  Answer whole = Answer::kNo;
  std::vector<std::string> open;
  for (const std::vector<trade::TraitCondition>& clause : trait.any_of) {
    whole = std::max(whole, answer_of(trade, bike, clause, open));
  }
  if (whole == Answer::kYes) traits.holding.insert(trait.id);
  if (whole == Answer::kNotKnown) traits.not_known[trait.id] = open;
}

}  // namespace

BikeTraits traits_of(const trade::Trade& trade, const BikeFacts& bike) {
  BikeTraits traits;
  for (const auto& [id, trait] : trade.traits) judge(trade, bike, trait, traits);
  if (bike.build == nullptr) return traits;
  for (const std::string& trait : bike.build->traits) {
    traits.holding.insert(trait);
    traits.not_known.erase(trait);
  }
  return traits;
}

bool applies(const trade::AppliesWhen& when, const std::set<std::string>& traits) {
  const auto holds = [&traits](const std::string& trait) { return traits.contains(trait); };
  return std::ranges::all_of(when.all, holds) && std::ranges::none_of(when.none, holds) &&
         (when.any.empty() || std::ranges::any_of(when.any, holds));
}

}  // namespace rollwright::build

#include <algorithm>
#include <set>
#include <span>
#include <tuple>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bike.hpp"
#include "shop/counted.hpp"
#include "shop/questions.hpp"
#include "shop/shop.hpp"
#include "spec/check.hpp"
#include "trade/pseudo.hpp"

// Facts that nobody knows, ranked by what they hold up.
namespace rollwright::shop {
namespace {

using trade::Severity;

/// "upper seat of the headset": what an operand asks for.
std::string asked_by(const trade::Trade& trade, const trade::Operand& operand) {
  const auto attribute = trade.attributes.find(operand.attribute);
  const std::string name =
      attribute == trade.attributes.end() ? operand.attribute : attribute->second.name;
  if (operand.slot.text == "*") return name + " of every part";
  const trade::Slot* slot = trade::find_slot(trade, operand.slot);
  return fmt::format("{} of the {}", name, slot == nullptr ? operand.slot.text : slot->name);
}

/// The facts that a rule looks at, in words; "*filled" asks for none.
std::string facts_of_rule(const trade::Rule& rule, const trade::Trade& trade) {
  std::vector<std::string> pieces;
  const auto add = [&](const trade::Operand& operand) {
    if (operand.is_literal() || operand.attribute == "*filled") return;
    std::string piece = asked_by(trade, operand);
    if (std::ranges::count(pieces, piece) == 0) pieces.push_back(std::move(piece));
  };
  for (const trade::Condition& condition : rule.conditions) add(condition.operand);
  for (const auto* operands : {&rule.left, &rule.terms, &rule.right}) {
    for (const trade::Operand& operand : *operands) add(operand);
  }
  return listed(pieces);
}

/// Rules and questions by the name that findings give them.
std::map<std::string, std::string> what_rules_ask(const trade::Trade& trade) {
  std::map<std::string, std::string> asks;
  for (const trade::Rule& rule : trade.rules) asks[rule.name()] = facts_of_rule(rule, trade);
  for (const trade::Question& question : trade.questions) {
    asks[question.id] = facts_of_rule(trade::as_rule(question), trade);
  }
  return asks;
}

/// Collects what findings miss, fact by fact.
class Gaps {
 public:
  Gaps(const trade::Trade& trade, const State& state)
      : trade_(trade), state_(state), asks_(what_rules_ask(trade)) {}

  /// What keeps the order itself from being judged.
  void add(const trade::Order& order, const spec::Finding& finding) {
    std::set<Key> seen;  // a part that fills two slots is missed once by one rule
    for (const spec::MissingFact& fact : finding.missing_facts) {
      Gap* gap = asked(order, finding, fact, seen);
      if (gap == nullptr) continue;
      note(gap->view.orders, order);
      ++gap->view.findings;
    }
  }

  /// What keeps a part from being offered for it.
  void add_offer(const trade::Order& order, const trade::Part& part,
                 const spec::Finding& finding) {
    std::set<Key> seen;
    for (const spec::MissingFact& fact : finding.missing_facts) {
      if (fact.part != part.id && !trade::is_pseudo(fact.slot)) continue;
      if (Gap* gap = asked(order, finding, fact, seen)) note(gap->view.offers, order);
    }
  }

  /// Ranked: orders held, findings left open, orders that could be offered the part, severity, then
  /// by name so that the order stays.
  std::vector<NotKnownFact> ranked() && {
    std::vector<std::pair<Severity, NotKnownFact>> facts;
    for (auto& [key, gap] : gaps_) {
      gap.view.severity = trade::word_of(gap.worst);
      facts.emplace_back(gap.worst, std::move(gap.view));
    }
    std::ranges::stable_sort(facts, [](const auto& a, const auto& b) {
      const auto rank = [](const auto& fact) {
        return std::tuple(-static_cast<long>(fact.second.orders.size()), -fact.second.findings,
                          -static_cast<long>(fact.second.offers.size()), fact.first);
      };
      return rank(a) < rank(b);
    });
    std::vector<NotKnownFact> views;
    for (auto& [severity, view] : facts) views.push_back(std::move(view));
    return views;
  }

 private:
  using Key = std::tuple<std::string, std::string, std::string>;
  struct Gap {
    NotKnownFact view;
    Severity worst = Severity::kClaim;
    std::set<std::string> rules;
  };

  static void note(std::vector<std::string>& orders, const trade::Order& order) {
    if (std::ranges::count(orders, order.id.text) == 0) orders.push_back(order.id.text);
  }

  /// The gap that the fact is, now with this rule among those that ask for it; null when the fact
  /// has been seen.
  Gap* asked(const trade::Order& order, const spec::Finding& finding,
             const spec::MissingFact& fact, std::set<Key>& seen) {
    const bool pseudo = trade::is_pseudo(fact.slot);
    const Key key{pseudo ? fact.slot.text + " " + order.id.text : "", fact.part.text,
                  fact.attribute};
    if (!seen.insert(key).second) return nullptr;
    Gap& gap = gaps_[key];
    if (gap.view.attribute.empty()) gap.view = described(order, fact);
    gap.worst = std::min(gap.worst, finding.severity);
    if (gap.rules.insert(finding.rule).second) {
      const auto asks = asks_.find(finding.rule);
      gap.view.rules.push_back({finding.rule, std::string(trade::word_of(finding.severity)),
                                asks == asks_.end() ? "" : asks->second});
    }
    return &gap;
  }

  [[nodiscard]] NotKnownFact described(const trade::Order& order,
                                       const spec::MissingFact& fact) const {
    NotKnownFact view{.part = fact.part.text, .attribute = fact.attribute, .name = fact.attribute};
    const auto attribute = trade_.attributes.find(fact.attribute);
    if (attribute != trade_.attributes.end()) {
      view.name = attribute->second.name;
      view.help = attribute->second.help;
      view.unit = attribute->second.unit;
      view.type = trade::word_of(attribute->second.type);
      view.words = attribute->second.choices;
    }
    if (fact.part.empty()) {
      view.of = (fact.slot.text == "rider" ? "rider of order " : "order ") + order.id.text;
      view.who = "The desk asks the rider";
      return view;
    }
    const trade::Part* part = state_.part(fact.part);
    view.of = part == nullptr ? fact.part.text : part->name;
    view.who = is_in_the_shop(fact.part) ? "The bench measures it: the part is here"
                                         : "The desk asks the maker or the supplier: it is not here";
    return view;
  }

  [[nodiscard]] bool is_in_the_shop(const trade::PartId& part) const {
    const auto stock = state_.stock.find(part);
    return stock != state_.stock.end() && stock->second->on_shelf > 0;
  }

  const trade::Trade& trade_;
  const State& state_;
  std::map<std::string, std::string> asks_;
  std::map<Key, Gap> gaps_;
};

std::string sentence_of(const std::vector<NotKnownFact>& facts) {
  std::set<std::string> held;
  std::set<std::string> offered;
  for (const NotKnownFact& fact : facts) {
    held.insert(fact.orders.begin(), fact.orders.end());
    offered.insert(fact.offers.begin(), fact.offers.end());
  }
  if (facts.empty()) return "No open order waits for a fact.";
  std::string sentence = counted(facts.size(), "fact is not known", "facts are not known");
  sentence += held.empty() ? "; no open order waits for them"
                           : fmt::format("; {}", counted(held.size(), "open order waits",
                                                         "open orders wait"));
  if (!offered.empty()) {
    sentence += fmt::format("; {} could be offered more parts",
                            counted(offered.size(), "order that is still being specified",
                                    "orders that are still being specified"));
  }
  return sentence + ".";
}

/// Whether the order's parts are still being chosen.
bool is_being_specified(trade::OrderState state) {
  using enum trade::OrderState;
  return state == kEnquiry || state == kDraft || state == kOffer;
}

/// Where the part in the slot, the order and the rider state all that these rules ask of them,
/// nothing is left to be found out.
bool states_all(const spec::Bike& bike, const trade::SlotId& slot,
                std::span<const trade::Rule* const> rules) {
  const auto is_stated = [&](const trade::Operand& operand) {
    if (operand.is_literal() || operand.attribute == "*filled") return true;
    const bool here = operand.slot == slot || operand.slot.text == "*";
    if (!here && !trade::is_pseudo(operand.slot)) return true;
    return bike.part_in(here ? slot : operand.slot)->facts.contains(operand.attribute);
  };
  return std::ranges::all_of(rules, [&](const trade::Rule* rule) {
    return std::ranges::all_of(rule->conditions, is_stated, &trade::Condition::operand) &&
           std::ranges::all_of(rule->left, is_stated) &&
           std::ranges::all_of(rule->terms, is_stated) &&
           std::ranges::all_of(rule->right, is_stated);
  });
}

/// Parts that the order could be offered if only more were known of them, or of the rider: no rule
/// refuses them beside what is chosen, and some rule cannot tell.
void add_offers(const trade::Trade& trade, const State& state, const trade::BuildTemplate& build,
                const trade::Order& order, Gaps& gaps) {
  const spec::Bike chosen = bike_of(state, order);
  for (const trade::Slot& slot : trade.slots) {
    const std::vector<trade::KindId> kinds = trade::kinds_for(trade, build, slot.id);
    const std::vector<const trade::Rule*> rules = rules_at(trade, slot.id);
    spec::Bike bike = chosen;
    for (const trade::Part& part : state.held.parts) {
      if (part.gone || std::ranges::find(kinds, part.kind) == kinds.end()) continue;
      bike.parts[slot.id] = &part;
      if (states_all(bike, slot.id, rules)) continue;
      const std::vector<spec::Finding> findings = spec::findings_of(trade, rules, bike);
      const bool refused = std::ranges::any_of(findings, [](const spec::Finding& finding) {
        return finding.verdict == trade::Verdict::kDoesNotFit;
      });
      if (refused) continue;
      for (const spec::Finding& finding : findings) gaps.add_offer(order, part, finding);
    }
  }
}

}  // namespace

Result<NotKnownView> Shop::not_known_facts() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  Gaps gaps(trade_, **current);
  for (const trade::Order& order : (*current)->held.orders) {
    if (trade::is_over(order.state)) continue;
    const auto build = build_of(trade_, order);
    if (!build) return std::unexpected(build.error());
    const spec::SpecCheck check = check_order(trade_, **build, bike_of(**current, order), order);
    for (const spec::Finding& finding : check.findings) gaps.add(order, finding);
    if (is_being_specified(order.state)) add_offers(trade_, **current, **build, order, gaps);
  }
  NotKnownView view{.sentence = "", .facts = std::move(gaps).ranked()};
  view.sentence = sentence_of(view.facts);
  return view;
}

}  // namespace rollwright::shop

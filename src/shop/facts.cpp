#include <algorithm>
#include <cctype>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bike.hpp"
#include "shop/order_input.hpp"
#include "shop/questions.hpp"
#include "shop/shop.hpp"
#include "trade/meant.hpp"
#include "trade/pseudo.hpp"

// Facts that nobody knows, ranked by what they hold up, and putting one into the catalogue.
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

  void add(const trade::Order& order, const spec::Finding& finding) {
    std::set<Key> seen;  // a part that fills two slots is missed once by one rule
    for (const spec::MissingFact& fact : finding.missing_facts) {
      const bool pseudo = trade::is_pseudo(fact.slot);
      const Key key{pseudo ? fact.slot.text + " " + order.id.text : "", fact.part.text,
                    fact.attribute};
      if (!seen.insert(key).second) continue;
      Gap& gap = gaps_[key];
      if (gap.view.attribute.empty()) gap.view = described(order, fact);
      if (std::ranges::count(gap.view.orders, order.id.text) == 0) {
        gap.view.orders.push_back(order.id.text);
      }
      ++gap.view.findings;
      gap.worst = std::min(gap.worst, finding.severity);
      if (gap.rules.insert(finding.rule).second) {
        const auto asks = asks_.find(finding.rule);
        gap.view.rules.push_back({finding.rule, std::string(trade::word_of(finding.severity)),
                                  asks == asks_.end() ? "" : asks->second});
      }
    }
  }

  /// Ranked: orders held, findings left open, severity, then by name so that the order stays.
  std::vector<NotKnownFact> ranked() && {
    std::vector<std::pair<Severity, NotKnownFact>> facts;
    for (auto& [key, gap] : gaps_) {
      gap.view.severity = trade::word_of(gap.worst);
      facts.emplace_back(gap.worst, std::move(gap.view));
    }
    std::ranges::stable_sort(facts, [](const auto& a, const auto& b) {
      const auto rank = [](const auto& fact) {
        return std::tuple(-static_cast<long>(fact.second.orders.size()), -fact.second.findings,
                          fact.first);
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
      view.who = "the desk asks the rider";
      return view;
    }
    const trade::Part* part = state_.part(fact.part);
    view.of = part == nullptr ? fact.part.text : part->name;
    view.who = is_in_the_shop(fact.part) ? "the bench measures it: the part is here"
                                         : "the desk asks the maker or the supplier: it is not here";
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

std::string counted(std::size_t n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string sentence_of(const std::vector<NotKnownFact>& facts) {
  std::set<std::string> orders;
  for (const NotKnownFact& fact : facts) orders.insert(fact.orders.begin(), fact.orders.end());
  if (facts.empty()) return "No open order waits for a fact.";
  return fmt::format("{} not known; {} for {}.",
                     counted(facts.size(), "fact is", "facts are"),
                     counted(orders.size(), "open order waits", "open orders wait"),
                     facts.size() == 1 ? "it" : "them");
}

/// The person of this id or name. Errors: kNotFound, kBadInput when nobody is named.
Result<std::string> person_called(const State& state, const std::string& by) {
  if (trim(by).empty()) {
    return refuse(Code::kBadInput, "say who measured it", {.field = "by"});
  }
  std::vector<std::string> known;
  for (const trade::Person& person : state.held.people) {
    if (person.id.text == by || lowered(person.name) == lowered(by)) return person.id.text;
    known.push_back(person.id.text);
  }
  return refuse(Code::kNotFound, "nobody of the shop is called so" + trade::meant(by, known),
                {.field = "by", .value = by});
}

constexpr std::size_t kLongestSource = 200;

/// Where a fact comes from: standing, person, source and day. Its value is still to be read.
Result<trade::Fact> origin_of(const State& state, Day today, const FactGiven& given) {
  trade::Fact fact{.source = std::string(trim(given.source)), .date = given.day.value_or(today)};
  if (Result<void> ok = one_line("source", given.source, kLongestSource); !ok) {
    return std::unexpected(ok.error());
  }
  if (given.standing == trade::word_of(trade::Standing::kMeasured)) {
    fact.standing = trade::Standing::kMeasured;
    Result<std::string> by = person_called(state, given.by);
    if (!by) return std::unexpected(by.error());
    fact.by = std::move(*by);
  } else if (given.standing == trade::word_of(trade::Standing::kKnown)) {
    fact.standing = trade::Standing::kKnown;
    if (fact.source.empty()) {
      return refuse(Code::kBadInput, "say in which document it stands", {.field = "source"});
    }
    if (!given.day) {
      return refuse(Code::kBadInput, "say of which day the document is", {.field = "day"});
    }
  } else {
    return refuse(Code::kBadInput, "a fact is measured or known", {.field = "standing",
                                                                   .value = given.standing});
  }
  if (fact.date > today) {
    return refuse(Code::kOutOfRange, "this day is still to come",
                  {.field = "day", .value = iso(fact.date)});
  }
  return fact;
}

/// "spoke_count: 36; it was not known": for the journal.
std::string told(const trade::Attribute& attribute, const trade::Fact* before,
                 const trade::Fact& now) {
  const std::string was =
      before == nullptr ? "not known"
                        : fmt::format("{} ({})", trade::shown(attribute, before->value),
                                      trade::word_of(before->standing));
  return fmt::format("{}: {}; it was {}", attribute.id, trade::shown(attribute, now.value), was);
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
  }
  NotKnownView view{.sentence = "", .facts = std::move(gaps).ranked()};
  view.sentence = sentence_of(view.facts);
  return view;
}

Result<PartView> Shop::measure_fact(const std::string& part_id, const std::string& attribute_id,
                                    const FactGiven& given, const std::string& who) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const trade::Part* held = (*current)->part(trade::PartId(part_id));
  if (held == nullptr) {
    return refuse(Code::kNotFound, fmt::format("there is no part {} in the catalogue", part_id),
                  {.field = "part", .value = part_id});
  }
  const auto kind = trade_.kinds.find(held->kind);
  if (kind == trade_.kinds.end()) {
    return refuse(Code::kDamaged,
                  fmt::format("part {} is of a kind that the trade data does not describe any more",
                              part_id),
                  {.field = "kind", .value = held->kind.text});
  }
  const auto attribute = trade::attribute_of(trade_, kind->second, attribute_id);
  if (!attribute) return std::unexpected(attribute.error());
  Result<trade::Fact> fact = origin_of(**current, time->day, given);
  if (!fact) return std::unexpected(fact.error());
  Result<trade::Value> value = trade::parse_value(**attribute, given.value);
  if (!value) {
    Error error = value.error();
    error.place.field = "value";
    return std::unexpected(std::move(error));
  }
  fact->value = std::move(*value);

  trade::Part part = *held;
  const std::string why = told(**attribute, trade::fact_of(part, attribute_id), *fact);
  part.facts[attribute_id] = std::move(*fact);
  const bool measured = part.facts[attribute_id].standing == trade::Standing::kMeasured;
  const Result<void> written =
      write({.who = who, .what = measured ? "measure" : "state a fact", .why = why,
             .parts = {std::move(part)}, .orders = {}, .about = {}, .read_at = (*current)->entry});
  if (!written) return std::unexpected(written.error());
  return this->part(part_id);
}

}  // namespace rollwright::shop

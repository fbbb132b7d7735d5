#include "shop/questions.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bike.hpp"
#include "shop/order_input.hpp"
#include "shop/shop.hpp"
#include "spec/evaluate.hpp"
#include "trade/meant.hpp"
#include "trade/skills.hpp"

namespace rollwright::shop {
namespace {

using enum trade::OrderState;
using trade::Answer;
using trade::Verdict;

constexpr std::size_t kLongestAnswerNote = 500;

/// The slots that the question looks at, with what is in them, in the order of the slots.
std::vector<spec::SlotPart> parts_seen(const trade::Trade& trade, const trade::Rule& rule,
                                       const spec::Bike& bike) {
  const std::vector<trade::SlotId> scope = trade::scope_of(rule);
  std::vector<spec::SlotPart> seen;
  for (const trade::Slot& slot : trade.slots) {
    if (std::ranges::find(scope, slot.id) == scope.end()) continue;
    const trade::Part* part = bike.part_in(slot.id);
    seen.push_back({slot.id, part == nullptr ? trade::PartId() : part->id});
  }
  return seen;
}

/// "Not answered yet, the lead mechanic is asked: Do all hoses ...?"
std::string sentence_while_open(const trade::Question& question, const trade::Answered* said,
                                const spec::Outcome& outcome) {
  std::string sentence = fmt::format("Not answered yet, the {} is asked: {}", question.owner,
                                     question.ask);
  if (said != nullptr && !said->note.empty()) {
    sentence += fmt::format(" ({} on {}: {})", said->who, in_words(said->day), said->note);
  }
  if (outcome.verdict != Verdict::kNotKnown) return sentence;
  std::vector<std::string> gaps;
  for (const spec::MissingFact& fact : outcome.missing_facts) gaps.push_back(fact.sentence);
  return sentence + fmt::format(" Whether it has to be asked is not known either: {}.",
                                listed(gaps));
}

AskedQuestion asked(const trade::Trade& trade, const trade::Question& question,
                    const spec::Bike& bike, const trade::Order& order) {
  const trade::Rule rule = trade::as_rule(question);
  const spec::Outcome outcome = spec::evaluate(trade, rule, bike);
  AskedQuestion asked;
  if (!outcome.applies) return asked;
  asked.question = &question;
  asked.said = trade::answer_to(question, order);
  asked.open = asked.said == nullptr || asked.said->answer == Answer::kNotYet;
  asked.finding = {.rule = question.id, .severity = question.severity,
                   .parts = parts_seen(trade, rule, bike), .source = question.source};
  if (asked.open) {
    asked.finding.verdict = Verdict::kNotKnown;
    asked.finding.sentence = sentence_while_open(question, asked.said, outcome);
    asked.finding.missing_facts = outcome.missing_facts;
  } else if (asked.said->answer == Answer::kNo) {
    // As for a rule that fails: a maker's reserve lets the bike be built, anything else does not.
    asked.finding.verdict = question.severity == trade::Severity::kClaim ? Verdict::kFitsWithCare
                                                                         : Verdict::kDoesNotFit;
    asked.finding.sentence = question.if_no;
    if (!asked.said->note.empty()) {
      asked.finding.sentence += fmt::format(" ({} on {}: {})", asked.said->who,
                                            in_words(asked.said->day), asked.said->note);
    }
  }
  return asked;
}

/// Whether the trade asks it of this order now, whatever was said.
const trade::Question* find_question(const trade::Trade& trade, const std::string& id) {
  const auto found = std::ranges::find(trade.questions, id, &trade::Question::id);
  return found == trade.questions.end() ? nullptr : &*found;
}

std::vector<std::string> people_for(const State& state, const std::string& owner) {
  std::vector<std::string> names;
  const auto row = std::ranges::find(trade::all_owners(), owner, &trade::Owner::name);
  if (row == trade::all_owners().end()) return names;
  for (const trade::Person& person : state.held.people) {
    const bool fits = std::ranges::count(person.roles, row->role) > 0 ||
                      std::ranges::count(person.skills, row->skill) > 0;
    if (fits) names.push_back(person.name);
  }
  return names;
}

/// "Mara Lind said yes on 20 November, about other parts." when there is such an answer.
std::string said_before(const State& state, const trade::Question& question,
                        const trade::Order& order) {
  const auto found = order.answers.find(question.id);
  if (found == order.answers.end() || found->second.answer == Answer::kNotYet) return "";
  if (trade::answer_to(question, order) != nullptr) return "";
  return fmt::format("{} said {} on {}, about other parts.",
                     state.name_of(trade::PersonId(found->second.who)),
                     trade::word_of(found->second.answer), in_words(found->second.day));
}

QuestionView view_of(const State& state, const trade::Order& order, const AskedQuestion& asked) {
  QuestionView view{.id = asked.question->id,
                    .sentence = asked.question->ask,
                    .severity = std::string(trade::word_of(asked.question->severity)),
                    .owner = asked.question->owner,
                    .people = people_for(state, asked.question->owner),
                    .open = asked.open,
                    .verdict = std::string(trade::word_of(asked.finding.verdict)),
                    .before = said_before(state, *asked.question, order),
                    .source = asked.question->source};
  for (const spec::SlotPart& part : asked.finding.parts) view.slots.push_back(part.slot.text);
  if (asked.said == nullptr) return view;
  view.answer = trade::word_of(asked.said->answer);
  view.who = state.name_of(trade::PersonId(asked.said->who));
  view.day = asked.said->day;
  view.note = asked.said->note;
  return view;
}

}  // namespace

std::vector<AskedQuestion> asked_of(const trade::Trade& trade, const spec::Bike& bike,
                                    const trade::Order& order) {
  std::vector<AskedQuestion> all;
  for (const trade::Question& question : trade.questions) {
    if (!trade::is_time_for(question, order.state)) continue;
    AskedQuestion one = asked(trade, question, bike, order);
    if (one.question != nullptr) all.push_back(std::move(one));
  }
  return all;
}

spec::SpecCheck check_order(const trade::Trade& trade, const trade::BuildTemplate& build,
                            const spec::Bike& bike, const trade::Order& order) {
  spec::SpecCheck check = spec::check(trade, build, bike);
  const std::vector<AskedQuestion> questions = asked_of(trade, bike, order);
  const int asked = static_cast<int>(questions.size());
  check.coverage.rules += static_cast<int>(trade.questions.size());
  check.coverage.not_applying += static_cast<int>(trade.questions.size()) - asked;
  for (const AskedQuestion& question : questions) {
    ++(question.open ? check.coverage.not_known : check.coverage.checked);
    check.verdict = std::max(check.verdict, question.finding.verdict);
    if (question.finding.verdict != Verdict::kFits) check.findings.push_back(question.finding);
  }
  std::ranges::stable_sort(check.findings, [](const spec::Finding& a, const spec::Finding& b) {
    return a.verdict != b.verdict ? a.verdict > b.verdict : a.severity < b.severity;
  });
  return check;
}

std::vector<QuestionView> question_views(const trade::Trade& trade, const State& state,
                                         const trade::Order& order) {
  std::vector<AskedQuestion> questions = asked_of(trade, bike_of(state, order), order);
  std::ranges::stable_sort(questions, [](const AskedQuestion& a, const AskedQuestion& b) {
    if (a.open != b.open) return a.open;
    return a.finding.severity < b.finding.severity;
  });
  std::vector<QuestionView> views;
  for (const AskedQuestion& one : questions) views.push_back(view_of(state, order, one));
  return views;
}

Result<std::vector<OrderQuestions>> Shop::questions(const std::string& id) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  std::vector<OrderQuestions> all;
  for (const trade::Order& order : (*current)->held.orders) {
    if (id.empty() ? trade::is_over(order.state) : order.id.text != id) continue;
    OrderQuestions one{.order = order.id.text, .rider = order.rider.name,
                       .state = std::string(trade::word_of(order.state)),
                       .questions = question_views(trade_, **current, order)};
    // Over the whole book only what waits for somebody is of interest.
    if (id.empty()) std::erase_if(one.questions, [](const QuestionView& q) { return !q.open; });
    if (!id.empty() || !one.questions.empty()) all.push_back(std::move(one));
  }
  if (!id.empty() && all.empty()) {
    return refuse(Code::kNotFound, fmt::format("there is no order {}", id),
                  {.field = "order", .value = id});
  }
  return all;
}

Result<OrderView> Shop::answer_question(const std::string& id, const AnswerGiven& given,
                                        const std::string& who) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  trade::Order order = *at->order;
  const trade::Question* question = find_question(trade_, given.question);
  if (question == nullptr) {
    std::vector<std::string> known;
    for (const trade::Question& each : trade_.questions) known.push_back(each.id);
    return refuse(Code::kNotFound,
                  "the trade has no such question" + trade::meant(given.question, known),
                  {.field = "question", .value = given.question});
  }
  const auto answer = trade::answer_named(given.answer);
  if (!answer) {
    return refuse(Code::kBadInput, "a question is answered with yes, no or not yet",
                  {.field = "answer", .value = given.answer});
  }
  if (Result<void> ok = one_line("note", given.note, kLongestAnswerNote); !ok) {
    return std::unexpected(ok.error());
  }
  if (trade::is_over(order.state)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is {}: nothing is asked of it any more", id,
                              trade::word_of(order.state)),
                  {.field = "state", .value = std::string(trade::word_of(order.state))});
  }
  const std::vector<AskedQuestion> now = asked_of(trade_, bike_of(*at->state, order), order);
  const bool is_asked = std::ranges::any_of(
      now, [question](const AskedQuestion& one) { return one.question == question; });
  if (!is_asked) {
    return refuse(Code::kRefused,
                  trade::is_time_for(*question, order.state)
                      ? fmt::format("question {} is not asked of this bike", question->id)
                      : fmt::format("question {} can only be answered once the bike stands; it is {}",
                                    question->id, trade::word_of(order.state)),
                  {.field = "question", .value = question->id});
  }
  order.revision = given.revision;
  order.answers[question->id] = {.answer = *answer, .who = who, .day = at->now.day,
                                 .note = std::string(trim(given.note)),
                                 .about = trade::about(*question, order)};
  return write_order(order, who, "answer", fmt::format("{}: {}", question->id, given.answer));
}

}  // namespace rollwright::shop

#include "shop/maker_at.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "book/record.hpp"
#include "shop/bike.hpp"
#include "shop/spec_change.hpp"
#include "shop/spec_versions.hpp"
#include "shop/supply_side.hpp"
#include "spec/evaluate.hpp"

namespace rollwright::shop {
namespace {

using build::ComparedLine;
using build::Differs;
using trade::MakerLine;
using trade::MakerListKind;

constexpr const char* kWholeBike = "frame";  // the slot whose part is the maker's bike
constexpr const char* kSize = "size";

/// STOP rules that look at just this slot and apply to the bike: "C-101, C-162".
std::string stop_rules(const LifeAt& at, const trade::SlotId& slot, const spec::Bike& bike) {
  std::vector<std::string> rules;
  for (const trade::Rule& rule : at.trade.rules) {
    if (rule.severity != trade::Severity::kStop) continue;
    const std::vector<trade::SlotId> scope = trade::scope_of(rule);
    if (std::ranges::count(scope, slot) == 0) continue;
    const bool is_new = std::ranges::count(rules, rule.id) == 0;
    if (is_new && spec::evaluate(at.trade, rule, bike).applies) rules.push_back(rule.id);
  }
  return join(rules, ", ");
}

std::string options_for(const State& state, const trade::PartId& id) {
  const trade::Part* part = state.part(id);
  const auto size = part == nullptr ? std::nullopt : trade::word_of(*part, kSize);
  return size ? fmt::format("{}: {}", kSize, *size) : "";
}

void add_setting(const char* position, const std::string& value, std::vector<MakerLine>& lines) {
  if (value.empty() || value == "none") return;
  lines.push_back({.position = position, .part = {}, .article = {}, .quantity = 1,
                   .options = value, .serial = {}, .note = {}});
}

/// Whether the parts are chosen as an accepted row has them.
bool is_chosen_so(const LifeAt& at, const MakerRow& row) {
  const auto chosen = at.order.choices.find(trade::SlotId(row.compared.position));
  const bool has = chosen != at.order.choices.end();
  if (row.compared.differs == Differs::kMissing) return !has;
  return has && row.compared.listed && chosen->second == row.compared.listed->part;
}

RowStanding standing_of(const LifeAt& at, const MakerRow& row) {
  if (row.compared.differs == Differs::kSame) return RowStanding::kSame;
  if (row.answer == nullptr) return RowStanding::kOpen;
  if (!row.answer->accepted) return RowStanding::kDenied;
  if (changes_choice(at, row) && !is_chosen_so(at, row)) return RowStanding::kOpen;
  return RowStanding::kAccepted;
}

/// Whether the signed specification leaves the position empty.
bool is_empty_as_signed(const LifeAt& at, const std::string& position) {
  const auto lines = lines_signed(at);
  return std::ranges::none_of(lines, [&position](const trade::SignedLine& line) {
    return line.slot.text == position;
  });
}

}  // namespace

std::string_view word_of(RowStanding standing) {
  switch (standing) {
    case RowStanding::kSame: return "same";
    case RowStanding::kOpen: return "open";
    case RowStanding::kAccepted: return "accepted";
    case RowStanding::kDenied: return "denied";
  }
  broken_promise("every standing has its word", __FILE__, __LINE__);
}

trade::SupplierId maker_of(const LifeAt& at) {
  for (const trade::SignedLine& line : lines_signed(at)) {
    if (line.slot.text != kWholeBike) continue;
    for (const trade::PurchaseLine& bought : at.state.held.purchases) {
      if (bought.order == at.order.id && bought.part == line.part) return bought.supplier;
    }
    for (const trade::Offer& offer : at.state.held.offers) {
      if (offer.part == line.part) return offer.supplier;
    }
  }
  return {};
}

std::vector<MakerLine> ordered_lines(const LifeAt& at) {
  const std::vector<trade::SignedLine> lines = lines_signed(at);
  const trade::SupplierId maker = maker_of(at);
  const spec::Bike bike = bike_of(at.state, at.order);
  std::vector<MakerLine> ordered;
  for (const trade::Slot& slot : at.trade.slots) {
    const auto line = std::ranges::find(lines, slot.id, &trade::SignedLine::slot);
    if (line == lines.end()) continue;
    const trade::Offer* offer = offer_of(at.state, maker, line->part);
    ordered.push_back({.position = slot.id.text, .part = line->part,
                       .article = offer == nullptr ? "" : offer->article,
                       .quantity = line->quantity, .options = options_for(at.state, line->part),
                       .serial = {}, .note = stop_rules(at, slot.id, bike)});
  }
  add_setting("front_brake_lever", at.order.need.front_brake_lever, ordered);
  add_setting("region", at.order.need.region, ordered);
  add_setting("assist_class", at.order.need.assist_class, ordered);
  return ordered;
}

trade::MakerListTerms list_terms(const LifeAt& at) {
  trade::MakerListTerms terms{.trade = at.trade, .build = at.build, .parts = at.state.parts,
                              .articles = {}};
  const trade::SupplierId maker = maker_of(at);
  for (const trade::Offer& offer : at.state.held.offers) {
    if (offer.supplier == maker && !offer.article.empty()) {
      terms.articles[offer.article] = offer.part;
    }
  }
  return terms;
}

const trade::MakerForm* newest_form(const State& state, const trade::OrderId& order) {
  const trade::MakerForm* newest = nullptr;
  for (const trade::MakerForm& form : state.held.rest.maker_forms) {
    if (form.order != order) continue;
    if (newest == nullptr || newest->number < form.number) newest = &form;
  }
  return newest;
}

const trade::MakerList* newest_list(const State& state, const trade::OrderId& order,
                                    MakerListKind kind) {
  const trade::MakerList* newest = nullptr;
  for (const trade::MakerList& list : state.held.rest.maker_lists) {
    if (list.order != order || list.kind != kind) continue;
    if (newest == nullptr || newest->number < list.number) newest = &list;
  }
  return newest;
}

const trade::MakerList* list_that_counts(const State& state, const trade::OrderId& order) {
  const trade::MakerList* built = newest_list(state, order, MakerListKind::kAsBuilt);
  return built != nullptr ? built : newest_list(state, order, MakerListKind::kConfirmed);
}

std::vector<const trade::DifferenceAnswer*> answers_of(const State& state,
                                                       const trade::OrderId& order) {
  std::vector<const trade::DifferenceAnswer*> answers;
  for (const trade::DifferenceAnswer& answer : state.held.rest.difference_answers) {
    if (answer.order == order) answers.push_back(&answer);
  }
  std::ranges::sort(answers, {}, &trade::DifferenceAnswer::number);
  return answers;
}

std::vector<MakerRow> maker_rows(const LifeAt& at, const trade::MakerList& list) {
  const auto answers = answers_of(at.state, at.order.id);
  std::vector<MakerRow> rows;
  std::map<std::string, int> of_position;
  for (ComparedLine& compared : build::compare(ordered_lines(at), list.lines)) {
    const int count = ++of_position[compared.position];
    MakerRow row{.key = count == 1 ? compared.position
                                   : fmt::format("{}.{}", compared.position, count),
                 .compared = std::move(compared)};
    if (row.compared.differs != Differs::kSame) {
      row.answer = build::answer_to(row.compared, answers);
    }
    row.standing = standing_of(at, row);
    rows.push_back(std::move(row));
  }
  return rows;
}

bool changes_choice(const LifeAt& at, const MakerRow& row) {
  const ComparedLine& line = row.compared;
  if (trade::is_setting(line.position) || line.position == trade::kOtherPosition) return false;
  switch (line.differs) {
    case Differs::kOtherPart:
    case Differs::kMissing: return true;
    case Differs::kExtra: return is_empty_as_signed(at, line.position);
    case Differs::kSame:
    case Differs::kOtherQuantity:
    case Differs::kOtherOption: return false;
  }
  broken_promise("every difference says whether it changes a choice", __FILE__, __LINE__);
}

std::string position_name(const trade::Trade& trade, const std::string& position) {
  if (position == "front_brake_lever") return "lever of the front brake";
  if (position == "assist_class") return "class of assist";
  if (position == trade::kOtherPosition) return "something else";
  const trade::Slot* slot = trade::find_slot(trade, trade::SlotId(position));
  return slot == nullptr ? position : slot->name;
}

std::string line_in_words(const LifeAt& at, const std::optional<MakerLine>& line) {
  if (!line) return "none";
  if (trade::is_setting(line->position)) return line->options;
  std::string words = line->part.empty() ? line->article + " (not in the catalogue)"
                                         : at.state.name_of(line->part);
  if (line->quantity != 1) words = fmt::format("{} x {}", line->quantity, words);
  if (!line->options.empty()) words += fmt::format(" ({})", line->options);
  return words;
}

std::string row_in_words(const LifeAt& at, const ComparedLine& row) {
  const std::string name = position_name(at.trade, row.position);
  const bool same_part = row.differs == Differs::kOtherOption ||
                         row.differs == Differs::kOtherQuantity;
  if (same_part) {
    return fmt::format("{}: {} ({})", name, join(row.details, "; "), word_of(row.differs));
  }
  if (!row.ordered) return fmt::format("{}: {} (extra)", name, line_in_words(at, row.listed));
  return fmt::format("{}: {} instead of {} ({})", name, line_in_words(at, row.listed),
                     line_in_words(at, row.ordered), word_of(row.differs));
}

void add_maker(const LifeAt& at, const build::BenchState& bench, build::LifeFacts& facts) {
  if (!at.build.maker_built) return;
  if (const trade::MakerForm* form = newest_form(at.state, at.order.id)) {
    facts.form_version = form->version;
  }
  const trade::MakerList* list = list_that_counts(at.state, at.order.id);
  if (list == nullptr) return;
  facts.has_maker_list = true;
  facts.has_as_built = list->kind == MakerListKind::kAsBuilt;
  for (const MakerRow& row : maker_rows(at, *list)) {
    const std::string words = row_in_words(at, row.compared);
    if (row.standing == RowStanding::kOpen) facts.differences_open.push_back(words);
    if (row.standing == RowStanding::kDenied) facts.differences_denied.push_back(words);
  }
  if (!facts.has_as_built) return;
  for (const build::OtherNumber& other : build::other_numbers(list->lines, bench)) {
    facts.numbers_otherwise.push_back(fmt::format("{}: {} was read here, and the list says {}",
                                                  position_name(at.trade, other.position),
                                                  other.read, other.stated));
  }
}

std::vector<std::string> maker_subjects(const State& state, const trade::OrderId& order) {
  std::vector<std::string> subjects;
  const auto add = [&](const auto& things) {
    for (const auto& thing : things) {
      if (thing.order == order) subjects.push_back(book::record_of(thing).subject);
    }
  };
  add(state.held.rest.maker_forms);
  add(state.held.rest.maker_lists);
  add(state.held.rest.difference_answers);
  return subjects;
}

std::vector<AcceptedChange> accepted_not_signed(const LifeAt& at) {
  const trade::MakerList* list =
      at.build.maker_built ? list_that_counts(at.state, at.order.id) : nullptr;
  std::vector<AcceptedChange> changes;
  if (list == nullptr) return changes;
  for (const MakerRow& row : maker_rows(at, *list)) {
    if (row.standing != RowStanding::kAccepted || !changes_choice(at, row)) continue;
    changes.push_back({.slot = trade::SlotId(row.compared.position),
                       .price_change = row.answer->price_change, .why = row.answer->why});
  }
  return changes;
}

}  // namespace rollwright::shop

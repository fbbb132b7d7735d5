#include "shop/maker_view.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/counted.hpp"
#include "shop/maker_accepting.hpp"
#include "shop/spec_versions.hpp"

namespace rollwright::shop {
namespace {

using trade::MakerListKind;

MakerLineView line_view(const LifeAt& at, const trade::MakerLine& line) {
  MakerLineView view{.position = line.position,
                     .position_name = position_name(at.trade, line.position),
                     .part = line.part.text, .name = {}, .article = line.article,
                     .quantity = line.quantity, .options = line.options, .serial = line.serial,
                     .stop_rules = {}};
  view.name = line.part.empty() ? line.article : at.state.name_of(line.part);
  const trade::Part* part = at.state.part(line.part);
  const auto kind = part == nullptr ? at.trade.kinds.end() : at.trade.kinds.find(part->kind);
  view.has_number = kind != at.trade.kinds.end() && kind->second.has_serial;
  return view;
}

std::vector<MakerListView> list_views(const LifeAt& at) {
  const trade::MakerList* counts = list_that_counts(at.state, at.order.id);
  std::vector<const trade::MakerList*> lists;
  for (const trade::MakerList& list : at.state.held.rest.maker_lists) {
    if (list.order == at.order.id) lists.push_back(&list);
  }
  std::ranges::sort(lists, [](const trade::MakerList* a, const trade::MakerList* b) {
    return std::tuple(b->kind, b->number) < std::tuple(a->kind, a->number);
  });
  std::vector<MakerListView> views;
  for (const trade::MakerList* list : lists) {
    MakerListView view{.kind = std::string(trade::word_of(list->kind)), .number = list->number,
                       .reference = list->reference, .file = list->file, .day = list->day,
                       .who = at.state.name_of(list->who), .counts = list == counts, .lines = {}};
    for (const trade::MakerLine& line : list->lines) view.lines.push_back(line_view(at, line));
    views.push_back(std::move(view));
  }
  return views;
}

/// The row of a list that stands for a line of the order, each once.
class RowsOfList {
 public:
  RowsOfList(const LifeAt& at, const trade::MakerList* list) : at_(at), is_there_(list != nullptr) {
    if (list != nullptr) rows_ = maker_rows(at, *list);
  }

  /// Fills words and difference of the line with this key of the order.
  void fill(const std::string& position, const std::string& ordered, std::string& words,
            std::string& is) {
    if (!is_there_) return;
    for (const MakerRow& row : rows_) {
      if (row.compared.position != position || !row.compared.ordered ||
          build::line_key(row.compared.ordered) != ordered || taken_.contains(row.key)) {
        continue;
      }
      taken_.insert(row.key);
      words = line_in_words(at_, row.compared.listed);
      is = std::string(build::word_of(row.compared.differs));
      return;
    }
  }
  [[nodiscard]] std::vector<const MakerRow*> extras() const {
    std::vector<const MakerRow*> extras;
    for (const MakerRow& row : rows_) {
      if (!row.compared.ordered) extras.push_back(&row);
    }
    return extras;
  }

 private:
  const LifeAt& at_;
  bool is_there_;
  std::vector<MakerRow> rows_;
  std::set<std::string> taken_;
};

void add_extras(const LifeAt& at, const RowsOfList& list, bool built,
                std::vector<MakerTableRow>& rows) {
  for (const MakerRow* extra : list.extras()) {
    MakerTableRow row{.position = extra->compared.position,
                      .position_name = position_name(at.trade, extra->compared.position),
                      .ordered = "none", .confirmed = {}, .confirmed_is = {}, .built = {},
                      .built_is = {}};
    const std::string words = line_in_words(at, extra->compared.listed);
    const std::string is(build::word_of(extra->compared.differs));
    (built ? row.built : row.confirmed) = words;
    (built ? row.built_is : row.confirmed_is) = is;
    rows.push_back(std::move(row));
  }
}

std::vector<MakerTableRow> table_rows(const LifeAt& at) {
  RowsOfList confirmed(at, newest_list(at.state, at.order.id, MakerListKind::kConfirmed));
  RowsOfList built(at, newest_list(at.state, at.order.id, MakerListKind::kAsBuilt));
  std::vector<MakerTableRow> rows;
  for (const trade::MakerLine& line : ordered_lines(at)) {
    MakerTableRow row{.position = line.position,
                      .position_name = position_name(at.trade, line.position),
                      .ordered = line_in_words(at, line), .confirmed = {}, .confirmed_is = {},
                      .built = {}, .built_is = {}};
    const std::string key = build::line_key(line);
    confirmed.fill(line.position, key, row.confirmed, row.confirmed_is);
    built.fill(line.position, key, row.built, row.built_is);
    rows.push_back(std::move(row));
  }
  add_extras(at, confirmed, false, rows);
  add_extras(at, built, true, rows);
  return rows;
}

std::string answered_in_words(const LifeAt& at, const MakerRow& row) {
  if (row.answer == nullptr) return "";
  const trade::DifferenceAnswer& answer = *row.answer;
  std::string words = fmt::format("{} by {} on {}: {}", answer.accepted ? "accepted" : "denied",
                                  at.state.name_of(answer.who), in_words(answer.day, true),
                                  answer.why);
  if (!answer.signed_by.empty()) words += fmt::format(" ({} agreed)", answer.signed_by);
  if (row.standing == RowStanding::kOpen) words += "; the part is not chosen so any more";
  return words;
}

DifferenceView difference_view(const LifeAt& at, const MakerRow& row) {
  DifferenceView view{.key = row.key, .position = row.compared.position,
                      .position_name = position_name(at.trade, row.compared.position),
                      .what = std::string(build::word_of(row.compared.differs)),
                      .sentence = row_in_words(at, row.compared),
                      .standing = std::string(word_of(row.standing)),
                      .ordered = line_in_words(at, row.compared.ordered),
                      .listed = line_in_words(at, row.compared.listed),
                      .details = row.compared.details, .stops = {}, .warns = {},
                      .mass_change_kg = {}, .list_price_change_cents = {},
                      .is_new_version = changes_choice(at, row),
                      .answered = answered_in_words(at, row)};
  if (row.standing == RowStanding::kAccepted) return view;
  Accepting would = accepting(at, {&row});
  view.stops = std::move(would.stops);
  view.warns = std::move(would.warns);
  if (would.mass_change) view.mass_change_kg = would.mass_change->in(kg);
  if (would.is_new_version) view.list_price_change_cents = would.price_change.cents;
  return view;
}

std::vector<DifferenceAnswerView> answer_views(const LifeAt& at) {
  std::vector<DifferenceAnswerView> views;
  for (const trade::DifferenceAnswer* each : answers_of(at.state, at.order.id)) {
    views.push_back({.number = each->number,
                     .position_name = position_name(at.trade, each->position),
                     .ordered = each->ordered, .listed = each->listed,
                     .answer = each->accepted ? "accepted" : "denied", .why = each->why,
                     .signed_by = each->signed_by,
                     .price_change_cents = each->price_change.cents,
                     .who = at.state.name_of(each->who), .day = each->day,
                     .list = fmt::format("{} {}", trade::word_of(each->kind), each->list)});
  }
  std::ranges::reverse(views);
  return views;
}

/// How things stand with the form, as long as there is no list of the maker.
std::string form_in_words(const LifeAt& at, const MakerView& view) {
  const bool can_go = view.form_missing.empty();
  if (view.form.number == 0) {
    return can_go ? "The order form can go to the maker."
                  : fmt::format("No order form yet: {}.", join(view.form_missing, "; "));
  }
  if (view.form_is_current) {
    return "The form is with the maker; what comes next is a list of the maker.";
  }
  const trade::MakerForm* sent = newest_form(at.state, at.order.id);
  return fmt::format("The form that the maker has is of version {}, and version {} was signed: {}.",
                     sent->version, view.signed_version,
                     can_go ? "a new form goes to the maker" : join(view.form_missing, "; "));
}

/// What has to be done about the lines of the list that counts.
std::string next_in_words(const LifeAt& at, const MakerView& view, const trade::MakerList& list,
                          std::size_t open, std::size_t denied) {
  if (open > 0) {
    return fmt::format("What comes next: {}.", counted(open, "open line is answered",
                                                       "open lines are answered"));
  }
  if (!signed_state(at.trade, at.state, at.order).changed.empty()) {
    return "What comes next: the customer signs the specification with what was accepted.";
  }
  if (denied > 0) {
    return "What comes next: the maker puts right what was denied, and a new list says so.";
  }
  if (list.kind == MakerListKind::kConfirmed) {
    return "What comes next: the list of the bike as it was built.";
  }
  return view.form.number == 0 ? "No order form is written down as sent." : "Nothing is open.";
}

std::string sentence_of(const LifeAt& at, const MakerView& view) {
  const trade::MakerList* list = list_that_counts(at.state, at.order.id);
  if (list == nullptr) return form_in_words(at, view);
  const auto count = [&view](std::string_view standing) {
    return static_cast<std::size_t>(
        std::ranges::count(view.differences, standing, &DifferenceView::standing));
  };
  const std::size_t open = count("open");
  const std::size_t denied = count("denied");
  const std::string stands =
      view.differences.empty()
          ? fmt::format("Every line of the list, {}, is as it was signed.", list_name(*list))
          : fmt::format("{} in the list, {}: {} open, {} accepted, {} denied.",
                        counted(view.differences.size(), "line differs", "lines differ"),
                        list_name(*list), open, count("accepted"), denied);
  return stands + " " + next_in_words(at, view, *list, open, denied);
}

}  // namespace

std::string list_name(const trade::MakerList& list) {
  return fmt::format("{} {}", trade::word_of(list.kind), list.number);
}

std::vector<std::string> form_missing(const LifeAt& at) {
  std::vector<std::string> missing;
  using enum trade::OrderState;
  if (at.order.state != kAgreed && at.order.state != kAtMaker) {
    missing.push_back(fmt::format("the order is {}: a form is sent while it is Agreed or At maker",
                                  trade::word_of(at.order.state)));
  }
  const SignedState is_signed = signed_state(at.trade, at.state, at.order);
  if (is_signed.version == 0) missing.emplace_back("the customer has not signed the specification");
  if (!is_signed.changed.empty()) {
    missing.push_back(fmt::format("the specification is not the one that was signed as version {} "
                                  "({})",
                                  is_signed.version, join(is_signed.changed, "; ")));
  }
  if (maker_of(at).empty()) missing.emplace_back("no supplier offers the maker's bike");
  return missing;
}

trade::MakerForm form_to_send(const LifeAt& at) {
  const trade::MakerForm* last = newest_form(at.state, at.order.id);
  return {.order = at.order.id, .number = last == nullptr ? 1 : last->number + 1,
          .version = signed_state(at.trade, at.state, at.order).version, .maker = maker_of(at),
          .wanted = {}, .sent = at.today, .how = {}, .who = {}, .lines = ordered_lines(at)};
}

MakerFormView form_view(const LifeAt& at, const trade::MakerForm& form) {
  const auto supplier = at.state.suppliers.find(form.maker);
  MakerFormView view{.number = form.number, .version = form.version,
                     .maker = supplier == at.state.suppliers.end() ? form.maker.text
                                                                   : supplier->second->name,
                     .wanted = form.wanted, .sent = form.sent, .how = form.how,
                     .who = at.state.name_of(form.who), .lines = {}};
  for (const trade::MakerLine& line : form.lines) {
    view.lines.push_back(line_view(at, line));
    view.lines.back().stop_rules = line.note;
  }
  return view;
}

MakerView maker_view(const LifeAt& at, std::vector<std::string> papers) {
  MakerView view{.order = at.order.id.text, .state = std::string(trade::word_of(at.order.state)),
                 .sentence = {},
                 .signed_version = signed_state(at.trade, at.state, at.order).version,
                 .form_missing = form_missing(at), .form = {}, .papers = std::move(papers),
                 .lists = list_views(at), .rows = table_rows(at), .differences = {},
                 .answers = answer_views(at), .revision = at.order.revision};
  if (const trade::MakerForm* sent = newest_form(at.state, at.order.id)) {
    view.form = form_view(at, *sent);
    view.form_is_current = sent->version == view.signed_version;
  } else {
    view.form = form_view(at, form_to_send(at));
    view.form.number = 0;
    view.form.wanted.reset();
    view.form.sent.reset();
  }
  if (const trade::MakerList* list = list_that_counts(at.state, at.order.id)) {
    for (const MakerRow& row : maker_rows(at, *list)) {
      if (row.standing == RowStanding::kSame) continue;
      view.differences.push_back(difference_view(at, row));
    }
  }
  view.sentence = sentence_of(at, view);
  return view;
}

}  // namespace rollwright::shop

#include "shop/maker_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/shortened.hpp"
#include "base/text.hpp"
#include "build/order_flags.hpp"
#include "build/traits.hpp"
#include "shop/bike.hpp"
#include "shop/maker_accepting.hpp"
#include "shop/maker_view.hpp"
#include "shop/order_input.hpp"
#include "shop/shop.hpp"
#include "shop/spec_versions.hpp"

namespace rollwright::shop {
namespace {

using build::Hat;
using trade::MakerListKind;
using enum trade::OrderState;

constexpr std::size_t kLongestText = 200;
constexpr std::size_t kLongestWhy = 400;

const std::set<Hat> kSendsForms = {Hat::kBuyer, Hat::kOwner};
const std::set<Hat> kTakesIn = {Hat::kGoodsIn, Hat::kBuyer, Hat::kOwner};
const std::set<Hat> kAnswers = {Hat::kAdviser, Hat::kOwner};

/// The states in which such a list can come.
const std::set<trade::OrderState>& states_for(MakerListKind kind) {
  static const std::set<trade::OrderState> kBefore = {kAgreed, kAtMaker};
  static const std::set<trade::OrderState> kAfter = {kAtMaker, kUnderWay, kArrived, kFinishing,
                                                     kChecking};
  return kind == MakerListKind::kConfirmed ? kBefore : kAfter;
}

std::string state_words(const std::set<trade::OrderState>& states) {
  std::vector<std::string> words;
  for (const trade::OrderState state : states) words.emplace_back(trade::word_of(state));
  return join(words, ", ");
}

Result<MakerListKind> kind_given(const std::string& word) {
  const auto kind = trade::maker_list_kind_named(word);
  if (kind) return *kind;
  return refuse(Code::kBadInput, "a maker's list is \"confirmed\" or \"as built\"",
                {.field = "kind", .value = word});
}

/// Every problem of a list in one refusal, the place of the first.
std::unexpected<Error> all_problems(const Problems& problems) {
  std::vector<std::string> lines;
  for (const Error& problem : problems) lines.push_back(problem.full());
  Error error = problems.front();
  if (problems.size() > 1) {
    error.sentence += fmt::format("; {} more: {}", problems.size() - 1,
                                  join({lines.begin() + 1, lines.end()}, " | "));
  }
  return std::unexpected(error);
}

std::vector<trade::MakerLine> typed_lines(const MakerListGiven& given) {
  std::vector<trade::MakerLine> lines;
  for (const MakerListGiven::Line& line : given.lines) {
    lines.push_back({.position = line.position, .part = trade::PartId(line.part),
                     .article = line.article, .quantity = line.quantity,
                     .options = line.options, .serial = line.serial, .note = line.note});
  }
  return lines;
}

Result<trade::ReadMakerList> lines_given(const LifeAt& at, const MakerListGiven& given) {
  if (!given.csv.empty() && !given.lines.empty()) {
    return refuse(Code::kContradiction, "give a file or typed lines, not both",
                  {.field = "lines"});
  }
  const trade::MakerListTerms terms = list_terms(at);
  const std::string file = given.file.empty() ? "list" : given.file;
  trade::ReadMakerList read = given.csv.empty()
                                  ? trade::judge_maker_lines(terms, typed_lines(given))
                                  : trade::read_maker_list(terms, given.csv, file);
  if (!read.problems.empty()) return all_problems(read.problems);
  return read;
}

/// Two who wrote at once got one number.
Result<void> as_conflict(Result<void> written, const char* what) {
  if (written || written.error().code != Code::kConflict) return written;
  return refuse(Code::kConflict,
                fmt::format("{} was written by somebody else in the meantime, or the order was "
                            "changed; look at it again",
                            what));
}

}  // namespace

Result<MakerDesk::Looked> MakerDesk::looked(const std::string& order) {
  const auto found = shop_.order_at(order);
  if (!found) return std::unexpected(found.error());
  if (!found->build->maker_built) {
    return refuse(Code::kRefused, fmt::format("order {} is built here, not by a maker", order),
                  {.field = "order", .value = order});
  }
  return Looked{.state = found->state, .build = found->build, .order = *found->order,
                .today = found->now.day};
}

LifeAt MakerDesk::at(const Looked& looked) const {
  return {.trade = shop_.trade_, .state = *looked.state, .build = *looked.build,
          .order = looked.order, .today = looked.today};
}

std::vector<std::string> MakerDesk::papers(const Looked& looked) const {
  const build::BikeTraits traits = build::traits_of(
      shop_.trade_, facts_of(*looked.state, *looked.build, looked.order));
  std::vector<std::string> papers;
  for (const trade::MakerPaper& paper : shop_.maker_papers_) {
    if (paper.trait.empty() || traits.holding.contains(paper.trait)) papers.push_back(paper.paper);
  }
  return papers;
}

MakerView MakerDesk::view(const Looked& looked) const {
  return maker_view(at(looked), papers(looked));
}

Result<const trade::Person*> MakerDesk::allowed(const Looked& looked, const std::string& who,
                                                const std::set<Hat>& hats) const {
  if (trim(who).empty()) {
    return refuse(Code::kBadInput, "say who of the shop does this", {.field = "who"});
  }
  const auto person = person_called(*looked.state, who, "who");
  if (!person) return person;
  const std::set<Hat> has = hats_of(**person, true);
  const bool may = std::ranges::any_of(hats, [&has](Hat hat) { return has.contains(hat); });
  if (may) return person;
  std::vector<std::string> words;
  for (const Hat hat : hats) words.emplace_back(build::word_of(hat));
  return refuse(Code::kNotAllowed,
                fmt::format("{} is asked for this, and {} is not that", join(words, " or "),
                            (*person)->name),
                {.field = "who", .value = who});
}

Result<MakerView> MakerDesk::look(const std::string& order) {
  const auto now = looked(order);
  if (!now) return std::unexpected(now.error());
  return view(*now);
}

Result<MakerView> MakerDesk::send_form(const std::string& id, const MakerFormGiven& given) {
  const auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto person = allowed(*now, given.who, kSendsForms);
  if (!person) return std::unexpected(person.error());
  if (Result<void> ok = one_line("how", given.how, kLongestText); !ok) {
    return std::unexpected(ok.error());
  }
  const std::vector<std::string> missing = form_missing(at(*now));
  if (!missing.empty()) {
    return refuse(Code::kRefused,
                  fmt::format("no form of order {} can be sent: {}", id, join(missing, "; ")),
                  {.field = "order", .value = id});
  }
  if (given.wanted <= now->today) {
    return refuse(Code::kOutOfRange, "the day on which the bike is wanted here lies in the future",
                  {.field = "wanted", .value = iso(given.wanted)});
  }
  if (now->order.promised && *now->order.promised <= given.wanted) {
    return refuse(Code::kContradiction,
                  fmt::format("the rider was promised {}, and the bike is finished here before: "
                              "the maker's day lies earlier",
                              in_words(*now->order.promised, true)),
                  {.field = "wanted", .value = iso(given.wanted)});
  }
  trade::MakerForm form = form_to_send(at(*now));
  form.wanted = given.wanted;
  form.how = given.how;
  form.who = (*person)->id;
  book::Change change{.who = (*person)->id.text, .what = "maker-form",
                      .why = fmt::format("version {} to {}", form.version, form.maker.text)};
  change.put.maker_forms = {std::move(form)};
  const Result<void> written = as_conflict(shop_.write(std::move(change), id), "an order form");
  if (!written) return std::unexpected(written.error());
  return look(id);
}

Result<MakerView> MakerDesk::take_list(const std::string& id, const MakerListGiven& given) {
  const auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto kind = kind_given(given.kind);
  if (!kind) return std::unexpected(kind.error());
  const auto person = allowed(
      *now, given.who, *kind == MakerListKind::kConfirmed ? kSendsForms : kTakesIn);
  if (!person) return std::unexpected(person.error());
  Result<void> ok = one_line("reference", given.reference, kLongestText);
  if (ok) ok = one_line("file", given.file, kLongestText);
  if (!ok) return std::unexpected(ok.error());
  if (!states_for(*kind).contains(now->order.state)) {
    return refuse(Code::kRefused,
                  fmt::format("order {} is {}: a list of what is {} comes while it is {}", id,
                              trade::word_of(now->order.state), given.kind,
                              state_words(states_for(*kind))),
                  {.field = "order", .value = id});
  }
  auto read = lines_given(at(*now), given);
  if (!read) return std::unexpected(read.error());
  const trade::MakerList* last = newest_list(*now->state, now->order.id, *kind);
  trade::MakerList list{.order = now->order.id, .kind = *kind,
                        .number = last == nullptr ? 1 : last->number + 1,
                        .reference = given.reference,
                        .file = given.csv.empty() ? "" : given.file, .day = now->today,
                        .who = (*person)->id, .lines = std::move(read->lines)};
  book::Change change{.who = (*person)->id.text, .what = "maker-list", .why = list_name(list)};
  change.put.maker_lists = {std::move(list)};
  ok = as_conflict(shop_.write(std::move(change), id), "a list of the maker");
  if (!ok) return std::unexpected(ok.error());
  return look(id);
}

namespace {

Result<void> is_answer(const DifferenceGiven& given) {
  if (given.answer != "accepted" && given.answer != "denied") {
    return refuse(Code::kBadInput, "a difference is \"accepted\" or \"denied\"",
                  {.field = "answer", .value = given.answer});
  }
  if (trim(given.why).empty()) {
    return refuse(Code::kBadInput, "say why, and what the customer was told", {.field = "why"});
  }
  if (given.differences.empty()) {
    return refuse(Code::kBadInput, "name the differences that this answers",
                  {.field = "differences"});
  }
  if (given.answer == "denied" && given.price_change_cents != 0) {
    return refuse(Code::kContradiction, "only what is accepted changes the price",
                  {.field = "price_change_cents",
                   .value = std::to_string(given.price_change_cents)});
  }
  Result<void> ok = one_line("why", given.why, kLongestWhy);
  return ok ? one_line("signed_by", given.signed_by, kLongestText) : ok;
}

Result<std::vector<const MakerRow*>> rows_named(const std::vector<MakerRow>& rows,
                                                const DifferenceGiven& given) {
  std::vector<const MakerRow*> named;
  std::vector<std::string> keys;
  for (const MakerRow& row : rows) {
    if (row.standing != RowStanding::kSame) keys.push_back(row.key);
  }
  for (const std::string& key : given.differences) {
    const auto row = std::ranges::find(rows, key, &MakerRow::key);
    if (row == rows.end() || row->standing == RowStanding::kSame) {
      return refuse(Code::kNotFound,
                    keys.empty() ? "nothing differs in this list"
                                 : "there is no such difference; there are " + listed(keys),
                    {.field = "differences", .value = key});
    }
    if (std::ranges::count(named, &*row) == 0) named.push_back(&*row);
  }
  return named;
}

/// The order with what is accepted in it. Errors: kRefused with everything that is in the way.
Result<trade::Order> accepted_order(const LifeAt& at, const std::vector<const MakerRow*>& rows,
                                    const DifferenceGiven& given, const std::string& by) {
  Accepting would = accepting(at, rows);
  if (!would.stops.empty()) {
    return refuse(Code::kRefused,
                  fmt::format("this cannot be accepted: {}", join(would.stops, "; ")),
                  {.field = "differences"});
  }
  if (would.wants_name && trim(given.signed_by).empty()) {
    return refuse(Code::kBadInput,
                  "no new version is signed for this: say who agreed for the customer",
                  {.field = "signed_by"});
  }
  if (given.price_change_cents != 0 && !would.is_new_version) {
    return refuse(Code::kContradiction,
                  "a price changes with a new version, and this makes none",
                  {.field = "price_change_cents",
                   .value = std::to_string(given.price_change_cents)});
  }
  if (would.is_new_version && would.order.choices != at.order.choices) {
    would.order.flags.insert("Change open");
    would.order.flags_said["Change open"] = {
        .reason = shortened(fmt::format("the maker built otherwise: {}",
                                        row_in_words(at, rows.front()->compared)),
                            build::kLongestReason),
        .until = {}, .who = by, .day = at.today};
  }
  return std::move(would.order);
}

trade::Order denied_order(const LifeAt& at, const std::vector<const MakerRow*>& rows,
                          const std::string& by) {
  trade::Order order = at.order;
  if (order.flags.insert("Claim open").second) {
    order.flags_said["Claim open"] = {
        .reason = shortened(
            fmt::format("to the maker: {}", row_in_words(at, rows.front()->compared)),
            build::kLongestReason),
        .until = {}, .who = by, .day = at.today};
  }
  return order;
}

}  // namespace

Result<MakerView> MakerDesk::answer(const std::string& id, const DifferenceGiven& given) {
  const auto now = looked(id);
  if (!now) return std::unexpected(now.error());
  const auto person = allowed(*now, given.who, kAnswers);
  if (!person) return std::unexpected(person.error());
  if (Result<void> ok = is_answer(given); !ok) return std::unexpected(ok.error());
  if (trade::is_over(now->order.state)) {
    return refuse(Code::kRefused, fmt::format("order {} is {}", id,
                                              trade::word_of(now->order.state)),
                  {.field = "order", .value = id});
  }
  const LifeAt here = at(*now);
  const trade::MakerList* list = list_that_counts(*now->state, now->order.id);
  if (list == nullptr || list_name(*list) != given.list) {
    return refuse(Code::kConflict,
                  list == nullptr ? "there is no list of the maker yet"
                                  : fmt::format("the list that counts is {}; look at it again",
                                                list_name(*list)),
                  {.field = "list", .value = given.list});
  }
  const std::vector<MakerRow> rows = maker_rows(here, *list);
  const auto named = rows_named(rows, given);
  if (!named) return std::unexpected(named.error());
  const bool accepted = given.answer == "accepted";
  auto order = accepted ? accepted_order(here, *named, given, (*person)->name)
                        : Result<trade::Order>(denied_order(here, *named, (*person)->name));
  if (!order) return std::unexpected(order.error());
  order->revision = given.revision;
  book::Change change{.who = (*person)->id.text, .what = "answer-difference",
                      .why = fmt::format("{}: {}: {}", given.answer,
                                         join(given.differences, ", "), given.why),
                      .read_at = now->state->entry};
  if (order->choices != now->order.choices) {
    if (auto first = version_before_versions(shop_.trade_, *now->state, now->order)) {
      order->spec_version = first->version;
      change.put.signed_specs = {std::move(*first)};
    }
  }
  const auto before = answers_of(*now->state, now->order.id);
  int number = before.empty() ? 0 : before.back()->number;
  for (const MakerRow* row : *named) {
    const bool first = row == named->front();
    change.put.difference_answers.push_back(
        {.order = now->order.id, .number = ++number, .kind = list->kind, .list = list->number,
         .position = row->compared.position, .ordered = build::line_key(row->compared.ordered),
         .listed = build::line_key(row->compared.listed), .accepted = accepted, .why = given.why,
         .signed_by = given.signed_by,
         .price_change = first ? Money{given.price_change_cents} : Money{},
         .who = (*person)->id, .day = now->today});
  }
  change.put.orders = {std::move(*order)};
  const Result<void> written = as_conflict(shop_.write(std::move(change), id), "an answer");
  if (!written) return std::unexpected(written.error());
  return look(id);
}

}  // namespace rollwright::shop

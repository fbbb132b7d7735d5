#include "shop/care_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/care.hpp"
#include "build/traits.hpp"
#include "shop/bench_at.hpp"
#include "shop/bike.hpp"
#include "shop/recalled.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {
namespace {

constexpr std::string_view kRecall = "recall ";

bool was_built(trade::OrderState state) {
  return state == trade::OrderState::kHandedOver || state == trade::OrderState::kInCare ||
         state == trade::OrderState::kClosed;
}

CareOperation offered(const trade::SheetStep& step) {
  return {.operation = step.operation, .name = step.name, .standing = {}, .care = step.care};
}

std::vector<CareOperation> named_on(const trade::Sheet& sheet,
                                    const std::vector<std::string>& operations) {
  std::vector<CareOperation> named;
  for (const trade::SheetStep& step : sheet.steps) {
    if (std::ranges::count(operations, step.operation) > 0) named.push_back(offered(step));
  }
  return named;
}

/// Operations by which parts come into these places, of building.
std::vector<std::string> that_fit(const trade::Sheet& sheet, const std::set<std::string>& slots) {
  std::vector<std::string> operations;
  for (const trade::SheetStep& step : sheet.steps) {
    const bool fits = std::ranges::any_of(
        step.fits, [&slots](const std::string& slot) { return slots.contains(slot); });
    if (fits && !step.care) operations.push_back(step.operation);
  }
  return operations;
}

CareVisitView visit_view(const BenchDesk::At& at, const build::VisitNow& visit) {
  CareVisitView view{.about = visit.about, .km = visit.km, .since = iso(visit.since),
                     .who = at.state->name_of(visit.who), .note = visit.note,
                     .asked = named_on(at.sheet, visit.asked), .back = {}, .back_by = {},
                     .to_be_ridden = visit.how == trade::Outcome::kPass,
                     .back_note = visit.back_note};
  if (visit.back) {
    view.back = iso(*visit.back);
    view.back_by = at.state->name_of(visit.back_by);
    return view;
  }
  for (CareOperation& asked : view.asked) {
    asked.standing = build::word_of(at.bench.operation(asked.operation)->standing);
  }
  return view;
}

CareDueLine due_line(const CareDue& due, Day today) {
  const trade::Order& order = *due.order;
  CareDueLine line{.order = order.id.text, .rider = order.rider.name,
                   .contact = order.rider.contact, .visits = due.visits, .from = due.from,
                   .to = due.to, .because = due.because, .sentence = sentence_of(due),
                   .reminded = {}, .said = {}, .to_be_told = is_to_be_told(due, today)};
  if (due.reminded) {
    line.reminded = due.reminded->on;
    line.said = due.reminded->said;
  }
  return line;
}

std::string sentence_of(const ComingBackView& view) {
  const std::size_t here = view.here.size();
  const std::size_t due = view.due.size();
  const std::string now = here == 0   ? std::string("No bike is here for a visit.")
                          : here == 1 ? std::string("One bike is here for a visit.")
                                      : fmt::format("{} bikes are here for a visit.", here);
  if (due == 0) return now + " None should come back in these weeks.";
  const auto told = std::ranges::count(view.due, false, &CareDueLine::to_be_told);
  if (due == 1) {
    return now + fmt::format(" One bike should come back; its rider was {}told.",
                             told == 1 ? "" : "not ");
  }
  return now + fmt::format(" {} bikes should come back, {} of {} riders were told.", due, told, due);
}

std::string sentence_for(const BenchDesk::At& at, const CareView& view,
                         const std::optional<CareDue>& due) {
  if (at.order->state != trade::OrderState::kInCare) {
    return fmt::format("This bike is {}: visits are written down once it is in care.",
                       trade::word_of(at.order->state));
  }
  if (view.open && view.missing.empty()) return "It is here, and may be given back.";
  if (view.open) {
    return fmt::format("It is here; {} {} open.", view.missing.size(),
                       view.missing.size() == 1 ? "thing is" : "things are");
  }
  if (due) return sentence_of(*due);
  return view.visits.empty() ? "It was not here since it was handed over."
                             : "Nothing is due in the next weeks, as far as the plan and the km tell.";
}

CareVisits visits_of(const BenchDesk::At& at, const std::vector<trade::BikeLine>& lines) {
  std::vector<book::LineFound> found;
  for (const trade::BikeLine& line : lines) found.push_back({at.order->id, line});
  return care_visits(found, at.state->settings.time_zone);
}

/// One deed for each operation, behind `deeds`.
void ask_for(const std::vector<std::string>& operations, const std::string& why, DeedsGiven& deeds) {
  for (const std::string& operation : operations) {
    deeds.deeds.push_back({.deed = std::string(trade::word_of(trade::Deed::kAsked)),
                           .about = operation, .note = why});
  }
}

}  // namespace

Result<BenchDesk::At> CareDesk::at(const std::string& order) {
  auto at = shop_.bench().at(order, false);
  if (!at) return std::unexpected(at.error());
  if (was_built(at->order->state)) return at;
  return refuse(Code::kRefused,
                fmt::format("order {} is in the state {}: its bike was not handed over", order,
                            trade::word_of(at->order->state)),
                {.field = "order", .value = order});
}

std::optional<CareDue> CareDesk::due(const BenchDesk::At& at,
                                     const std::vector<trade::BikeLine>& lines) {
  const CareVisits visits = visits_of(at, lines);
  return care_due_of({.trade = shop_.trade_, .state = *at.state, .plan = shop_.service_plan_,
                      .visits = visits, .today = at.now.day},
                     *at.order);
}

Result<std::vector<CareOffer>> CareDesk::offers(
    const BenchDesk::At& at, const std::vector<trade::BikeLine>& lines) {
  std::vector<CareOffer> offers;
  const auto build = build_of(shop_.trade_, *at.order);
  if (!build) return std::unexpected(build.error());
  const auto traits =
      build::traits_of(shop_.trade_, facts_of(*at.state, **build, *at.order)).holding;
  const bool halved = halves_distances(*at.order, traits);
  for (const trade::ServiceVisit& visit : shop_.service_plan_) {
    if (!visit.trait.empty() && !traits.contains(visit.trait)) continue;
    offers.push_back({.about = visit.name, .when = trade::when_in_words(visit, halved),
                      .work = visit.work, .operations = named_on(at.sheet, visit.operations)});
  }
  const RecordOfBike record{.order = *at.order, .lines = lines};
  const RecallsNow now = recalls_now(*at.state);
  for (const std::string& number : recalls_on(*at.state, now, record)) {
    const auto recall = std::ranges::find(now.recalls, number, &trade::Recall::number);
    std::set<std::string> slots;
    for (const RecalledPiece& piece : recalled_pieces(*at.state, *recall, record)) {
      slots.insert(piece.slot);
    }
    offers.push_back({.about = std::string(kRecall) + number, .when = recall->wrong, .due = true,
                      .work = recall->remedy,
                      .operations = named_on(at.sheet, that_fit(at.sheet, slots))});
  }
  return offers;
}

Result<ComingBackView> CareDesk::coming_back() {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto now = shop_.now(**state);
  if (!now) return std::unexpected(now.error());
  const auto visits = shop_.bench().visits(**state);
  if (!visits) return std::unexpected(visits.error());
  ComingBackView view{.day = now->day, .sentence = {}, .here = {}, .due = {}};
  for (const CareHere& here : care_here(**state, **visits)) {
    view.here.push_back({.order = here.order->id.text, .rider = here.order->rider.name,
                         .about = here.visit->about, .since = here.visit->since});
  }
  for (const CareDue& due : care_due({.trade = shop_.trade_, .state = **state,
                                      .plan = shop_.service_plan_, .visits = **visits,
                                      .today = now->day})) {
    view.due.push_back(due_line(due, now->day));
  }
  view.sentence = sentence_of(view);
  return view;
}

Result<CareView> CareDesk::look(const std::string& order) {
  const auto at = this->at(order);
  if (!at) return std::unexpected(at.error());
  CareView view{.order = order, .rider = at->order->rider.name,
                .contact = at->order->rider.contact,
                .state = std::string(trade::word_of(at->order->state)), .frame = at->sheet.frame,
                .due = {}, .open = {}};
  for (auto visit = at->bench.visits.rbegin(); visit != at->bench.visits.rend(); ++visit) {
    if (visit->back) view.visits.push_back(visit_view(*at, *visit));
  }
  const auto lines = shop_.book_.bike_lines(at->order->id);
  if (!lines) return std::unexpected(lines.error());
  auto offers = this->offers(*at, *lines);
  if (!offers) return std::unexpected(offers.error());
  view.offers = std::move(*offers);
  const auto due = this->due(*at, *lines);
  if (due) view.due = due_line(*due, at->now.day);
  for (CareOffer& offer : view.offers) {
    offer.due = offer.due || (due && std::ranges::count(due->visits, offer.about) > 0);
  }
  for (const trade::SheetStep& step : at->sheet.steps) view.operations.push_back(offered(step));
  if (const build::VisitNow* open = at->bench.open_visit()) {
    view.open = visit_view(*at, *open);
    view.missing = build::open_in_visit(at->bench);
  }
  view.may_open = at->order->state == trade::OrderState::kInCare && !view.open;
  view.sentence = sentence_for(*at, view, due);
  return view;
}

Result<CareView> CareDesk::written(const std::string& order, DeedsGiven deeds) {
  const auto written = shop_.bench().write(order, deeds);
  if (!written) return std::unexpected(written.error());
  return look(order);
}

Result<CareView> CareDesk::open(const std::string& order, const VisitGiven& given) {
  const auto at = this->at(order);
  if (!at) return std::unexpected(at.error());
  const auto lines = shop_.book_.bike_lines(at->order->id);
  if (!lines) return std::unexpected(lines.error());
  const auto offers = this->offers(*at, *lines);
  if (!offers) return std::unexpected(offers.error());
  DeedsGiven deeds{.who = given.who, .key = given.key, .deeds = {}};
  const std::string about = join(given.visits, ", ");
  deeds.deeds.push_back({.deed = std::string(trade::word_of(trade::Deed::kVisit)), .about = about,
                         .value = given.km, .note = given.note});
  std::vector<std::string> wanted = given.operations;
  for (const CareOffer& offer : *offers) {
    if (std::ranges::count(given.visits, offer.about) == 0) continue;
    for (const CareOperation& each : offer.operations) wanted.push_back(each.operation);
  }
  for (const std::string& operation : given.operations) {
    if (at->bench.operation(operation) != nullptr) continue;
    return refuse(Code::kNotFound, "this bike has no such operation",
                  {.field = "operations", .value = operation});
  }
  if (wanted.empty()) {
    return refuse(Code::kBadInput, "say what is to be done: a visit of the service plan, or operations",
                  {.field = "operations"});
  }
  ask_for(build::asked_for(at->bench, wanted), about, deeds);
  return written(order, std::move(deeds));
}

Result<CareView> CareDesk::ask(const std::string& order, const AskedGiven& given) {
  if (given.operations.empty()) {
    return refuse(Code::kBadInput, "say which operations", {.field = "operations"});
  }
  DeedsGiven deeds{.who = given.who, .key = given.key, .deeds = {}};
  ask_for(given.operations, given.note, deeds);
  return written(order, std::move(deeds));
}

Result<CareView> CareDesk::give_back(const std::string& order, const BackGiven& given) {
  return written(order, {.who = given.who, .key = given.key,
                         .deeds = {{.deed = std::string(trade::word_of(trade::Deed::kBack)),
                                    .outcome = given.to_be_ridden ? "pass" : "stop",
                                    .note = given.note}}});
}

Result<CareView> CareDesk::remind(const std::string& order, const RemindedGiven& given) {
  const auto at = this->at(order);
  if (!at) return std::unexpected(at.error());
  const auto lines = shop_.book_.bike_lines(at->order->id);
  if (!lines) return std::unexpected(lines.error());
  std::vector<std::string> visits = given.visits;
  if (visits.empty()) {
    if (auto due = this->due(*at, *lines)) visits = std::move(due->visits);
  }
  if (visits.empty()) {
    return refuse(Code::kBadInput,
                  "nothing is due on this bike near today: say what its rider was told it should come for",
                  {.field = "visits"});
  }
  return written(order, {.who = given.who, .key = given.key,
                         .deeds = {{.deed = std::string(trade::word_of(trade::Deed::kReminded)),
                                    .about = join(visits, ", "), .note = given.note}}});
}

}  // namespace rollwright::shop

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "base/text.hpp"
#include "base/working_days.hpp"
#include "shop/bench_desk.hpp"
#include "shop/care_due.hpp"
#include "shop/enquiry.hpp"
#include "shop/shop.hpp"
#include "trade/label_code.hpp"

// What the desk looks at that belongs to no single order: the shop itself, today, and finding.
namespace rollwright::shop {
namespace {

using enum trade::OrderState;

BuildView build_view(const trade::Trade& trade, const trade::BuildTemplate& build) {
  BuildView view{.id = build.id, .name = build.name, .maker_built = build.maker_built};
  const auto add = [&](const trade::SlotId& id, bool required) {
    const trade::Slot* slot = trade::find_slot(trade, id);
    view.slots.push_back({id.text, slot == nullptr ? id.text : slot->name, required});
  };
  for (const trade::SlotId& slot : build.required) add(slot, true);
  for (const trade::SlotId& slot : build.optional) add(slot, false);
  return view;
}

bool has(const std::string& text, const std::string& words) {
  return lowered(text).find(words) != std::string::npos;
}

TodayLine order_line(std::string kind, const trade::Order& order, std::string sentence,
                     std::string action) {
  return {.kind = std::move(kind), .sentence = std::move(sentence), .order = order.id.text,
          .link = "/orders/" + order.id.text, .action = std::move(action)};
}

std::string claim_sentence(const State& state, const trade::PurchaseLine& line,
                           const trade::Claim& claim, Day today) {
  const auto left = (claim.tell_by - today).count();
  return fmt::format("{} {} on {}, {}: {}.", claim.pieces,
                     state.name_of(line.part), line.id,
                     trade::word_of(claim.trouble),
                     left < 0 ? "the time to claim ended on " + in_words(claim.tell_by)
                     : left == 0 ? std::string("today is the last day to claim")
                                 : "to be claimed until " + in_words(claim.tell_by));
}

/// What the state of an order asks of a person today.
std::optional<TodayLine> line_for(const trade::Order& order) {
  const std::string who = order.id.text + " " + order.rider.name;
  switch (order.state) {
    case kBuilding:
    case kFinishing:
      return order_line("on the stands", order,
                        fmt::format("{} is on the stand, {} operations done.", who,
                                    order.done.size()),
                        "open the sheet");
    case kKitted:
      return order_line("on the stands", order, fmt::format("{} is kitted and may start.", who),
                        "open the sheet");
    case kArrived:
      return order_line("to check", order,
                        fmt::format("{} has arrived from the maker: open it inside the claim "
                                    "window.",
                                    who),
                        "open the sheet");
    case kChecking:
      return order_line("to check", order, fmt::format("{} waits for its second person.", who),
                        "open the sheet");
    case kReady:
      return order_line("to hand over", order, fmt::format("{} is ready.", who),
                        "agree an appointment");
    default: return std::nullopt;
  }
}

template <class Id>
bool is_meant(const trade::LabelCode& code, const Id& id) {
  return trade::label_id(id.text) == code.id;
}

std::vector<FoundLine> order_by_code(const State& state, const trade::LabelCode& code) {
  std::vector<FoundLine> found;
  for (const auto& [id, order] : state.orders) {
    if (!is_meant(code, id)) continue;
    const std::string card = code.wheel.empty() ? "" : "/wheels/" + lowered(code.wheel);
    found.push_back({.kind = std::string(trade::word_of(code.kind)),
                     .text = fmt::format("{} {}, {}", id.text, order->rider.name,
                                         trade::word_of(order->state)),
                     .link = "/orders/" + id.text + card});
  }
  return found;
}

/// What the code of a label leads to; nothing when it is not in the book (any more).
std::vector<FoundLine> found_by_code(const State& state, const trade::LabelCode& code) {
  std::vector<FoundLine> found;
  switch (code.kind) {
    case trade::LabelKind::kOrder:
    case trade::LabelKind::kKit:
    case trade::LabelKind::kWheel: return order_by_code(state, code);
    case trade::LabelKind::kBin:
      for (const auto& [id, part] : state.parts) {
        if (!is_meant(code, id)) continue;
        found.push_back({.kind = "part", .text = fmt::format("{} {}", id.text, part->name),
                         .link = "/parts/" + id.text});
      }
      return found;
    case trade::LabelKind::kPerson:
      for (const trade::Person& person : state.held.people) {
        if (!is_meant(code, person.id)) continue;
        found.push_back({.kind = "person", .text = person.name, .link = "/plan"});
      }
      return found;
    case trade::LabelKind::kTool:
      for (const trade::Tool& tool : state.held.tools) {
        if (trade::label_id(tool.id) != code.id) continue;
        found.push_back({.kind = "tool", .text = tool.id + " " + tool.name, .link = "/bench"});
      }
      return found;
  }
  return found;
}

/// Bikes that are here for a visit, and the first of those whose riders are to be told to come.
void add_care(const CareAsked& asked, TodayView& view) {
  for (const auto& [order, visit] : care_here(asked.state, asked.visits)) {
    view.lines.push_back({.kind = "here for a visit",
                          .sentence = fmt::format("{} {}: {}, here since {}.", order->id.text,
                                                  order->rider.name, visit->about,
                                                  in_words(visit->since)),
                          .order = order->id.text, .link = "/orders/" + order->id.text + "/care",
                          .action = "look at the visit"});
  }
  constexpr int kMostToTell = 5;
  int to_tell = 0;
  for (const CareDue& due : care_due(asked)) {
    if (!is_to_be_told(due, asked.today) || ++to_tell > kMostToTell) continue;
    view.lines.push_back({.kind = "to come back", .sentence = sentence_of(due),
                          .order = due.order->id.text,
                          .link = "/orders/" + due.order->id.text + "/care",
                          .action = "call the rider"});
  }
  if (to_tell <= kMostToTell) return;
  const int more = to_tell - kMostToTell;
  view.lines.push_back({.kind = "to come back",
                        .sentence = fmt::format("{} more {} should come back.", more,
                                                more == 1 ? "bike" : "bikes"),
                        .order = {}, .link = "/orders/coming-back", .action = "look at them all"});
}

}  // namespace

Result<ShopView> Shop::about() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const trade::ShopSettings& settings = (*current)->settings;
  ShopView view{.name = settings.name, .town = settings.town, .currency = settings.currency,
                .invented = settings.invented, .today = time->day};
  for (const auto& [id, build] : trade_.templates) view.builds.push_back(build_view(trade_, build));
  for (const auto& [id, kind] : trade_.kinds) {
    if (id.text != "K-ORDER" && id.text != "K-RIDER") view.kinds.push_back({id.text, kind.name});
  }
  for (const trade::Person& person : (*current)->held.people) {
    view.people.push_back({person.id.text, person.name});
  }
  for (const auto& [id, gpx] : (*current)->held.routes) view.routes.push_back(id);
  for (const trade::OrderState state : trade::all_states()) {
    view.states.emplace_back(trade::word_of(state));
  }
  return view;
}

Result<TodayView> Shop::today() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  const auto plan = this->plan();
  const auto buying = buy();
  if (!time) return std::unexpected(time.error());
  if (!plan) return std::unexpected(plan.error());
  if (!buying) return std::unexpected(buying.error());
  TodayView view{.day = time->day, .lines = {}};
  // In order of what it costs to miss it: promises, cut-offs, arrivals, work, handovers, customers who wait
  // for a word.
  for (const PlannedOrder& order : plan->orders) {
    if (!order.late || !order.promised) continue;
    view.lines.push_back(
        {.kind = "at risk",
         .sentence = fmt::format("{} {} is promised for {} and would be ready {}. It waits for {}.",
                                 order.order, order.rider, in_words(*order.promised),
                                 order.ready ? in_words(*order.ready) : "beyond the plan",
                                 order.bound_by),
         .order = order.order, .link = "/orders/" + order.order, .action = "look at the promise"});
  }
  const Day tomorrow = add_working_days(time->day, 1, (*current)->settings.closed);
  for (const BuyGroup& group : buying->groups) {
    int due = 0;
    for (const BuyLine& line : group.lines) {
      if (line.order_by < tomorrow) ++due;
    }
    if (due == 0) continue;
    view.lines.push_back(
        {.kind = "to buy",
         .sentence = fmt::format("{} {} from {} should be ordered before {} today.", due,
                                 due == 1 ? "part" : "parts", group.name, group.cut_off),
         .order = "", .link = "/parts/buy", .action = "look at the buying list"});
  }
  for (const trade::PurchaseLine& line : (*current)->held.purchases) {
    if (!trade::is_under_way(line.state) || !line.confirmed || *line.confirmed > tomorrow) continue;
    const bool overdue = *line.confirmed < time->day;
    view.lines.push_back(
        {.kind = "arriving",
         .sentence = fmt::format("{} {} {} confirmed for {}{}.", trade::pieces_to_come(line),
                                 (*current)->name_of(line.part),
                                 overdue ? "was" : "is", in_words(*line.confirmed),
                                 line.order ? ", for order " + line.order->text : ""),
         .order = line.order ? line.order->text : "", .link = "/arrivals/" + line.id,
         .action = overdue ? "ask the supplier" : "receive it"});
  }
  for (const trade::PurchaseLine& line : (*current)->held.purchases) {
    for (const trade::Claim& claim : line.claims) {
      if (claim.told || claim.settled) continue;
      view.lines.push_back({.kind = "to claim",
                            .sentence = claim_sentence(**current, line, claim, time->day),
                            .order = line.order ? line.order->text : "",
                            .link = "/arrivals/" + line.id, .action = "tell the supplier"});
    }
  }
  for (const char* kind : {"to check", "on the stands", "to hand over"}) {
    for (const trade::Order& order : (*current)->held.orders) {
      auto line = line_for(order);
      if (line && line->kind == kind) view.lines.push_back(std::move(*line));
    }
  }
  for (TodayLine& line : to_follow_up(**current, time->day)) view.lines.push_back(std::move(line));
  const auto visits = bench().visits(**current);
  if (!visits) return std::unexpected(visits.error());
  add_care({.trade = trade_, .state = **current, .plan = service_plan_, .visits = **visits,
            .today = time->day},
           view);
  return view;
}

Result<std::vector<FoundLine>> Shop::find(const std::string& words) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  constexpr std::size_t kMost = 20;
  std::vector<FoundLine> found;
  const std::string wanted = lowered(words);
  if (wanted.empty()) return found;
  if (const auto code = trade::parse_label_code(words)) return found_by_code(**current, *code);
  for (const trade::Order& order : (*current)->held.orders) {
    if (found.size() == kMost) break;
    if (has(order.id.text, wanted) || has(order.rider.name, wanted)) {
      found.push_back({.kind = "order",
                       .text = fmt::format("{} {}, {}", order.id.text, order.rider.name,
                                           trade::word_of(order.state)),
                       .link = "/orders/" + order.id.text});
    }
  }
  for (const trade::Part& part : (*current)->held.parts) {
    if (found.size() == kMost) break;
    if (has(part.id.text, wanted) || has(part.name, wanted) || has(part.maker, wanted)) {
      found.push_back({.kind = "part", .text = fmt::format("{} {}", part.id.text, part.name),
                       .link = "/parts/" + part.id.text});
    }
  }
  return found;
}

}  // namespace rollwright::shop

#include "shop/enquiry.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/order_input.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {
namespace {

TodayLine follow_up_line(const trade::Order& order, std::string sentence, std::string action) {
  return {.kind = "to follow up",
          .sentence = std::move(sentence) + " " + how_to_reach(order.rider),
          .order = order.id.text, .link = "/orders/" + order.id.text,
          .action = std::move(action)};
}

TodayLine due_line(const trade::Order& order, Day today) {
  const trade::FollowUp& due = *order.follow_up;
  const std::string when = due.day < today ? "was to be followed up on " + in_words(due.day)
                                           : std::string("is to be followed up today");
  return follow_up_line(order,
                        fmt::format("{} {} ({}) {}: {}{}", order.id.text, order.rider.name,
                                    trade::word_of(order.state), when, due.about,
                                    due.about.ends_with('.') ? "" : "."),
                        "follow it up");
}

TodayLine forgotten_line(const trade::Order& order, int age) {
  const bool is_old = age > kArchivedAfter;
  return follow_up_line(
      order,
      fmt::format("{} {}: the enquiry is {} days old, and no day is set to follow it up{}.",
                  order.id.text, order.rider.name, age,
                  is_old ? "; archive it by cancelling, or set a day" : ""),
      is_old ? "archive it" : "set a day");
}

Result<void> may_change(const trade::Order& order, const char* what) {
  if (trade::is_before_agreed(order.state)) return {};
  return refuse(Code::kRefused,
                fmt::format("order {} is {}: {} before it is agreed", order.id.text,
                            trade::word_of(order.state), what),
                {.field = "state", .value = std::string(trade::word_of(order.state))});
}

}  // namespace

std::string how_to_reach(const trade::Rider& rider) {
  return rider.contact.empty() ? std::string("No way to reach the rider is written down.")
                               : "To be reached at " + rider.contact + ".";
}

std::vector<TodayLine> to_follow_up(const State& state, Day today) {
  std::vector<const trade::Order*> due;
  std::vector<const trade::Order*> forgotten;
  for (const trade::Order& order : state.held.orders) {
    if (!trade::is_before_agreed(order.state)) continue;
    if (order.follow_up) {
      if (order.follow_up->day <= today) due.push_back(&order);
    } else if (order.state == trade::OrderState::kEnquiry &&
               (today - order.opened).count() > kForgottenAfter) {
      forgotten.push_back(&order);
    }
  }
  std::ranges::stable_sort(due, {}, [](const trade::Order* o) { return o->follow_up->day; });
  std::ranges::stable_sort(forgotten, {}, [](const trade::Order* o) { return o->opened; });
  std::vector<TodayLine> lines;
  for (const trade::Order* order : due) lines.push_back(due_line(*order, today));
  for (const trade::Order* order : forgotten) {
    lines.push_back(forgotten_line(*order, static_cast<int>((today - order->opened).count())));
  }
  return lines;
}

Result<std::optional<trade::Budget>> budget_from(const BudgetGiven& given) {
  if (given.nothing_said && given.at_most_cents) {
    return refuse(Code::kContradiction, "either an amount was said, or nothing",
                  {.field = "nothing_said", .value = "true"});
  }
  if (given.nothing_said) return std::optional(trade::Budget{});
  if (!given.at_most_cents) return std::optional<trade::Budget>();
  auto budget = trade::budget_of({*given.at_most_cents});
  if (budget) return std::optional(*budget);
  return refuse(budget.error().code, budget.error().sentence,
                {.field = "at_most_cents", .value = std::to_string(*given.at_most_cents)});
}

Result<std::optional<trade::FollowUp>> follow_up_from(const FollowUpGiven& given, Day today) {
  const std::string about(trim(given.about));
  if (Result<void> ok = one_line("about", about, trade::kLongestFollowUp); !ok) {
    return std::unexpected(ok.error());
  }
  if (!given.day) return std::optional<trade::FollowUp>();
  const auto ahead = (*given.day - today).count();
  if (ahead < 0 || ahead > trade::kFurthestFollowUp) {
    return refuse(Code::kOutOfRange,
                  ahead < 0 ? "this day is over" : "a follow-up lies within a year",
                  {.field = "day", .value = iso(*given.day)});
  }
  if (about.empty()) {
    return refuse(Code::kBadInput, "say in one line who calls whom about what", {.field = "about"});
  }
  return std::optional(trade::FollowUp{.day = *given.day, .about = about});
}

std::optional<BudgetView> budget_view(const trade::Order& order, std::int64_t price_cents) {
  if (!order.budget) return std::nullopt;
  if (!order.budget->at_most) return BudgetView{};
  const std::int64_t most = order.budget->at_most->cents;
  return BudgetView{.at_most_cents = most,
                    .over_cents = std::max<std::int64_t>(0, price_cents - most)};
}

std::optional<FollowUpView> follow_up_view(const trade::Order& order, Day today) {
  if (!order.follow_up) return std::nullopt;
  return FollowUpView{.day = order.follow_up->day, .about = order.follow_up->about,
                      .is_due = order.follow_up->day <= today};
}

Result<OrderView> Shop::set_budget(const std::string& id, const BudgetGiven& given,
                                   const std::string& who) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  trade::Order order = *at->order;
  if (Result<void> ok = may_change(order, "a budget is written down"); !ok) {
    return std::unexpected(ok.error());
  }
  const auto budget = budget_from(given);
  if (!budget) return std::unexpected(budget.error());
  order.budget = *budget;
  order.revision = given.revision;
  return write_order(order, who, "budget",
                     order.budget ? trade::word_of(*order.budget) : "nobody asked");
}

Result<OrderView> Shop::follow_up(const std::string& id, const FollowUpGiven& given,
                                  const std::string& who) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  trade::Order order = *at->order;
  if (Result<void> ok = may_change(order, "somebody follows it up"); !ok) {
    return std::unexpected(ok.error());
  }
  const auto follow_up = follow_up_from(given, at->now.day);
  if (!follow_up) return std::unexpected(follow_up.error());
  if (!*follow_up && !order.follow_up) {
    return refuse(Code::kRefused, "order " + id + " has no follow-up that could be done",
                  {.field = "day"});
  }
  order.follow_up = *follow_up;
  order.revision = given.revision;
  const std::string about(trim(given.about));
  return write_order(order, who, *follow_up ? "follow up" : "followed up",
                     *follow_up ? fmt::format("{}: {}", iso((*follow_up)->day), about) : about);
}

}  // namespace rollwright::shop

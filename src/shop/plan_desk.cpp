#include "shop/plan_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "shop/plan_calendar.hpp"
#include "shop/plan_words.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {
namespace {

constexpr double kBetweenTold = 0.25;  // seconds

std::string wish_words(const ProposalWish& wish) {
  if (wish.order.empty()) return "planned anew";
  if (wish.unpin) return fmt::format("let {} of order {} go", wish.operation, wish.order);
  return fmt::format("moved {} of order {} to {}, {}", wish.operation, wish.order, wish.person,
                     wish.start);
}

std::unexpected<Error> another_was_agreed(const State& state) {
  const auto& plan = state.agreed->plan;
  return refuse(Code::kConflict,
                fmt::format("plan {} was agreed by {} in the meantime; look at it and plan again",
                            plan ? plan->number : 0, plan ? plan->who : "nobody"),
                {.field = "over"});
}

std::int64_t number_of(const State& state) {
  return state.agreed->plan ? state.agreed->plan->number : 0;
}

}  // namespace

PlanDesk::PlanDesk(Shop& shop) : shop_(shop) {}

PlanDesk::~PlanDesk() { end_improving(); }

Result<PlanView> Shop::plan() { return plan_desk_->plan(); }

Result<PlanView> PlanDesk::plan() {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto now = shop_.now(**state);
  if (!now) return std::unexpected(now.error());
  {
    const std::lock_guard lock(mutex_);
    if (seen_ && seen_->entry == (*state)->entry && seen_->now == *now) return seen_->plan;
  }
  auto plan = view_of_plan(shop_.trade_, **state, *now);
  if (plan) {
    const std::lock_guard lock(mutex_);
    seen_ = Seen{.entry = (*state)->entry, .now = *now, .plan = *plan};
  }
  return plan;
}

Result<ProposalView> PlanDesk::propose(const ProposalWish& wish, std::int64_t over) {
  return propose(wish, over, {.placements = wish.order.empty() ? kReplanPlacements
                                                               : kMovePlacements});
}

Result<ProposalView> PlanDesk::propose(const ProposalWish& wish, std::int64_t over,
                                       const SearchBudget& budget) {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  if (over != number_of(**state)) return another_was_agreed(**state);
  const auto now = shop_.now(**state);
  if (!now) return std::unexpected(now.error());
  auto made = shop::propose(shop_.trade_, *state, *now, wish, budget);
  if (!made) return std::unexpected(made.error());
  {
    const std::lock_guard lock(mutex_);
    made->id = fmt::format("{:x}-{}", shop_.clock_.now().time_since_epoch().count(), ++made_);
  }
  const auto proposal = std::make_shared<const Proposal>(std::move(*made));
  keep(proposal);
  return view(proposal);
}

Result<ProposalView> PlanDesk::proposal(const std::string& id) {
  const auto found = kept(id);
  if (!found) return std::unexpected(found.error());
  return view(*found);
}

Result<ProposalView> PlanDesk::improve(const std::string& id, double seconds) {
  if (!(1 <= seconds && seconds <= kMostImproveSeconds)) {
    return refuse(Code::kOutOfRange,
                  fmt::format("a plan is improved for 1 to {:.0f} seconds", kMostImproveSeconds),
                  {.field = "seconds", .value = fmt::to_string(seconds)});
  }
  if (const auto known = kept(id); !known) return std::unexpected(known.error());
  const std::lock_guard one_at_a_time(improver_mutex_);
  if (improver_.joinable()) {
    improver_.request_stop();
    improver_.join();
  }
  const auto found = kept(id);  // it may be the one that was being improved until now
  if (!found) return std::unexpected(found.error());
  {
    const std::lock_guard lock(mutex_);
    improving_ = id;
  }
  improver_ = std::jthread([this, proposal = *found, seconds](const std::stop_token& stop) {
    search_on(proposal, seconds, stop);
  });
  return view(*found);
}

void PlanDesk::search_on(const Kept& proposal, double seconds, const std::stop_token& stop) {
  ImproveProgress told{.proposal = proposal->id, .of_seconds = seconds};
  double next = 0;
  const auto watch = [&](const plan::PlanProgress& progress, double now) {
    told.seconds = now;
    told.cost = progress.cost;
    if (told.first_cost == 0) told.first_cost = progress.cost;
    told.days_late = progress.score.weighted_days_late;
    told.moved = progress.score.moved;
    if (now >= next) {
      next = now + kBetweenTold;
      tell(told);
    }
    return !stop.stop_requested();
  };
  auto better = improved(*proposal, {.seconds = seconds, .watch = watch});
  if (better) keep(std::make_shared<const Proposal>(std::move(*better)));
  {
    const std::lock_guard lock(mutex_);
    improving_.clear();
  }
  told.over = true;
  tell(told);
}

Result<ProposalView> PlanDesk::stop(const std::string& id) {
  if (const auto found = kept(id); !found) return std::unexpected(found.error());
  bool is_this = false;
  {
    const std::lock_guard lock(mutex_);
    is_this = improving_ == id;
  }
  if (is_this) end_improving();
  return proposal(id);
}

void PlanDesk::end_improving() {
  const std::lock_guard one_at_a_time(improver_mutex_);
  if (!improver_.joinable()) return;
  improver_.request_stop();
  improver_.join();
}

Result<PlanView> PlanDesk::agree(const std::string& id, const std::string& who) {
  const auto found = kept(id);
  if (!found) return std::unexpected(found.error());
  {
    const std::lock_guard lock(mutex_);
    if (improving_ == id) {
      return refuse(Code::kRefused, "this plan is being improved; stop that first",
                    {.field = "proposal", .value = id});
    }
  }
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto now = shop_.now(**state);
  if (!now) return std::unexpected(now.error());
  if ((*found)->agreed.number != number_of(**state)) return another_was_agreed(**state);
  if (auto holds = still_holds(**found, shop_.trade_, **state, *now); !holds) {
    return std::unexpected(holds.error());
  }
  book::Change change{.who = who, .what = "agree plan", .why = wish_words((*found)->wish)};
  change.put = to_agree(**found, who, shop_.clock_.now());
  if (auto written = shop_.write(std::move(change), ""); !written) {
    return std::unexpected(written.error());
  }
  forget(id);
  return plan();
}

Result<PlanView> PlanDesk::leave(const std::string& id) {
  if (const auto stopped = stop(id); !stopped) return std::unexpected(stopped.error());
  forget(id);
  return plan();
}

Result<PlanView> PlanDesk::set_settings(const PlanSettingsView& s, const std::string& who) {
  if (!(0 <= s.frozen_days && s.frozen_days <= 30)) {
    return refuse(Code::kOutOfRange, "the frozen part is today and 0 to 30 working days after it",
                  {.field = "frozen_days", .value = std::to_string(s.frozen_days)});
  }
  const std::pair<const char*, double> weights[] = {{"day_late", s.day_late},
                                                    {"moved", s.moved},
                                                    {"kit_day", s.kit_day},
                                                    {"last_day", s.last_day},
                                                    {"uneven_hour", s.uneven_hour}};
  for (const auto& [name, weight] : weights) {
    if (0 <= weight && weight <= 1e9) continue;
    return refuse(Code::kOutOfRange, "a weight is a number from 0 to 1000000000",
                  {.field = name, .value = fmt::to_string(weight)});
  }
  book::Change change{.who = who, .what = "set plan", .why = "how the shop plans"};
  change.put.plan_settings = {{.frozen_days = s.frozen_days, .day_late = s.day_late, .moved = s.moved,
                          .kit_day = s.kit_day, .last_day = s.last_day,
                          .uneven_hour = s.uneven_hour}};
  if (auto written = shop_.write(std::move(change), ""); !written) {
    return std::unexpected(written.error());
  }
  return plan();
}

Result<std::string> PlanDesk::calendar(const std::string& person) {
  const auto state = shop_.state();
  if (!state) return std::unexpected(state.error());
  const auto feed = calendar_of(shop_.trade_, **state, person);
  if (!feed) return std::unexpected(feed.error());
  return documents::calendar_text(*feed);
}

void PlanDesk::on_progress(Listener listener) {
  const std::lock_guard lock(mutex_);
  listener_ = std::move(listener);
}

void PlanDesk::tell(const ImproveProgress& progress) {
  const std::lock_guard lock(mutex_);
  if (listener_) listener_(progress);
}

Result<PlanDesk::Kept> PlanDesk::kept(const std::string& id) {
  const std::lock_guard lock(mutex_);
  const auto found = std::ranges::find(proposals_, id, [](const Kept& kept) { return kept->id; });
  if (found != proposals_.end()) return *found;
  return refuse(Code::kNotFound, "this proposal is no longer kept; plan again",
                {.field = "proposal", .value = id});
}

ProposalView PlanDesk::view(const Kept& proposal) {
  ProposalView shown = view_of(*proposal);
  const std::lock_guard lock(mutex_);
  shown.improving = improving_ == proposal->id;
  return shown;
}

void PlanDesk::keep(Kept proposal) {
  const std::lock_guard lock(mutex_);
  const auto same = std::ranges::find(proposals_, proposal->id,
                                      [](const Kept& kept) { return kept->id; });
  if (same != proposals_.end()) {
    *same = std::move(proposal);
    return;
  }
  proposals_.push_back(std::move(proposal));
  if (proposals_.size() > kMostKept) proposals_.pop_front();
}

void PlanDesk::forget(const std::string& id) {
  const std::lock_guard lock(mutex_);
  std::erase_if(proposals_, [&](const Kept& kept) { return kept->id == id; });
}

}  // namespace rollwright::shop

#include <algorithm>

#include "shop/completion_view.hpp"
#include "shop/shop.hpp"
#include "spec/complete.hpp"

namespace rollwright::shop {
namespace {

Result<spec::Aim> aim_named(const std::string& word) {
  if (word == "cheapest") return spec::Aim::kCheapest;
  if (word == "lightest") return spec::Aim::kLightest;
  if (word == "soonest") return spec::Aim::kSoonest;
  if (word == "weighted") return spec::Aim::kWeighted;
  return refuse(Code::kBadInput, "the aim is cheapest, lightest, soonest or weighted",
                {.field = "aim", .value = word});
}

/// What each of the bikes traded off is best in.
std::vector<std::string> aims_of(const std::vector<spec::Completion>& bikes) {
  std::vector<std::string> aims(bikes.size(), "between");
  const auto name = [&](auto best, const char* aim) {
    std::string& own = aims[static_cast<std::size_t>(best - bikes.begin())];
    if (own == "between") own = aim;
  };
  name(std::ranges::min_element(bikes, {}, [](const auto& bike) { return bike.price; }),
       "cheapest");
  name(std::ranges::min_element(bikes, {}, [](const auto& bike) {
         return std::pair(bike.masses_not_known, bike.mass);
       }), "lightest");
  name(std::ranges::min_element(bikes, {}, [](const auto& bike) {
         return std::pair(!bike.ready.has_value(), bike.ready.value_or(Day{}));
       }), "soonest");
  return aims;
}

}  // namespace

Result<std::shared_ptr<const Reckoned>> Shop::reckoned(const OrderAt& at) {
  std::shared_ptr<const Reckoned> before;
  {
    const std::lock_guard lock(mutex_);
    const auto found = reckoned_.find(at.order->id.text);
    if (found != reckoned_.end()) before = found->second;
  }
  if (before && before->state == at.state && before->day == at.now.day) return before;
  auto made = reckon(trade_, at.state, *at.build, *at.order, at.now, before.get());
  if (!made) return made;
  const std::lock_guard lock(mutex_);
  // A handful of orders is looked at at a time; what is older is reckoned again.
  constexpr std::size_t kMostKept = 16;
  if (reckoned_.size() >= kMostKept) reckoned_.clear();
  reckoned_[at.order->id.text] = *made;
  return made;
}

Result<CompletionView> Shop::complete(const std::string& id, const CompletionWish& wish) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const auto aim = aim_named(wish.aim);
  if (!aim) return std::unexpected(aim.error());
  const auto now = reckoned(*at);
  if (!now) return std::unexpected(now.error());
  const auto bike = spec::complete(
      (*now)->problem, (*now)->selection,
      {.aim = *aim, .weights = {.cents_per_kg = wish.cents_per_kg,
                                .cents_per_day = wish.cents_per_day}},
      {.arrivals = &(*now)->arrivals});
  if (!bike) return std::unexpected(bike.error());
  return completion_view(trade_, **now, *bike, wish.aim);
}

Result<std::vector<CompletionView>> Shop::trade_offs(const std::string& id) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const auto now = reckoned(*at);
  if (!now) return std::unexpected(now.error());
  constexpr int kMost = 7;
  const auto bikes = spec::trade_offs((*now)->problem, (*now)->selection, kMost,
                                      {.arrivals = &(*now)->arrivals});
  if (!bikes) return std::unexpected(bikes.error());
  const std::vector<std::string> aims = aims_of(*bikes);
  std::vector<CompletionView> views;
  for (std::size_t i = 0; i < bikes->size(); ++i) {
    views.push_back(completion_view(trade_, **now, (*bikes)[i], aims[i]));
  }
  return views;
}

Result<std::vector<RepairView>> Shop::repairs(const std::string& id) {
  const auto at = order_at(id);
  if (!at) return std::unexpected(at.error());
  const auto now = reckoned(*at);
  if (!now) return std::unexpected(now.error());
  const auto found = spec::repairs((*now)->problem, (*now)->selection,
                                   {.search = {.arrivals = &(*now)->arrivals}});
  if (!found) return std::unexpected(found.error());
  return repair_views(trade_, *at->state, *found);
}

}  // namespace rollwright::shop

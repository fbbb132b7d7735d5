#include "shop/first_services.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "shop/enquiry.hpp"

namespace rollwright::shop {
namespace {

constexpr const char* kFirstService = "first_service";  // key of build/life_statements

}  // namespace

std::vector<FirstService> first_services(const State& state, Day today) {
  std::map<trade::OrderId, FirstService> set;
  for (const trade::OrderMoved& moved : state.held.rest.order_moves) {
    const auto said = moved.said.find(kFirstService);
    const auto order = state.orders.find(moved.order);
    if (said == moved.said.end() || order == state.orders.end()) continue;
    if (order->second->state != trade::OrderState::kInCare) continue;
    if (const Result<Day> day = parse_day(said->second)) {
      set[moved.order] = {.order = order->second, .day = *day, .in_care = moved.day};
    }
  }
  std::vector<FirstService> near;
  for (const auto& [id, service] : set) {
    const auto ahead = (service.day - today).count();
    if (-kServicePast <= ahead && ahead <= kServiceAhead) near.push_back(service);
  }
  std::ranges::stable_sort(near, {}, &FirstService::day);
  return near;
}

std::string sentence_of(const FirstService& service, Day today) {
  const trade::Rider& rider = service.order->rider;
  return fmt::format("{} {}: the first service {} {}. {}", service.order->id.text, rider.name,
                     service.day < today ? "was set for" : "is set for", in_words(service.day), how_to_reach(rider));
}

}  // namespace rollwright::shop

#include "http/life_api.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "http/answer.hpp"
#include "http/own_name.hpp"
#include "json/life_requests.hpp"
#include "shop/life_desk.hpp"

namespace rollwright::http {
namespace {

/// States that work at the bench leads to. All others want a password, whatever hat the person has.
constexpr std::array<std::string_view, 7> kByPin = {"Kitted",   "Building", "Arrived", "Finishing",
                                                    "Checking", "Ready",    "Boxed"};

/// The order that the address names, and the body read by `read`, to a use case that writes.
template <class Read, class UseCase>
Response at_life_desk(shop::Shop& shop, const Request& request, Read read, UseCase use_case) {
  const auto given = read(request.body);
  if (!given) return refusal(given.error());
  if (const auto own = under_own_name(shop, request, given->by, "by"); !own) {
    return refusal(own.error());
  }
  shop::LifeDesk desk(shop);
  return answer((desk.*use_case)(request.path[2], *given, request.who));
}

}  // namespace

Response see_life(shop::Shop& shop, const Request& request) {
  return answer(shop::LifeDesk(shop).look(request.path[2]));
}

Response move_to(shop::Shop& shop, const Request& request) {
  const auto given = json::move_from(request.body);
  const bool is_at_bench = given && std::ranges::count(kByPin, std::string_view(given->to)) > 0;
  if (given && request.is_by_pin && !is_at_bench) {
    return refusal({Code::kNotAllowed,
                    "a PIN moves an order only within the workshop; sign in with a password",
                    {.field = "to", .value = given->to}});
  }
  return at_life_desk(shop, request, json::move_from, &shop::LifeDesk::move);
}

Response set_flag(shop::Shop& shop, const Request& request) {
  return at_life_desk(shop, request, json::flag_from, &shop::LifeDesk::flag);
}

Response sign_spec(shop::Shop& shop, const Request& request) {
  return at_life_desk(shop, request, json::sign_from, &shop::LifeDesk::sign);
}

Response price_of_change(shop::Shop& shop, const Request& request) {
  const auto choices = json::choices_from(request.body);
  if (!choices) return refusal(choices.error());
  return answer(shop::LifeDesk(shop).price_of_change(request.path[2], *choices));
}

Response change_spec(shop::Shop& shop, const Request& request) {
  return at_life_desk(shop, request, json::change_from, &shop::LifeDesk::change);
}

Response settlement_of(shop::Shop& shop, const Request& request) {
  return answer(shop::LifeDesk(shop).settlement(request.path[2]));
}

}  // namespace rollwright::http

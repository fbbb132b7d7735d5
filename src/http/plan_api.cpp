#include "http/plan_api.hpp"

#include "http/answer.hpp"
#include "json/plan_requests.hpp"
#include "shop/plan_desk.hpp"

namespace rollwright::http {
namespace {

/// A body without fields: what is meant stands in the address.
template <class Then>
Response with_empty_body(const Request& request, Then then) {
  const Result<void> empty = json::nothing_from(request.body);
  return empty ? then() : refusal(empty.error());
}

}  // namespace

Response propose_plan(shop::Shop& shop, const Request& request) {
  const auto body = json::propose_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.plan_desk().propose(body->wish, body->over), 201);
}

Response see_proposal(shop::Shop& shop, const Request& request) {
  return answer(shop.plan_desk().proposal(request.path[3]));
}

Response improve_proposal(shop::Shop& shop, const Request& request) {
  const auto seconds = json::seconds_from(request.body);
  if (!seconds) return refusal(seconds.error());
  return answer(shop.plan_desk().improve(request.path[3], *seconds), 202);
}

Response stop_proposal(shop::Shop& shop, const Request& request) {
  return with_empty_body(request, [&] { return answer(shop.plan_desk().stop(request.path[3])); });
}

Response agree_proposal(shop::Shop& shop, const Request& request) {
  return with_empty_body(
      request, [&] { return answer(shop.plan_desk().agree(request.path[3], request.who)); });
}

Response leave_proposal(shop::Shop& shop, const Request& request) {
  return with_empty_body(request, [&] { return answer(shop.plan_desk().leave(request.path[3])); });
}

Response set_plan(shop::Shop& shop, const Request& request) {
  const auto settings = json::plan_settings_from(request.body);
  if (!settings) return refusal(settings.error());
  return answer(shop.plan_desk().set_settings(*settings, request.who));
}

Response tell_absence(shop::Shop& shop, const Request& request) {
  const auto days = json::days_away_from(request.body);
  if (!days) return refusal(days.error());
  return answer(shop.plan_desk().tell_absence(request.path[2], *days, request.who));
}

Response calendar_of(shop::Shop& shop, const Request& request) {
  Result<std::string> calendar = shop.plan_desk().calendar(request.path[2]);
  if (!calendar) return refusal(calendar.error());
  return {.type = "text/calendar; charset=utf-8", .body = std::move(*calendar), .headers = {}};
}

}  // namespace rollwright::http

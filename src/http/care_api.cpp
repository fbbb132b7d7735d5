#include "http/care_api.hpp"

#include "http/answer.hpp"
#include "http/own_name.hpp"
#include "json/care_requests.hpp"
#include "shop/care_desk.hpp"

namespace rollwright::http {
namespace {

/// The order that the address names, and the body read by `read`, to a use case that writes.
template <class Read, class UseCase>
Response at_care_desk(shop::Shop& shop, const Request& request, Read read, UseCase use_case) {
  const auto given = read(request.body);
  if (!given) return refusal(given.error());
  if (const auto own = under_own_name(shop, request, given->who, "who"); !own) {
    return refusal(own.error());
  }
  shop::CareDesk desk(shop);
  return answer((desk.*use_case)(request.path[2], *given));
}

}  // namespace

Response coming_back(shop::Shop& shop, const Request&) {
  return answer(shop::CareDesk(shop).coming_back());
}

Response see_care(shop::Shop& shop, const Request& request) {
  return answer(shop::CareDesk(shop).look(request.path[2]));
}

Response open_visit(shop::Shop& shop, const Request& request) {
  return at_care_desk(shop, request, json::visit_from, &shop::CareDesk::open);
}

Response ask_in_visit(shop::Shop& shop, const Request& request) {
  return at_care_desk(shop, request, json::asked_from, &shop::CareDesk::ask);
}

Response give_bike_back(shop::Shop& shop, const Request& request) {
  return at_care_desk(shop, request, json::back_from, &shop::CareDesk::give_back);
}

Response remind_rider(shop::Shop& shop, const Request& request) {
  return at_care_desk(shop, request, json::reminded_from, &shop::CareDesk::remind);
}

}  // namespace rollwright::http

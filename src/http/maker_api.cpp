#include "http/maker_api.hpp"

#include <fmt/format.h>

#include "http/answer.hpp"
#include "http/own_name.hpp"
#include "json/maker_requests.hpp"
#include "shop/maker_desk.hpp"

namespace rollwright::http {
namespace {

/// The order that the address names, and the body read by `read`, to a use case that writes.
template <class Read, class UseCase>
Response at_maker_desk(shop::Shop& shop, const Request& request, Read read, UseCase use_case) {
  const auto given = read(request.body);
  if (!given) return refusal(given.error());
  if (const auto own = under_own_name(shop, request, given->who, "who"); !own) {
    return refusal(own.error());
  }
  shop::MakerDesk desk(shop);
  return answer((desk.*use_case)(request.path[2], *given));
}

}  // namespace

Response see_maker(shop::Shop& shop, const Request& request) {
  return answer(shop::MakerDesk(shop).look(request.path[2]));
}

Response send_maker_form(shop::Shop& shop, const Request& request) {
  return at_maker_desk(shop, request, json::maker_form_from, &shop::MakerDesk::send_form);
}

Response take_maker_list(shop::Shop& shop, const Request& request) {
  return at_maker_desk(shop, request, json::maker_list_from, &shop::MakerDesk::take_list);
}

Response answer_difference(shop::Shop& shop, const Request& request) {
  return at_maker_desk(shop, request, json::difference_from, &shop::MakerDesk::answer);
}

Response maker_form_pdf_of(shop::Shop& shop, const Request& request) {
  const auto paper = request.query.find("paper");
  const std::string size = paper == request.query.end() ? "a4" : paper->second;
  if (size != "a4" && size != "letter") {
    return refusal({Code::kBadInput, "the paper is a4 or letter",
                    {.field = "paper", .value = size}});
  }
  return pdf_answer(shop::MakerDesk(shop).form_pdf(request.path[2], size == "letter"),
                    "order-form-" + request.path[2]);
}

Response maker_form_csv_of(shop::Shop& shop, const Request& request) {
  Result<std::string> csv = shop::MakerDesk(shop).form_csv(request.path[2]);
  if (!csv) return refusal(csv.error());
  return {.type = "text/csv; charset=utf-8",
          .body = std::move(*csv),
          .headers = {{"Content-Disposition",
                       fmt::format("attachment; filename=\"order-form-{}.csv\"",
                                   request.path[2])}}};
}

}  // namespace rollwright::http

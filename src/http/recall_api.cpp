#include "http/recall_api.hpp"

#include <fmt/format.h>

#include "http/answer.hpp"
#include "http/own_name.hpp"
#include "json/recall_requests.hpp"
#include "shop/recall_desk.hpp"

namespace rollwright::http {

Response recall_list(shop::Shop& shop, const Request&) { return answer(shop.recalls().list()); }

Response open_recall(shop::Shop& shop, const Request& request) {
  const auto given = json::recall_from(request.body);
  if (!given) return refusal(given.error());
  if (const auto own = under_own_name(shop, request, given->who, "who"); !own) {
    return refusal(own.error());
  }
  return answer(shop.recalls().open(*given), 201);
}

Response recall_of(shop::Shop& shop, const Request& request) {
  return answer(shop.recalls().recall(request.path[2]));
}

Response tell_recall(shop::Shop& shop, const Request& request) {
  const auto given = json::told_from(request.body);
  if (!given) return refusal(given.error());
  if (const auto own = under_own_name(shop, request, given->who, "who"); !own) {
    return refusal(own.error());
  }
  return answer(shop.recalls().tell(request.path[2], *given));
}

Response close_recall(shop::Shop& shop, const Request& request) {
  const auto given = json::recall_closing_from(request.body);
  if (!given) return refusal(given.error());
  if (const auto own = under_own_name(shop, request, given->who, "who"); !own) {
    return refusal(own.error());
  }
  return answer(shop.recalls().close(request.path[2], *given));
}

Response recall_pdf(shop::Shop& shop, const Request& request) {
  return pdf_answer(shop.recalls().list_pdf(request.path[2]), "recall-" + request.path[2]);
}

Response recall_csv(shop::Shop& shop, const Request& request) {
  Result<std::string> csv = shop.recalls().list_csv(request.path[2]);
  if (!csv) return refusal(csv.error());
  return {.type = "text/csv; charset=utf-8",
          .body = std::move(*csv),
          .headers = {{"Content-Disposition",
                       fmt::format("attachment; filename=\"recall-{}.csv\"", request.path[2])}}};
}

}  // namespace rollwright::http

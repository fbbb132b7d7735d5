#include "http/bench_api.hpp"

#include "http/answer.hpp"
#include "http/own_name.hpp"
#include "json/bench_requests.hpp"
#include "shop/bench_desk.hpp"

namespace rollwright::http {

Response bench_list(shop::Shop& shop, const Request&) { return answer(shop.bench().list()); }

Response bench_bike(shop::Shop& shop, const Request& request) {
  return answer(shop.bench().bike(request.path[2]));
}

Response write_record(shop::Shop& shop, const Request& request) {
  const auto given = json::deeds_from(request.body);
  if (!given) return refusal(given.error());
  if (const auto own = under_own_name(shop, request, given->who, "who"); !own) return refusal(own.error());
  return answer(shop.bench().write(request.path[2], *given));
}

Response history_of(shop::Shop& shop, const Request& request) {
  return answer(shop.bench().history(request.path[2]));
}

Response history_pdf_of(shop::Shop& shop, const Request& request) {
  return pdf_answer(shop.bench().history_pdf(request.path[2]), "history-" + request.path[2]);
}

Response owners_pack_of(shop::Shop& shop, const Request& request) {
  return pdf_answer(shop.bench().owners_pack_pdf(request.path[2]), "owners-pack-" + request.path[2]);
}

Response trace_part(shop::Shop& shop, const Request& request) {
  shop::TraceWish wish;
  const std::pair<const char*, std::string*> fields[] = {{"part", &wish.part},
                                                         {"lot_from", &wish.lot_from},
                                                         {"lot_to", &wish.lot_to},
                                                         {"serial_from", &wish.serial_from},
                                                         {"serial_to", &wish.serial_to}};
  for (const auto& [name, into] : fields) {
    const auto asked = request.query.find(name);
    if (asked != request.query.end()) *into = asked->second;
  }
  return answer(shop.bench().trace(wish));
}

}  // namespace rollwright::http

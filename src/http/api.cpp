#include "http/api.hpp"

#include <algorithm>
#include <functional>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "http/answer.hpp"
#include "http/bench_api.hpp"
#include "http/care_api.hpp"
#include "http/label_api.hpp"
#include "http/life_api.hpp"
#include "http/maker_api.hpp"
#include "http/order_aid.hpp"
#include "http/order_does.hpp"
#include "http/photo_api.hpp"
#include "http/plan_api.hpp"
#include "http/recall_api.hpp"
#include "json/goods_requests.hpp"
#include "json/requests.hpp"

namespace rollwright::http {
namespace {

constexpr int kMostDraws = 20'000;

Response list_aids() { return {.body = json::text_of(aids::all_aids())}; }

/// The body is the file, the other fields stand in the query.
Response reckon_from_file(shop::Shop&, const Request& request) {
  const auto aid = aids::aid_called(request.path[2]);
  if (!aid) return refusal(aid.error());
  const aids::Input* field = aids::file_field(**aid);
  if (field == nullptr) {
    return refusal({Code::kBadInput, (*aid)->id + " takes no file", {.field = "body"}});
  }
  aids::Typed typed = request.query;
  typed[field->key] = request.body;
  return answer(aids::reckon(request.path[2], typed));
}

/// Whatever stands in the query beside the end goes before the order's values.
Response order_aid_of(shop::Shop& shop, const Request& request) {
  OrderAid asked{.order = request.path[2], .aid = request.path[4], .end = {},
                 .typed = request.query};
  if (const auto end = asked.typed.extract("end")) asked.end = end.mapped();
  return answer(order_aid(shop, asked));
}

/// One path of the API: pieces that start with ':' take any text.
struct Route {
  std::string method;
  std::vector<std::string> pattern;
  std::function<Response(shop::Shop&, const Request&)> answer;
};

struct Number {
  const char* name;
  int most;
  int usual;  // when nothing is said
};
/// A number from 1 on in the query.
Result<int> asked_number(const Request& request, const Number& number) {
  const auto asked = request.query.find(number.name);
  if (asked == request.query.end()) return number.usual;
  const auto value = to_whole(asked->second);
  if (!value || *value < 1 || *value > number.most) {
    return refuse(Code::kOutOfRange,
                  fmt::format("{} is a number from 1 to {}", number.name, number.most),
                  {.field = number.name, .value = asked->second});
  }
  return static_cast<int>(*value);
}

/// How many draws are asked for; `usual` when nothing is said.
Result<int> draws_asked(const Request& request, int usual) {
  return asked_number(request, {.name = "draws", .most = kMostDraws, .usual = usual});
}

Response load_of(shop::Shop& shop, const Request& request) {
  const Result<int> weeks = asked_number(request, {.name = "weeks", .most = 52, .usual = 6});
  return weeks ? answer(shop.load(*weeks)) : refusal(weeks.error());
}

Response promise_of(shop::Shop& shop, const Request& request) {
  const Result<int> draws = draws_asked(request, 2000);
  return draws ? answer(shop.promise(request.path[2], *draws)) : refusal(draws.error());
}

Response sooner_of(shop::Shop& shop, const Request& request) {
  const Result<int> draws = draws_asked(request, 400);
  return draws ? answer(shop.sooner(request.path[2], *draws)) : refusal(draws.error());
}

Response sheet_pdf_of(shop::Shop& shop, const Request& request) {
  return pdf_answer(order_sheet_pdf(shop, request.path[2]), "sheet-" + request.path[2]);
}

Response choose(shop::Shop& shop, const Request& request) {
  const auto body = json::choose_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.choose(request.path[2], request.path[4], body->part, body->revision, request.who));
}

/// A number of the query from nothing up; nothing when it is left out.
Result<double> worth_in(const Request& request, const std::string& name) {
  constexpr double kMost = 1e9;
  const auto asked = request.query.find(name);
  if (asked == request.query.end()) return 0.0;
  const auto number = to_number(asked->second);
  if (number && 0 <= *number && *number <= kMost) return *number;
  return refuse(Code::kOutOfRange, fmt::format("{} is a number of cents from 0 to {:.0f}", name, kMost),
                {.field = name, .value = asked->second});
}

Response complete(shop::Shop& shop, const Request& request) {
  shop::CompletionWish wish;
  const auto aim = request.query.find("aim");
  if (aim != request.query.end()) wish.aim = aim->second;
  const auto per_kg = worth_in(request, "cents_per_kg");
  const auto per_day = worth_in(request, "cents_per_day");
  if (!per_kg) return refusal(per_kg.error());
  if (!per_day) return refusal(per_day.error());
  wish.cents_per_kg = *per_kg;
  wish.cents_per_day = *per_day;
  return answer(shop.complete(request.path[2], wish));
}

Response choose_all(shop::Shop& shop, const Request& request) {
  const auto body = json::choose_all_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.choose_all(request.path[2], body->choices, body->revision, request.who));
}

Response agree(shop::Shop& shop, const Request& request) {
  const auto body = json::agree_from(request.body);
  if (!body) return refusal(body.error());
  return answer(
      shop.agree(request.path[2], body->promised, body->deposit_cents, body->revision, request.who));
}

Response answer_question(shop::Shop& shop, const Request& request) {
  auto body = json::answer_from(request.body);
  if (!body) return refusal(body.error());
  body->question = request.path[4];
  return answer(shop.answer_question(request.path[2], *body, request.who));
}

Response set_budget(shop::Shop& shop, const Request& request) {
  const auto body = json::budget_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.set_budget(request.path[2], *body, request.who));
}

Response follow_up(shop::Shop& shop, const Request& request) {
  const auto body = json::follow_up_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.follow_up(request.path[2], *body, request.who));
}

Response measure_fact(shop::Shop& shop, const Request& request) {
  const auto body = json::fact_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.measure_fact(request.path[2], request.path[4], *body, request.who));
}

Response new_order(shop::Shop& shop, const Request& request) {
  const auto body = json::new_order_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.new_order(*body, request.who), 201);
}

Response find(shop::Shop& shop, const Request& request) {
  const auto words = request.query.find("q");
  return answer(shop.find(words == request.query.end() ? "" : words->second));
}

Response propose_mapping(shop::Shop& shop, const Request& request) {
  const auto given = json::given_list_from(request.body);
  return given ? answer(shop.propose_mapping(*given)) : refusal(given.error());
}

Response preview_list(shop::Shop& shop, const Request& request) {
  const auto given = json::given_list_from(request.body);
  return given ? answer(shop.preview_catalogue(*given)) : refusal(given.error());
}

Response take_in_list(shop::Shop& shop, const Request& request) {
  const auto body = json::take_in_from(request.body);
  if (!body) return refusal(body.error());
  return answer(shop.import_catalogue(body->given, body->how, request.who));
}

Response take_back_list(shop::Shop& shop, const Request& request) {
  const auto number = json::undo_from(request.body);
  return number ? answer(shop.undo_import(*number, request.who)) : refusal(number.error());
}

/// A change of the purchase line that the address names, its body read by `read`.
template <class Read, class UseCase>
Response at_goods_in(shop::Shop& shop, const Request& request, Read read, UseCase use_case) {
  const auto given = read(request.body);
  if (!given) return refusal(given.error());
  return answer((shop.*use_case)(request.path[2], *given, request.who));
}

Response receive(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::received_from, &shop::Shop::receive);
}

Response goods_step(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::goods_step_from, &shop::Shop::goods_step);
}

Response miscounted(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::miscount_from, &shop::Shop::miscounted);
}

Response claim_step(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::claim_step_from, &shop::Shop::claim_step);
}

Response leg_done(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::leg_from, &shop::Shop::leg_done);
}

Response freight_mode(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::mode_from, &shop::Shop::freight_mode);
}

Response use_up(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::use_from, &shop::Shop::use_up);
}

Response give_up_line(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::note_from, &shop::Shop::give_up);
}

Response place_purchase(shop::Shop& shop, const Request& request) {
  const auto given = json::purchase_from(request.body);
  return given ? answer(shop.place(*given, request.who), 201) : refusal(given.error());
}

Response confirm_line(shop::Shop& shop, const Request& request) {
  return at_goods_in(shop, request, json::confirmed_from, &shop::Shop::confirm_line);
}

const std::vector<Route>& routes() {
  using S = shop::Shop;
  using R = Request;
  static const std::vector<Route> kRoutes = {
      {"GET", {"api", "shop"}, [](S& s, const R&) { return answer(s.about()); }},
      {"GET", {"api", "today"}, [](S& s, const R&) { return answer(s.today()); }},
      {"GET", {"api", "orders"}, [](S& s, const R&) { return answer(s.orders()); }},
      {"POST", {"api", "orders"}, new_order},
      {"GET", {"api", "orders", ":id"}, [](S& s, const R& r) { return answer(s.order(r.path[2])); }},
      {"GET",
       {"api", "orders", ":id", "choices", ":slot"},
       [](S& s, const R& r) { return answer(s.choices(r.path[2], r.path[4])); }},
      {"PUT", {"api", "orders", ":id", "choices", ":slot"}, choose},
      {"POST", {"api", "orders", ":id", "choices"}, choose_all},
      {"GET", {"api", "orders", ":id", "complete"}, complete},
      {"GET",
       {"api", "orders", ":id", "trade-offs"},
       [](S& s, const R& r) { return answer(s.trade_offs(r.path[2])); }},
      {"GET",
       {"api", "orders", ":id", "repairs"},
       [](S& s, const R& r) { return answer(s.repairs(r.path[2])); }},
      {"GET",
       {"api", "orders", ":id", "why-not", ":slot", ":part"},
       [](S& s, const R& r) { return answer(s.why_not(r.path[2], r.path[4], r.path[5])); }},
      {"GET", {"api", "orders", ":id", "promise"}, promise_of},
      {"GET", {"api", "orders", ":id", "sooner"}, sooner_of},
      {"POST", {"api", "orders", ":id", "agree"}, agree},
      {"GET", {"api", "orders", ":id", "life"}, see_life},
      {"POST", {"api", "orders", ":id", "move-to"}, move_to},
      {"POST", {"api", "orders", ":id", "flags"}, set_flag},
      {"POST", {"api", "orders", ":id", "sign-spec"}, sign_spec},
      {"POST", {"api", "orders", ":id", "change-price"}, price_of_change},
      {"POST", {"api", "orders", ":id", "change"}, change_spec},
      {"GET", {"api", "orders", ":id", "settlement"}, settlement_of},
      {"GET", {"api", "orders", ":id", "maker"}, see_maker},
      {"POST", {"api", "orders", ":id", "maker", "form"}, send_maker_form},
      {"GET", {"api", "orders", ":id", "maker", "form.pdf"}, maker_form_pdf_of},
      {"GET", {"api", "orders", ":id", "maker", "form.csv"}, maker_form_csv_of},
      {"POST", {"api", "orders", ":id", "maker", "lists"}, take_maker_list},
      {"POST", {"api", "orders", ":id", "maker", "answers"}, answer_difference},
      {"GET", {"api", "care"}, coming_back},
      {"GET", {"api", "orders", ":id", "care"}, see_care},
      {"POST", {"api", "orders", ":id", "care", "visit"}, open_visit},
      {"POST", {"api", "orders", ":id", "care", "asked"}, ask_in_visit},
      {"POST", {"api", "orders", ":id", "care", "back"}, give_bike_back},
      {"POST", {"api", "orders", ":id", "care", "reminded"}, remind_rider},
      {"GET", {"api", "questions"}, [](S& s, const R&) { return answer(s.questions("")); }},
      {"PUT", {"api", "orders", ":id", "questions", ":question"}, answer_question},
      {"PUT", {"api", "orders", ":id", "budget"}, set_budget},
      {"PUT", {"api", "orders", ":id", "follow-up"}, follow_up},
      {"GET", {"api", "facts", "not-known"}, [](S& s, const R&) { return answer(s.not_known_facts()); }},
      {"PUT", {"api", "parts", ":id", "facts", ":attribute"}, measure_fact},
      {"GET",
       {"api", "orders", ":id", "sheet"},
       [](S& s, const R& r) { return answer(s.sheet(r.path[2])); }},
      {"GET", {"api", "orders", ":id", "sheet.pdf"}, sheet_pdf_of},
      {"GET", {"api", "orders", ":id", "aids", ":aid"}, order_aid_of},
      {"GET",
       {"api", "orders", ":id", "does"},
       [](S& s, const R& r) { return answer(order_does(s, r.path[2])); }},
      {"GET", {"api", "bench"}, bench_list},
      {"GET", {"api", "bench", ":id"}, bench_bike},
      {"POST", {"api", "bench", ":id", "record"}, write_record},
      {"GET", {"api", "bikes", ":id", "history"}, history_of},
      {"GET", {"api", "bikes", ":id", "history.pdf"}, history_pdf_of},
      {"GET", {"api", "bikes", ":id", "owners-pack.pdf"}, owners_pack_of},
      {"GET", {"api", "bikes", ":id", "photos"}, photos_of_bike},
      {"POST", {"api", "bikes", ":id", "photos"}, photograph_bike},
      {"GET", {"api", "pictures", ":hash"}, picture_of},
      {"GET", {"api", "pictures", ":hash", "small"}, small_picture_of},
      {"GET", {"api", "trace"}, trace_part},
      {"GET", {"api", "recalls"}, recall_list},
      {"POST", {"api", "recalls"}, open_recall},
      {"GET", {"api", "recalls", ":id"}, recall_of},
      {"POST", {"api", "recalls", ":id", "told"}, tell_recall},
      {"POST", {"api", "recalls", ":id", "close"}, close_recall},
      {"GET", {"api", "recalls", ":id", "list.pdf"}, recall_pdf},
      {"GET", {"api", "recalls", ":id", "list.csv"}, recall_csv},
      {"GET", {"api", "labels"}, labels},
      {"GET", {"api", "labels.pdf"}, labels_pdf},
      {"GET", {"api", "labels.svg"}, labels_svg},
      {"GET", {"api", "kept"}, [](S& s, const R&) { return answer(s.kept()); }},
      {"GET", {"api", "plan"}, [](S& s, const R&) { return answer(s.plan()); }},
      {"GET", {"api", "load"}, load_of},
      {"GET", {"api", "minutes"}, [](S& s, const R&) { return answer(s.minutes()); }},
      {"POST", {"api", "plan", "proposals"}, propose_plan},
      {"GET", {"api", "plan", "proposals", ":id"}, see_proposal},
      {"POST", {"api", "plan", "proposals", ":id", "improve"}, improve_proposal},
      {"POST", {"api", "plan", "proposals", ":id", "stop"}, stop_proposal},
      {"POST", {"api", "plan", "proposals", ":id", "agree"}, agree_proposal},
      {"POST", {"api", "plan", "proposals", ":id", "leave"}, leave_proposal},
      {"PUT", {"api", "plan", "settings"}, set_plan},
      {"POST", {"api", "people", ":id", "absences"}, tell_absence},
      {"GET", {"api", "people", ":id", "plan.ics"}, calendar_of},
      {"GET", {"api", "buy"}, [](S& s, const R&) { return answer(s.buy()); }},
      {"POST", {"api", "purchases"}, place_purchase},
      {"GET", {"api", "arrivals"}, [](S& s, const R&) { return answer(s.arrivals()); }},
      {"GET",
       {"api", "arrivals", ":line"},
       [](S& s, const R& r) { return answer(s.arrival(r.path[2])); }},
      {"POST", {"api", "arrivals", ":line", "receive"}, receive},
      {"POST", {"api", "arrivals", ":line", "miscounts"}, miscounted},
      {"POST", {"api", "arrivals", ":line", "steps"}, goods_step},
      {"POST", {"api", "arrivals", ":line", "claims"}, claim_step},
      {"POST", {"api", "arrivals", ":line", "photos"}, photograph_goods},
      {"POST", {"api", "arrivals", ":line", "legs"}, leg_done},
      {"PUT", {"api", "arrivals", ":line", "mode"}, freight_mode},
      {"PUT", {"api", "arrivals", ":line", "confirmed"}, confirm_line},
      {"POST", {"api", "arrivals", ":line", "give-up"}, give_up_line},
      {"GET", {"api", "small-stock"}, [](S& s, const R&) { return answer(s.small_stock()); }},
      {"POST", {"api", "parts", ":id", "used"}, use_up},
      {"GET", {"api", "parts"}, [](S& s, const R&) { return answer(s.parts()); }},
      {"GET", {"api", "parts", ":id"}, [](S& s, const R& r) { return answer(s.part(r.path[2])); }},
      {"GET", {"api", "catalogue"}, [](S& s, const R&) { return answer(s.imports()); }},
      {"POST", {"api", "catalogue", "propose"}, propose_mapping},
      {"POST", {"api", "catalogue", "preview"}, preview_list},
      {"POST", {"api", "catalogue", "import"}, take_in_list},
      {"POST", {"api", "catalogue", "undo"}, take_back_list},
      {"GET", {"api", "find"}, find},
      {"GET", {"api", "aids"}, [](S&, const R&) { return list_aids(); }},
      {"GET",
       {"api", "aids", ":id"},
       [](S&, const R& r) { return answer(aids::reckon(r.path[2], r.query)); }},
      {"POST", {"api", "aids", ":id"}, reckon_from_file},
      {"GET",
       {"api", "journal", "verify"},
       [](S& s, const R& r) {
         const auto printed = r.query.find("printed");
         return answer(s.verify(printed == r.query.end() ? "" : printed->second));
       }},
  };
  return kRoutes;
}

bool matches(const Route& route, const std::vector<std::string>& path) {
  return route.pattern.size() == path.size() &&
         std::equal(path.begin(), path.end(), route.pattern.begin(),
                    [](const std::string& piece, const std::string& wanted) {
                      return wanted.starts_with(':') || piece == wanted;
                    });
}

bool takes(const Route& route, const std::string& method) {
  return route.method == method || (method == "HEAD" && route.method == "GET");
}

std::optional<std::string> decoded(std::string_view text, bool plus_is_space) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '+' && plus_is_space) c = ' ';
    if (c == '%') {
      const auto digit = [&](std::size_t at) -> int {
        if (at >= text.size()) return -1;
        const auto found = std::string_view("0123456789abcdef").find(
            static_cast<char>(std::tolower(static_cast<unsigned char>(text[at]))));
        return found == std::string_view::npos ? -1 : static_cast<int>(found);
      };
      const int high = digit(i + 1);
      const int low = digit(i + 2);
      if (high < 0 || low < 0) return std::nullopt;
      c = static_cast<char>(high * 16 + low);
      i += 2;
    }
    if (c == '\0') return std::nullopt;
    plain += c;
  }
  return is_utf8(plain) ? std::optional(plain) : std::nullopt;
}

std::unexpected<Error> bad_target() {
  return refuse(Code::kBadInput, "this address is not written in a way that can be read");
}

}  // namespace

Response refusal(const Error& error) {
  return {.status = row_of(error.code).http_status, .body = json::text_of(error)};
}

Result<Request> parse_target(std::string_view method, std::string_view target) {
  Request request{.method = std::string(method)};
  const std::size_t mark = target.find('?');
  std::string_view path = target.substr(0, mark);
  while (!path.empty()) {
    path.remove_prefix(path.front() == '/' ? 1 : 0);
    const std::size_t end = std::min(path.find('/'), path.size());
    const auto piece = decoded(path.substr(0, end), false);
    if (!piece) return bad_target();
    if (!piece->empty()) request.path.push_back(*piece);
    path.remove_prefix(end);
  }
  std::string_view query = mark == std::string_view::npos ? "" : target.substr(mark + 1);
  while (!query.empty()) {
    const std::size_t end = std::min(query.find('&'), query.size());
    const std::string_view pair = query.substr(0, end);
    const std::size_t equals = std::min(pair.find('='), pair.size());
    const auto key = decoded(pair.substr(0, equals), true);
    const auto value = decoded(pair.substr(std::min(equals + 1, pair.size())), true);
    if (!key || !value) return bad_target();
    request.query[*key] = *value;
    query.remove_prefix(std::min(end + 1, query.size()));
  }
  return request;
}

bool is_route(const Request& request) {
  return std::ranges::any_of(routes(), [&request](const Route& route) {
    return matches(route, request.path) && takes(route, request.method);
  });
}

std::vector<std::string> all_routes() {
  std::vector<std::string> all;
  for (const Route& route : routes()) {
    all.push_back(route.method + " /" + join(route.pattern, "/"));
  }
  return all;
}

Response answer_api(shop::Shop& shop, const Request& request) {
  std::vector<std::string> allowed;
  for (const Route& route : routes()) {
    if (!matches(route, request.path)) continue;
    if (takes(route, request.method)) return route.answer(shop, request);
    allowed.push_back(route.method);
    if (route.method == "GET") allowed.emplace_back("HEAD");
  }
  if (allowed.empty()) return refusal({Code::kNotFound, "there is nothing at this address"});
  Response response = refusal({Code::kBadInput, "this address does not take " + request.method});
  response.status = 405;
  response.headers["Allow"] = join(allowed, ", ");
  return response;
}

}  // namespace rollwright::http

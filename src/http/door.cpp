#include "http/door.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/answer.hpp"
#include "http/token.hpp"
#include "json/people_requests.hpp"
#include "json/plan_requests.hpp"
#include "trade/label_code.hpp"

namespace rollwright::http {

namespace {

constexpr const char* kSessionCookie = "rollwright_session";
constexpr const char* kStationCookie = "rollwright_station";
constexpr SessionLimits kLimits;
constexpr ThrottleLimits kOfPasswords;
/// A PIN is short: five wrong ones, however far apart, and the password has to be said once.
constexpr ThrottleLimits kOfPins{.free = 3,
                                 .first_wait = std::chrono::seconds(2),
                                 .most_wait = std::chrono::seconds(60),
                                 .forget = std::chrono::hours(24 * 365),
                                 .locks_after = 5};
/// A shop may come from one address, so this is only against trying many names.
constexpr ThrottleLimits kOfAddresses{.free = 20,
                                      .first_wait = std::chrono::seconds(2),
                                      .most_wait = std::chrono::seconds(60),
                                      .forget = std::chrono::minutes(15)};
constexpr std::size_t kMostName = 64;
constexpr const char* kWrong = "the name or the password is not right";

std::string cookie_of(const Request& request, const char* name) {
  const auto found = request.cookies.find(name);
  return found == request.cookies.end() ? std::string() : found->second;
}

Response refused_as(int status, std::string sentence) {
  Response response = refusal({Code::kNotAllowed, std::move(sentence)});
  response.status = status;
  return response;
}

Response nobody_signs_in_yet() {
  return refusal({Code::kRefused, "nobody has to sign in yet: make the owner first"});
}

Roles roles_of(const std::vector<std::string>& words) {
  Roles roles = 0;
  for (const std::string& word : words) roles |= role_of(word);
  return roles;
}

bool is_of_the_bench(const std::vector<std::string>& words) {
  return (roles_of(words) & (kBench | kOwner)) != 0;
}

shop::MeView view_of(const Caller& caller) {
  shop::MeView view{.open = caller.is_open, .person = caller.person.text, .name = caller.name,
                    .roles = words_of(caller.roles), .at = {}, .station = {}};
  if (!caller.person.empty()) view.at = caller.at == At::kDesk ? "desk" : "bench";
  if (caller.station) view.station = caller.station->name;
  return view;
}

/// Why the caller may not, and what it would take.
std::string lacking(const Caller& caller, const Right& right) {
  if (right.may == kStation) {
    return "this is for tablets that the owner has made a station of the bench";
  }
  const std::string by_pin = caller.at == At::kBench ? ", signed in with a password" : "";
  return fmt::format("{} may not do this: it takes the role {}{}", caller.name,
                     join(words_of(right.may), " or "), by_pin);
}

}  // namespace

/// An address that the door answers itself.
struct DoorRoute {
  const char* method;
  const char* path;
  Response (Door::*answer)(const Request&, const Caller&);

  static const DoorRoute* of(const Right* right) {
    static constexpr DoorRoute kRoutes[] = {
        {"GET", "/api/health", &Door::health},
        {"GET", "/api/me", &Door::me},
        {"POST", "/api/sign-in", &Door::sign_in},
        {"POST", "/api/sign-out", &Door::sign_out},
        {"POST", "/api/people/first", &Door::first_owner},
        {"GET", "/api/bench/people", &Door::bench_people},
        {"POST", "/api/bench/sign-in", &Door::bench_sign_in},
        {"GET", "/api/people", &Door::people},
        {"PUT", "/api/people/{id}/password", &Door::set_password},
        {"PUT", "/api/people/{id}/pin", &Door::set_pin},
        {"POST", "/api/people/{id}/take-away", &Door::take_away},
        {"POST", "/api/stations", &Door::pair},
        {"POST", "/api/stations/{number}/leave", &Door::leave},
    };
    if (right == nullptr) return nullptr;
    const auto found = std::ranges::find_if(kRoutes, [right](const DoorRoute& route) {
      return std::string_view(route.path) == right->path &&
             std::string_view(route.method) == right->method;
    });
    return found == std::end(kRoutes) ? nullptr : found;
  }
};

Door::Door(shop::Shop& shop, Now now, bool is_https)
    : shop_(shop), sessions_(now, kLimits), passwords_(kOfPasswords, now), pins_(kOfPins, now),
      addresses_(kOfAddresses, now), is_https_(is_https) {}

bool Door::is_slow(const Request& request) {
  if (request.method != "POST" && request.method != "PUT") return false;
  const std::string address = "/" + join(request.path, "/");
  return address == "/api/sign-in" || address == "/api/bench/sign-in" ||
         address.starts_with("/api/people/");
}

bool Door::may_end_sessions(const Request& request) {
  const std::string address = "/" + join(request.path, "/");
  return is_slow(request) || (request.method == "POST" && (address == "/api/sign-out" ||
                                                            address.starts_with("/api/stations")));
}

// Who asks ----------------------------------------------------------------------------------------

std::optional<Caller> Door::in_session(const Request& request,
                                       const std::optional<Station>& station) {
  const std::string token = cookie_of(request, kSessionCookie);
  const auto session = sessions_.find(token, !request.nobody_is_there);
  if (!session) return std::nullopt;
  const Result<shop::Known> known = shop_.people_desk().person(session->person);
  const bool at_desk = session->at == At::kDesk;
  const auto proof = at_desk ? shop::Proof::kPassword : shop::Proof::kPin;
  const bool is_proven = known && !known->hash(proof).empty() &&
                         same_text(known->hash(proof), session->proof);
  const bool is_there = at_desk || (station && station->number == session->station);
  if (!is_proven || !is_there) {
    sessions_.end(token);
    return std::nullopt;
  }
  Roles roles = roles_of(known->roles);
  if (!at_desk) roles = is_of_the_bench(known->roles) ? kBench : Roles{0};
  return Caller{.is_open = false, .person = known->id, .name = known->name, .roles = roles,
                .at = session->at, .station = station};
}

Result<Caller> Door::caller(const Request& request) {
  const Result<bool> open = shop_.people_desk().is_open();
  if (!open) return std::unexpected(open.error());
  if (*open) return Caller{};
  const auto station = sessions_.station(cookie_of(request, kStationCookie));
  if (auto caller = in_session(request, station)) return *caller;
  return Caller{.is_open = false, .person = {}, .name = {}, .roles = 0, .at = At::kDesk,
                .station = station};
}

std::optional<Response> Door::refusal_for(const Caller& caller, const Request& request) {
  if (caller.is_open) return std::nullopt;
  const Right* right = right_of(request.method, request.path);
  const Roles may = right != nullptr ? right->may : is_route(request) ? kOwner : kEverybody;
  if ((may & kAnyone) != 0) return std::nullopt;
  if ((may & kStation) != 0 && caller.station) return std::nullopt;
  if ((may & kStation) != 0) return refused_as(403, lacking(caller, *right));
  if (caller.person.empty()) {
    return refused_as(401, caller.station ? "choose your name and say your PIN first"
                                          : "sign in first");
  }
  if ((may & caller.roles) != 0) return std::nullopt;
  const bool is_self = request.path.size() > 2 && request.path[2] == caller.person.text;
  if ((may & kSelf) != 0 && is_self) return std::nullopt;
  const Right lacked = right != nullptr ? *right : Right{"", "", kOwner};
  return refused_as(403, lacking(caller, lacked));
}

std::optional<Response> Door::turned_away(const Request& request) {
  const Result<Caller> who = caller(request);
  if (!who) return refusal(who.error());
  return refusal_for(*who, request);
}

Response Door::answer(Request request) {
  const Result<Caller> who = caller(request);
  if (!who) return refusal(who.error());
  if (auto refused = refusal_for(*who, request)) return std::move(*refused);
  request.is_signed_in = !who->person.empty();
  request.is_by_pin = request.is_signed_in && who->at == At::kBench;
  if (request.is_signed_in) request.who = who->person.text;
  const Right* right = right_of(request.method, request.path);
  if (const DoorRoute* route = DoorRoute::of(right)) return (this->*route->answer)(request, *who);
  return answer_api(shop_, request);
}

// Tries -------------------------------------------------------------------------------------------

std::optional<Response> Door::held_back(Throttle& by_person, const std::string& key,
                                        const std::string& from) {
  const auto wait_for = [](std::chrono::seconds wait) {
    Response response = refused_as(429, fmt::format("too many wrong tries; wait {} s before the "
                                                    "next",
                                                    wait.count()));
    response.headers["Retry-After"] = std::to_string(wait.count());
    return response;
  };
  const Throttle::Verdict by_address = addresses_.take(from);
  if (!by_address.may) return wait_for(by_address.wait);
  const Throttle::Verdict verdict = by_person.take(key);
  if (verdict.may) return std::nullopt;
  addresses_.give_back(from);
  if (!verdict.is_locked) return wait_for(verdict.wait);
  return refused_as(403, "too many wrong PINs: sign in once at the desk with the password, or let the "
                         "owner set another PIN");
}

std::optional<Response> Door::unproven(const trade::PersonId& person, const std::string& words,
                                       const Request& request) {
  const std::string key = lowered(person.text);
  if (auto wait = held_back(passwords_, key, request.from)) return wait;
  const Result<bool> proven =
      shop_.people_desk().proves(person, shop::Proof::kPassword, words);
  if (!proven) return refusal(proven.error());
  if (!*proven) return refused_as(401, kWrong);
  passwords_.right(key);
  pins_.right(key);
  addresses_.give_back(request.from);
  return std::nullopt;
}

// In and out --------------------------------------------------------------------------------------

std::string Door::cookie(const char* name, const std::string& value,
                         std::chrono::seconds lasts) const {
  return fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict; Max-Age={}{}", name, value,
                     lasts.count(), is_https_ ? "; Secure" : "");
}

Response Door::let_in(const Request& request, Session session, int status) {
  // A token from before somebody signed in is worth nothing afterwards.
  sessions_.end(cookie_of(request, kSessionCookie));
  Request again = request;
  again.cookies[kSessionCookie] = sessions_.begin(std::move(session));
  const Result<Caller> who = caller(again);
  if (!who) return refusal(who.error());
  Response response = {.status = status, .body = json::text_of(view_of(*who))};
  response.cookies = {cookie(kSessionCookie, again.cookies[kSessionCookie], kLimits.most)};
  return response;
}

Response Door::health(const Request&, const Caller&) { return {.body = R"({"well":true})"}; }

Response Door::me(const Request&, const Caller& caller) {
  return {.body = json::text_of(view_of(caller))};
}

Response Door::sign_in(const Request& request, const Caller& caller) {
  const auto given = json::sign_in_from(request.body, shop::Proof::kPassword);
  if (!given) return refusal(given.error());
  if (caller.is_open) return nobody_signs_in_yet();
  if (given->person.size() > kMostName) return refused_as(401, kWrong);
  const Result<trade::PersonId> person = shop_.people_desk().typed(given->person);
  if (!person) return refusal(person.error());
  if (auto refused = unproven(*person, given->secret, request)) return std::move(*refused);
  const Result<shop::Known> known = shop_.people_desk().person(*person);
  if (!known) return refusal(known.error());
  return let_in(request,
                {.person = *person, .at = At::kDesk, .proof = known->password,
                 .station = caller.station ? caller.station->number : std::string()},
                200);
}

Response Door::sign_out(const Request& request, const Caller& caller) {
  if (const auto empty = json::nothing_from(request.body); !empty) return refusal(empty.error());
  sessions_.end(cookie_of(request, kSessionCookie));
  const Caller out{.is_open = caller.is_open, .person = {}, .name = {}, .roles = 0,
                   .at = At::kDesk, .station = caller.station};
  Response response = {.body = json::text_of(view_of(out))};
  response.cookies = {cookie(kSessionCookie, "", std::chrono::seconds(0))};
  return response;
}

Response Door::first_owner(const Request& request, const Caller&) {
  const auto given = json::owner_from(request.body);
  if (!given) return refusal(given.error());
  const auto owner = shop_.people_desk().make_owner(*given, "", true);
  if (!owner) return refusal(owner.error());
  const trade::PersonId id(owner->id);
  const Result<shop::Known> known = shop_.people_desk().person(id);
  if (!known) return refusal(known.error());
  return let_in(request, {.person = id, .at = At::kDesk, .proof = known->password, .station = {}},
                201);
}

// The bench ---------------------------------------------------------------------------------------

Response Door::bench_people(const Request&, const Caller& caller) {
  if (caller.is_open) return nobody_signs_in_yet();
  const auto all = shop_.people_desk().people();
  if (!all) return refusal(all.error());
  std::vector<shop::StationPerson> there;
  for (const shop::PersonSignIn& person : all->people) {
    if (!person.has_pin || !is_of_the_bench(person.roles)) continue;
    const trade::LabelCode label{.kind = trade::LabelKind::kPerson, .id = person.id, .wheel = {}};
    there.push_back({person.id, person.name, trade::write_label_code(label)});
  }
  return {.body = json::text_of(there)};
}

Response Door::bench_sign_in(const Request& request, const Caller& caller) {
  const auto given = json::sign_in_from(request.body, shop::Proof::kPin);
  if (!given) return refusal(given.error());
  if (caller.is_open) return nobody_signs_in_yet();
  const trade::PersonId person(given->person);
  const Result<shop::Known> known = shop_.people_desk().person(person);
  if (!known || known->pin.empty() || !is_of_the_bench(known->roles)) {
    return refusal({Code::kNotFound, "nobody with a PIN is called so at the bench",
                    {.field = "person", .value = given->person}});
  }
  const std::string key = lowered(person.text);
  if (auto wait = held_back(pins_, key, request.from)) return std::move(*wait);
  const Result<bool> proven = shop_.people_desk().proves(person, shop::Proof::kPin, given->secret);
  if (!proven) return refusal(proven.error());
  if (!*proven) return refused_as(401, "this is not the PIN of " + known->name);
  pins_.right(key);
  addresses_.give_back(request.from);
  return let_in(request,
                {.person = person, .at = At::kBench, .proof = known->pin,
                 .station = caller.station->number},
                200);
}

Response Door::pair(const Request& request, const Caller& caller) {
  const auto name = json::station_name_from(request.body);
  if (!name) return refusal(name.error());
  if (caller.is_open) return nobody_signs_in_yet();
  const std::string called(trim(*name));
  if (called.empty() || called.size() > kMostName) {
    return refusal({Code::kBadInput, "a station has a name of 1 to 64 bytes, as in Bench by the door",
                    {.field = "name", .value = called}});
  }
  if (caller.station) sessions_.leave(caller.station->number);
  const auto token =
      sessions_.pair({.number = {}, .name = called, .paired_by = caller.person});
  if (!token) return refusal({Code::kRefused, "there are 64 stations already; let one go first"});
  // The tablet stays at the bench; the owner's session does not.
  sessions_.end(cookie_of(request, kSessionCookie));
  const Caller out{.is_open = false, .person = {}, .name = {}, .roles = 0, .at = At::kDesk,
                   .station = sessions_.station(*token)};
  Response response = {.status = 201, .body = json::text_of(view_of(out))};
  response.cookies = {cookie(kStationCookie, *token, kLimits.station_most),
                      cookie(kSessionCookie, "", std::chrono::seconds(0))};
  return response;
}

Response Door::leave(const Request& request, const Caller& caller) {
  if (const auto empty = json::nothing_from(request.body); !empty) return refusal(empty.error());
  if (!sessions_.leave(request.path[2])) {
    return refusal({Code::kNotFound, "there is no station of this number",
                    {.field = "number", .value = request.path[2]}});
  }
  return people(request, caller);
}

// People ------------------------------------------------------------------------------------------

Response Door::people(const Request&, const Caller&) {
  Result<shop::PeopleView> view = shop_.people_desk().people();
  if (!view) return refusal(view.error());
  for (const Station& station : sessions_.stations()) {
    view->stations.push_back({station.number, station.name, station.paired_by.text});
  }
  return {.body = json::text_of(*view)};
}

Response Door::set_password(const Request& request, const Caller& caller) {
  const auto given = json::secret_from(request.body, shop::Proof::kPassword);
  if (!given) return refusal(given.error());
  if (caller.is_open) return nobody_signs_in_yet();
  if (auto refused = unproven(caller.person, given->your_password, request)) {
    return std::move(*refused);
  }
  const trade::PersonId id(request.path[2]);
  const auto set = shop_.people_desk().set_password(id, given->secret, request.who);
  if (!set) return refusal(set.error());
  passwords_.right(lowered(id.text));
  pins_.right(lowered(id.text));
  Response response = {.body = json::text_of(*set)};
  if (id != caller.person || caller.at != At::kDesk) return response;
  // All sessions with the old one are over; this browser goes on with the new one.
  const Result<shop::Known> known = shop_.people_desk().person(id);
  if (!known) return refusal(known.error());
  const Session session{.person = id, .at = At::kDesk, .proof = known->password,
                        .station = caller.station ? caller.station->number : std::string()};
  response.cookies = let_in(request, session, 200).cookies;
  return response;
}

Response Door::set_pin(const Request& request, const Caller& caller) {
  const auto given = json::secret_from(request.body, shop::Proof::kPin);
  if (!given) return refusal(given.error());
  if (caller.is_open) return nobody_signs_in_yet();
  if (auto refused = unproven(caller.person, given->your_password, request)) {
    return std::move(*refused);
  }
  const trade::PersonId id(request.path[2]);
  const auto set = shop_.people_desk().set_pin(id, given->secret, request.who);
  if (set) pins_.right(lowered(id.text));
  return http::answer(set);
}

Response Door::take_away(const Request& request, const Caller& caller) {
  const auto your_password = json::your_password_from(request.body);
  if (!your_password) return refusal(your_password.error());
  if (caller.is_open) return nobody_signs_in_yet();
  if (auto refused = unproven(caller.person, *your_password, request)) {
    return std::move(*refused);
  }
  const trade::PersonId id(request.path[2]);
  const auto taken = shop_.people_desk().take_away(id, request.who);
  if (taken) sessions_.end_all_of(id);
  return http::answer(taken);
}

}  // namespace rollwright::http

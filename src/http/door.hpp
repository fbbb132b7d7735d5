#pragma once

#include <optional>
#include <string>

#include "http/api.hpp"
#include "http/rights.hpp"
#include "http/sessions.hpp"
#include "http/throttle.hpp"
#include "shop/people_desk.hpp"

namespace rollwright::http {

/// Who asks, as far as the door knows.
struct Caller {
  bool is_open = true;  // nobody has to sign in yet
  trade::PersonId person;  // empty: nobody is signed in
  std::string name;
  Roles roles = 0;         // of this session: at the bench a PIN gives no more than the bench's
  At at = At::kDesk;
  std::optional<Station> station;
};

/// The one way into the API: finds out who asks, holds that against the table of rights, and answers
/// or hands on to the use case. Signing in and out, people and stations are its own addresses.
///
/// Until somebody has a password everybody may do everything, and the journal says "desk". Then
/// only a session may: begun at the desk with a password, or at a paired station with a PIN. A
/// session is over as soon as the password or PIN it began with is another one, and its roles are
/// looked up anew for each request.
/// Threads: any.
class Door {
 public:
  /// `is_https`: people reach the pages over https only, so cookies are kept from plain http.
  Door(shop::Shop& shop, Now now, bool is_https);

  [[nodiscard]] Response answer(Request request);
  /// The refusal, when who asks may not do this; also for what is not answered here (events).
  [[nodiscard]] std::optional<Response> turned_away(const Request& request);
  /// Whether the answer may take tenths of a second of one processor (hashing).
  [[nodiscard]] static bool is_slow(const Request& request);
  /// Whether sessions may be over once it is answered.
  [[nodiscard]] static bool may_end_sessions(const Request& request);

 private:
  friend struct DoorRoute;
  [[nodiscard]] Result<Caller> caller(const Request& request);
  [[nodiscard]] std::optional<Caller> in_session(const Request& request,
                                                 const std::optional<Station>& station);
  [[nodiscard]] std::optional<Response> refusal_for(const Caller& caller, const Request& request);

  [[nodiscard]] Response health(const Request& request, const Caller& caller);
  [[nodiscard]] Response me(const Request& request, const Caller& caller);
  [[nodiscard]] Response sign_in(const Request& request, const Caller& caller);
  [[nodiscard]] Response sign_out(const Request& request, const Caller& caller);
  [[nodiscard]] Response first_owner(const Request& request, const Caller& caller);
  [[nodiscard]] Response bench_people(const Request& request, const Caller& caller);
  [[nodiscard]] Response bench_sign_in(const Request& request, const Caller& caller);
  [[nodiscard]] Response people(const Request& request, const Caller& caller);
  [[nodiscard]] Response set_password(const Request& request, const Caller& caller);
  [[nodiscard]] Response set_pin(const Request& request, const Caller& caller);
  [[nodiscard]] Response take_away(const Request& request, const Caller& caller);
  [[nodiscard]] Response pair(const Request& request, const Caller& caller);
  [[nodiscard]] Response leave(const Request& request, const Caller& caller);

  /// The refusal of a try that has to wait; nothing when it may be judged.
  [[nodiscard]] std::optional<Response> held_back(Throttle& by_person, const std::string& key,
                                                  const std::string& from);
  /// The refusal when these are not the words of the person; all that counts tries is told.
  [[nodiscard]] std::optional<Response> unproven(const trade::PersonId& person,
                                                 const std::string& words,
                                                 const Request& request);
  /// The answer to somebody who is in from now on, with the cookie of the session.
  [[nodiscard]] Response let_in(const Request& request, Session session, int status);
  [[nodiscard]] std::string cookie(const char* name, const std::string& value,
                                   std::chrono::seconds lasts) const;

  shop::Shop& shop_;
  Sessions sessions_;
  Throttle passwords_;  // by person
  Throttle pins_;       // by person
  Throttle addresses_;  // by the machine that asks
  bool is_https_;
};

}  // namespace rollwright::http

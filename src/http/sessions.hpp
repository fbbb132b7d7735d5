#pragma once

#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "http/throttle.hpp"
#include "trade/order.hpp"

namespace rollwright::http {

enum class At { kDesk, kBench };

/// Somebody who is signed in at one browser.
struct Session {
  trade::PersonId person;
  At at = At::kDesk;
  std::string proof;    // the hash that was proven: when it changes, the session is over
  std::string station;  // number of the station it began at; empty elsewhere
  Moment made = {};
  Moment seen = {};     // when somebody was last at it
};

/// A tablet at the bench that takes PINs.
struct Station {
  std::string number;
  std::string name;
  trade::PersonId paired_by;
  Moment made = {};
  Moment seen = {};
};

/// How long they last without anybody at them, and at most.
struct SessionLimits {
  std::chrono::seconds desk_idle = std::chrono::hours(4);
  std::chrono::seconds bench_idle = std::chrono::minutes(30);
  std::chrono::seconds most = std::chrono::hours(12);
  std::chrono::seconds station_idle = std::chrono::days(14);
  std::chrono::seconds station_most = std::chrono::days(90);
};

/// Who is signed in where, and which tablets are stations. In memory only: after the server was
/// started again people sign in anew and stations are paired anew.
///
/// Invariants: keeps hashes of tokens, never tokens; nothing outlives its limits.
/// Threads: any.
class Sessions {
 public:
  static constexpr std::size_t kMostOfOnePerson = 16;  // the oldest gives way
  static constexpr std::size_t kMostStations = 64;

  explicit Sessions(Now now, const SessionLimits& limits = {})
      : now_(std::move(now)), limits_(limits) {}

  /// Begins one and gives its token.
  [[nodiscard]] std::string begin(Session session);
  /// The session of a token, if it has one that lasts. `is_use`: somebody is at it now.
  [[nodiscard]] std::optional<Session> find(const std::string& token, bool is_use);
  void end(const std::string& token);
  void end_all_of(const trade::PersonId& person);

  /// Pairs a tablet and gives its token; nothing when there are too many.
  [[nodiscard]] std::optional<std::string> pair(Station station);
  [[nodiscard]] std::optional<Station> station(const std::string& token);
  [[nodiscard]] std::vector<Station> stations();
  /// With all sessions at it. False when there is none of this number.
  bool leave(const std::string& number);

 private:
  void drop_old();

  Now now_;
  SessionLimits limits_;
  std::mutex mutex_;
  std::map<std::string, Session> sessions_;  // by hash of the token
  std::map<std::string, Station> stations_;
  int last_station_ = 0;
};

}  // namespace rollwright::http

#include "http/sessions.hpp"

#include <algorithm>

#include "http/token.hpp"

namespace rollwright::http {

void Sessions::drop_old() {
  const Moment now = now_();
  std::erase_if(stations_, [&](const auto& one) {
    const Station& station = one.second;
    return now - station.seen >= limits_.station_idle || now - station.made >= limits_.station_most;
  });
  std::erase_if(sessions_, [&](const auto& one) {
    const Session& session = one.second;
    const bool is_desk = session.at == At::kDesk && session.station.empty();
    const auto idle = is_desk ? limits_.desk_idle : limits_.bench_idle;
    return now - session.seen >= idle || now - session.made >= limits_.most;
  });
}

std::string Sessions::begin(Session session) {
  const std::lock_guard lock(mutex_);
  drop_old();
  const auto is_persons = [&session](const auto& one) {
    return one.second.person == session.person;
  };
  if (static_cast<std::size_t>(std::ranges::count_if(sessions_, is_persons)) >= kMostOfOnePerson) {
    auto oldest = sessions_.end();
    for (auto one = sessions_.begin(); one != sessions_.end(); ++one) {
      if (!is_persons(*one)) continue;
      if (oldest == sessions_.end() || one->second.seen < oldest->second.seen) oldest = one;
    }
    sessions_.erase(oldest);
  }
  session.made = session.seen = now_();
  std::string token = new_token();
  sessions_[hash_of_token(token)] = std::move(session);
  return token;
}

std::optional<Session> Sessions::find(const std::string& token, bool is_use) {
  if (token.empty()) return std::nullopt;
  const std::lock_guard lock(mutex_);
  drop_old();
  // What is looked for is a hash: how long the search takes tells nothing of any token.
  const auto found = sessions_.find(hash_of_token(token));
  if (found == sessions_.end()) return std::nullopt;
  if (is_use) found->second.seen = now_();
  return found->second;
}

void Sessions::end(const std::string& token) {
  const std::lock_guard lock(mutex_);
  sessions_.erase(hash_of_token(token));
}

void Sessions::end_all_of(const trade::PersonId& person) {
  const std::lock_guard lock(mutex_);
  std::erase_if(sessions_, [&](const auto& one) { return one.second.person == person; });
}

std::optional<std::string> Sessions::pair(Station station) {
  const std::lock_guard lock(mutex_);
  drop_old();
  if (stations_.size() >= kMostStations) return std::nullopt;
  station.number = std::to_string(++last_station_);
  station.made = station.seen = now_();
  std::string token = new_token();
  stations_[hash_of_token(token)] = std::move(station);
  return token;
}

std::optional<Station> Sessions::station(const std::string& token) {
  if (token.empty()) return std::nullopt;
  const std::lock_guard lock(mutex_);
  drop_old();
  const auto found = stations_.find(hash_of_token(token));
  if (found == stations_.end()) return std::nullopt;
  found->second.seen = now_();
  return found->second;
}

std::vector<Station> Sessions::stations() {
  const std::lock_guard lock(mutex_);
  drop_old();
  std::vector<Station> all;
  for (const auto& [hash, station] : stations_) all.push_back(station);
  std::ranges::sort(all, {}, &Station::made);
  return all;
}

bool Sessions::leave(const std::string& number) {
  const std::lock_guard lock(mutex_);
  std::erase_if(sessions_, [&](const auto& one) { return one.second.station == number; });
  return std::erase_if(stations_, [&](const auto& one) {
    return one.second.number == number;
  }) > 0;
}

}  // namespace rollwright::http

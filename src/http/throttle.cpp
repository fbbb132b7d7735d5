#include "http/throttle.hpp"

#include <algorithm>

namespace rollwright::http {
namespace {

constexpr int kMostDoublings = 20;

}  // namespace

void Throttle::drop_old(Moment now) {
  std::erase_if(tries_, [&](const auto& one) {
    const Tries& tries = one.second;
    const bool is_locked = limits_.locks_after > 0 && tries.wrong >= limits_.locks_after;
    return !is_locked && tries.until <= now && now - tries.last >= limits_.forget;
  });
}

void Throttle::drop_oldest() {
  tries_.erase(std::ranges::min_element(tries_, {}, [](const auto& one) {
    return one.second.last;
  }));
}

Throttle::Verdict Throttle::take(const std::string& key) {
  const std::lock_guard lock(mutex_);
  const Moment now = now_();
  drop_old(now);
  if (!tries_.contains(key) && tries_.size() >= kMostKeys) drop_oldest();
  Tries& tries = tries_[key];
  if (limits_.locks_after > 0 && tries.wrong >= limits_.locks_after) {
    return {.may = false, .is_locked = true};
  }
  if (now < tries.until) {
    const auto left = std::chrono::ceil<std::chrono::seconds>(tries.until - now);
    return {.may = false, .wait = left};
  }
  tries.last = now;
  ++tries.wrong;
  if (tries.wrong >= limits_.free) {
    const int doublings = std::min(tries.wrong - limits_.free, kMostDoublings);
    tries.until = now + std::min(limits_.first_wait * (1 << doublings), limits_.most_wait);
  }
  return {.may = true};
}

void Throttle::right(const std::string& key) {
  const std::lock_guard lock(mutex_);
  tries_.erase(key);
}

void Throttle::give_back(const std::string& key) {
  const std::lock_guard lock(mutex_);
  const auto found = tries_.find(key);
  if (found == tries_.end()) return;
  found->second.wrong = std::max(0, found->second.wrong - 1);
  if (found->second.wrong < limits_.free) found->second.until = {};
  if (found->second.wrong == 0) tries_.erase(found);
}

}  // namespace rollwright::http

#pragma once

#include <deque>
#include <mutex>
#include <utility>

#include "supply/baskets.hpp"

namespace rollwright::shop {

/// The last questions for the cheapest baskets with their answers: a page asks the same again and
/// again, and a search takes a while.
///
/// Invariants: an answer is that of supply::cheapest_baskets, whoever asks.
/// Threads:    any; one at a time. Others wait rather than search for the same.
class BasketMemory {
 public:
  [[nodiscard]] supply::BasketAnswer answer(const supply::BasketQuestion& question) {
    constexpr std::size_t kRemembered = 6;
    const std::lock_guard lock(mutex_);
    for (const auto& [asked, known] : last_) {
      if (asked == question) return known;
    }
    if (last_.size() == kRemembered) last_.pop_front();
    return last_.emplace_back(question, supply::cheapest_baskets(question)).second;
  }

 private:
  std::mutex mutex_;
  std::deque<std::pair<supply::BasketQuestion, supply::BasketAnswer>> last_;
};

}  // namespace rollwright::shop

#pragma once

#include <list>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <utility>

namespace rollwright::shop {

/// Things that were made of orders or pictures, of so many at most: what nobody asked for longest is
/// forgotten first.
///
/// Threads: any; values are copied out, so they are best shared pointers.
template <class Value>
class LastAsked {
 public:
  explicit LastAsked(std::size_t most) : most_(most) {}

  [[nodiscard]] std::optional<Value> find(const std::string& of) {
    const std::lock_guard lock(mutex_);
    const auto found = places_.find(of);
    if (found == places_.end()) return std::nullopt;
    kept_.splice(kept_.begin(), kept_, found->second);
    return found->second->second;
  }

  void put(const std::string& of, Value value) {
    const std::lock_guard lock(mutex_);
    const auto found = places_.find(of);
    if (found != places_.end()) {
      found->second->second = std::move(value);
      kept_.splice(kept_.begin(), kept_, found->second);
      return;
    }
    kept_.emplace_front(of, std::move(value));
    places_[of] = kept_.begin();
    if (kept_.size() <= most_) return;
    places_.erase(kept_.back().first);
    kept_.pop_back();
  }

  void forget(const std::string& of) {
    const std::lock_guard lock(mutex_);
    const auto found = places_.find(of);
    if (found == places_.end()) return;
    kept_.erase(found->second);
    places_.erase(found);
  }

 private:
  using Kept = std::list<std::pair<std::string, Value>>;  // the last asked first

  std::size_t most_;
  std::mutex mutex_;
  Kept kept_;
  std::map<std::string, typename Kept::iterator> places_;
};

}  // namespace rollwright::shop

#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "shop/last_asked.hpp"
#include "shop/promise_views.hpp"
#include "shop/state.hpp"

namespace rollwright::shop {

/// The last promises: a page asks again whenever something is written of its order, and most of that (a
/// reading at the stand, a note) changes no odds.
///
/// Invariants: an answer is that of the same question over a state that has all that odds rest on in common,
///             in the same minute.
/// Threads:    any.
class PromiseMemory {
 public:
  struct Asked {
    std::shared_ptr<const State> state;
    LocalTime now;
    int draws = 0;
    int threads = 0;  // so that who asks with another number of them sees the same reckoned anew
  };

  [[nodiscard]] std::optional<PromiseView> find(const std::string& order, const Asked& asked) {
    const auto last = last_.find(order);
    if (!last || !is_same(last->first, asked)) return std::nullopt;
    return last->second;
  }
  void put(const std::string& order, Asked asked, PromiseView view) {
    last_.put(order, {std::move(asked), std::move(view)});
  }

 private:
  static bool is_same(const Asked& one, const Asked& other) {
    const State& a = *one.state;
    const State& b = *other.state;
    return one.now == other.now && one.draws == other.draws &&
           one.threads == other.threads && a.catalogue == b.catalogue &&
           a.in_order.same_as(b.in_order) && a.all_else == b.all_else && a.agreed == b.agreed &&
           a.times == b.times;
  }

  static constexpr std::size_t kMost = 8;  // each holds a state
  LastAsked<std::pair<Asked, PromiseView>> last_{kMost};
};

}  // namespace rollwright::shop

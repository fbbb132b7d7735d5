#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "build/bench_rules.hpp"
#include "shop/bench_views.hpp"

namespace rollwright::shop {

class Shop;

/// The use cases at the stand: what can be done to which bike, and writing down what was done.
///
/// Invariants: a record only grows; deeds that are sent together are written together or not at all;
///             the same key is written once. When somebody else was faster, what is wanted is judged
///             anew over what they wrote.
/// Threads: any number.
class BenchDesk {
 public:
  explicit BenchDesk(Shop& shop);
  ~BenchDesk();

  /// Now, by the clock that decides whether a deed lies in the future.
  [[nodiscard]] Instant moment() const;
  /// Bikes that can be worked on, the shop's tools and its people.
  [[nodiscard]] Result<BenchListView> list();
  /// Errors: kNotFound for the order; kRefused for one that is not agreed yet.
  [[nodiscard]] Result<BenchView> bike(const std::string& order);
  /// Errors: those of build::judge, with the deed's place in the list as the field; kNotFound for the
  /// order or the person; kRefused for an order that is not agreed yet or is over; kConflict for a
  /// part's number that is on another bike.
  [[nodiscard]] Result<BenchView> write(const std::string& order, const DeedsGiven& given);

  /// Everything that is written down of one bike. Errors: kNotFound.
  [[nodiscard]] Result<HistoryView> history(const std::string& order);
  /// The same to print, with the hash of the journal's newest entry. Errors: as history.
  [[nodiscard]] Result<std::string> history_pdf(const std::string& order);
  /// What the rider takes home, to print. Errors: kNotFound; kRefused before the order is agreed.
  [[nodiscard]] Result<std::string> owners_pack_pdf(const std::string& order);
  /// Bikes, kits and stock with parts of a lot or serial range. Errors: those of book::find_marks;
  /// kNotFound for the part.
  [[nodiscard]] Result<TraceView> trace(const TraceWish& wish);

  struct At;  // bench_at.hpp

 private:
  struct Known;
  [[nodiscard]] Result<At> at(const std::string& order, bool to_write);
  /// The order's sheet and covers, made once for as long as nothing they rest on changes: tablets write
  /// far more often than that.
  template <class OrderAt>
  [[nodiscard]] Result<std::shared_ptr<const trade::Sheet>> sheet_once(const OrderAt& at);
  [[nodiscard]] BenchView view(const At& at);
  [[nodiscard]] Result<build::DeedWanted> wanted(const At& at, const DeedGiven& given);
  [[nodiscard]] Result<void> on_no_other_bike(const At& at, const build::DeedWanted& wanted);

  Shop& shop_;
  std::mutex mutex_;
  std::map<std::string, std::unique_ptr<Known>> known_;  // by order
};

}  // namespace rollwright::shop

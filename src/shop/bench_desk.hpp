#pragma once

#include <array>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "build/bench_rules.hpp"
#include "shop/bench_records.hpp"
#include "shop/bench_views.hpp"
#include "shop/visits_known.hpp"
#include "supply/needs.hpp"

namespace rollwright::shop {

class Shop;

/// The use cases at the stand: what can be done to which bike, and writing down what was done.
///
/// Invariants: a record only grows; deeds that are sent together are written together or not at all;
///             the same key is written once. Those who write of one bike at once take turns; when
///             another program was faster, what is wanted is judged anew over what it wrote.
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
  /// What was written, or that it was before; `bike` says how the bike is then.
  /// Errors: those of build::judge, with the deed's place in the list as the field; kNotFound for the
  /// order or the person; kRefused for an order that is not agreed yet or is over; kConflict for a
  /// part's number that is on another bike.
  [[nodiscard]] Result<WrittenView> write(const std::string& order, const DeedsGiven& given);

  /// Everything that is written down of one bike. Errors: kNotFound.
  [[nodiscard]] Result<HistoryView> history(const std::string& order);
  /// The same to print, with the hash of the journal's newest entry. Errors: as history.
  [[nodiscard]] Result<std::string> history_pdf(const std::string& order);
  /// What the rider takes home, to print. Errors: kNotFound; kRefused before the order is agreed.
  [[nodiscard]] Result<std::string> owners_pack_pdf(const std::string& order);
  /// Bikes, kits and stock with parts of a lot or serial range. Errors: those of book::find_marks;
  /// kNotFound for the part.
  [[nodiscard]] Result<TraceView> trace(const TraceWish& wish);

  /// When bikes were here, of all bikes.
  [[nodiscard]] Result<std::shared_ptr<const CareVisits>> visits(const State& state) {
    return visits_.of(state);
  }

  struct At;  // bench_at.hpp

 private:
  friend class CareDesk;
  friend class LifeDesk;
  /// What deeds come to once they are judged, and the record with them.
  struct Judged {
    book::Change change;
    std::shared_ptr<const BenchRecord> record;
    std::vector<trade::BikeLine> lines;
  };
  using Covers = std::shared_ptr<const std::vector<supply::Cover>>;
  /// What orders get, as long as nothing that decides it changes.
  struct CoversKept {
    std::weak_ptr<const Catalogue> catalogue;
    std::weak_ptr<const AllElse> all_else;
    std::optional<Orders> in_order;
    Day day = {};
    std::map<std::string, Covers> by_order;
  };

  /// As BenchRecords::of.
  [[nodiscard]] Result<std::shared_ptr<const BenchRecord>> record(
      const State& state, const trade::Order& order, const BenchRecords::MakeSheet& make_sheet);
  [[nodiscard]] Result<At> at(const std::string& order, bool to_write);
  [[nodiscard]] Covers covers(const At& at);
  [[nodiscard]] Result<Judged> judged_all(const At& at, const DeedsGiven& given);
  /// A bike that is given back to be ridden without the pieces that were called back is fixed.
  [[nodiscard]] Result<void> add_fixed(const At& at, Judged& judged) const;
  [[nodiscard]] WrittenView written_view(const At& at,
                                         const std::vector<trade::BikeLine>& lines) const;
  /// `now`: the bike with what is written before this deed.
  [[nodiscard]] Result<build::DeedWanted> wanted(const At& at, const build::BenchState& now,
                                                 const DeedGiven& given);
  /// The order's part for this place; for a bike in care another that is named and fits. Errors: those of
  /// `belongs`; kRefused with what does not fit.
  [[nodiscard]] Result<trade::PartId> part_for(const At& at, const DeedGiven& given) const;
  [[nodiscard]] Result<void> on_no_other_bike(const At& at, const build::DeedWanted& wanted);

  Shop& shop_;
  BenchRecords records_;
  VisitsKnown visits_;
  std::array<std::mutex, 64> turns_;  // of a bike's writers, by its order
  std::mutex mutex_;
  CoversKept covers_;
};

}  // namespace rollwright::shop

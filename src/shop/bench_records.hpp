#pragma once

#include <functional>
#include <memory>
#include <string>

#include "book/book.hpp"
#include "build/bench_state.hpp"
#include "shop/last_asked.hpp"
#include "shop/state.hpp"

namespace rollwright::shop {

/// A bike's sheet, and what its record came to. Never changes once made.
struct BenchRecord {
  std::shared_ptr<const trade::Sheet> sheet;
  build::BenchState now;  // points into the sheet
};

/// The records of bikes as they stand in the book, kept: a sheet is made once for as long as nothing
/// it rests on changes, and of a record only lines that were not seen yet are read, whoever wrote
/// them.
///
/// Threads: any.
class BenchRecords {
 public:
  using MakeSheet = std::function<Result<trade::Sheet>()>;

  explicit BenchRecords(book::Book& book) : book_(book), known_(kMostKnown) {}

  /// The record of an order of the state. Errors: those of `make_sheet` and of the book.
  [[nodiscard]] Result<std::shared_ptr<const BenchRecord>> of(const State& state,
                                                              const trade::Order& order,
                                                              const MakeSheet& make_sheet);
  /// What the record is after lines were written: of the order as the state has it.
  void keep(const State& state, const trade::Order& order,
            std::shared_ptr<const BenchRecord> record);
  /// What is kept is not what the book holds: it is read anew.
  void forget(const trade::OrderId& order) { known_.forget(order.text); }

 private:
  /// More orders than a shop has in work at once.
  static constexpr std::size_t kMostKnown = 500;

  /// A record, and what its sheet rests on; that is not kept from going.
  struct Known {
    std::weak_ptr<const Catalogue> catalogue;
    std::weak_ptr<const AllElse> all_else;
    std::int64_t revision = 0;
    std::shared_ptr<const BenchRecord> record;
  };

  book::Book& book_;
  LastAsked<Known> known_;
};

}  // namespace rollwright::shop

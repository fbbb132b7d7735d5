#pragma once

#include <cstdint>
#include <memory>
#include <mutex>
#include <string>

#include "shop/care_due.hpp"

namespace rollwright::shop {

/// When bikes were here, of all bikes, kept: of the book only records are read again into which somebody
/// wrote since, whoever it was.
///
/// Threads: any.
class VisitsKnown {
 public:
  explicit VisitsKnown(book::Book& book) : book_(book) {}

  /// As the book is, not before the state. Errors: those of the book.
  [[nodiscard]] Result<std::shared_ptr<const CareVisits>> of(const State& state);

 private:
  book::Book& book_;
  std::mutex mutex_;
  std::int64_t entry_ = 0;  // of the journal, up to which records were read
  std::string time_zone_;
  std::shared_ptr<const CareVisits> known_ = std::make_shared<CareVisits>();
};

}  // namespace rollwright::shop

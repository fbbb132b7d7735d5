#include "shop/visits_known.hpp"

#include "book/book.hpp"

namespace rollwright::shop {

Result<std::shared_ptr<const CareVisits>> VisitsKnown::of(const State& state) {
  const std::lock_guard lock(mutex_);
  if (time_zone_ != state.settings.time_zone) {  // its days are others
    time_zone_ = state.settings.time_zone;
    entry_ = 0;
  }
  if (entry_ > 0 && state.entry <= entry_) return known_;
  const auto lines = book_.bike_visits(entry_);
  if (!lines) return std::unexpected(lines.error());
  CareVisits fresh = care_visits(*lines, time_zone_);
  if (entry_ == 0) {
    known_ = std::make_shared<const CareVisits>(std::move(fresh));
  } else if (!fresh.empty()) {
    auto next = std::make_shared<CareVisits>(*known_);
    for (auto& [order, visits] : fresh) (*next)[order] = std::move(visits);
    known_ = std::move(next);
  }
  entry_ = state.entry;
  return known_;
}

}  // namespace rollwright::shop

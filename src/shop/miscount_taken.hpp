#pragma once

#include <vector>

#include "shop/miscounts.hpp"

/// Taking pieces off a line that never were there: half of setting a miscount right.
namespace rollwright::shop {

/// Whether both tell of the same delivery, whatever its condition.
[[nodiscard]] bool same_delivery(const trade::Receipt& a, const trade::Receipt& b);

class TakenOff {
 public:
  TakenOff(const GoodsInAt& at, const trade::PurchaseLine& held, const MiscountGiven& given,
           const Bound& bound);

  /// So many pieces of this delivery off the line and, where they were accepted, off the shelf.
  /// Errors: those of `miscounted` for too many pieces.
  [[nodiscard]] Result<void> take(int pieces, const trade::Receipt& receipt, trade::Stock& stock);

  /// The line without them; their numbers and lots; where they were counted.
  [[nodiscard]] const trade::PurchaseLine& line() const { return line_; }
  [[nodiscard]] const std::vector<trade::Marked>& marks() const { return taken_; }
  [[nodiscard]] int to_look_at() const { return from_look_; }
  [[nodiscard]] int accepted() const { return from_shelf_; }
  [[nodiscard]] int quarantined() const { return from_quarantine_; }

 private:
  [[nodiscard]] int free_of(const trade::Stock& stock) const;
  [[nodiscard]] int in_kit(const trade::Stock& stock) const;
  [[nodiscard]] Result<void> leave_shelf(trade::Stock& stock) const;
  [[nodiscard]] Result<void> withdraw_claims();
  [[nodiscard]] Result<void> take_marks(Day day);
  [[nodiscard]] Result<void> take_serials(trade::PlaceOfPiece place, int pieces, int left);
  void take_lots(trade::PlaceOfPiece place, int pieces, Day day);
  void forget_arrival(const trade::Receipt& receipt);

  const GoodsInAt& at_;
  const MiscountGiven& given_;
  const Bound& bound_;
  trade::PurchaseLine line_;
  std::vector<trade::Marked> taken_;
  int from_look_ = 0;
  int from_shelf_ = 0;
  int from_quarantine_ = 0;
};

}  // namespace rollwright::shop

#pragma once

#include <string>

#include "base/result.hpp"
#include "book/book.hpp"
#include "shop/recall_views.hpp"

namespace rollwright::documents {
struct RecallList;
}

namespace rollwright::shop {

class Shop;

/// The use cases of recalls: writing a notice down, seeing which bikes it touches, telling riders.
///
/// Invariants: a live order that an open recall touches has the flag Stop-sale; whichever change makes
///             it so or ends it sets or takes the flag as well.
/// Threads: any number.
class RecallDesk {
 public:
  explicit RecallDesk(Shop& shop) : shop_(shop) {}

  [[nodiscard]] Result<RecallsView> list();
  /// Errors: kNotFound.
  [[nodiscard]] Result<RecallView> recall(const std::string& number);
  /// Writes a notice down and stops the sale of the live orders it touches. Errors: kNotFound for
  /// part, kind or person; kBadInput for a range that is none, or when it does not say what is wrong
  /// or which part.
  [[nodiscard]] Result<RecallView> open(const RecallGiven& given);
  /// Writes down what was done about one bike. Errors: kNotFound for recall, order or person;
  /// kBadInput for another status; kRefused when the recall is closed or does not touch the bike.
  [[nodiscard]] Result<RecallView> tell(const std::string& number, const ToldGiven& given);
  /// Errors: kNotFound; kRefused when it is closed already, or without a note while riders are not
  /// told or bikes not fixed.
  [[nodiscard]] Result<RecallView> close(const std::string& number, const RecallClosing& given);

  [[nodiscard]] Result<std::string> list_pdf(const std::string& number);
  [[nodiscard]] Result<std::string> list_csv(const std::string& number);

  /// Sets and takes Stop-sale on the orders that a change touches, before it is written.
  [[nodiscard]] Result<void> keep_flags(book::Change& change);

  struct Touched;  // recall_at.hpp

 private:
  [[nodiscard]] Result<Touched> touched_by(const std::string& number);
  [[nodiscard]] Result<documents::RecallList> paper(const std::string& number);

  Shop& shop_;
};

}  // namespace rollwright::shop

#pragma once

#include <memory>
#include <mutex>
#include <string>

#include "book/book.hpp"
#include "pictures/small_copy.hpp"
#include "shop/last_asked.hpp"

namespace rollwright::shop {

/// Small copies of the book's pictures: made when somebody first asks, remembered while the program
/// runs, never written down (docs/decisions/0020).
///
/// Invariants: a copy is that of the bytes whose hash is asked for; what was changed past the
///             journal is refused.
/// Threads:    any. One picture is taken apart at a time, so that only one needs memory.
class SmallCopies {
 public:
  explicit SmallCopies(book::Book& book) : book_(book), last_(kRemembered) {}

  /// Errors: kNotFound; kDamaged for a picture that is not what was written down; those of
  /// pictures::small_copy.
  [[nodiscard]] Result<pictures::SmallCopy> of(const std::string& hash);

 private:
  using Made = std::shared_ptr<const Result<pictures::SmallCopy>>;
  static constexpr std::size_t kRemembered = 512;  // about 10 MB of photographs

  book::Book& book_;
  std::mutex making_;
  LastAsked<Made> last_;
};

}  // namespace rollwright::shop

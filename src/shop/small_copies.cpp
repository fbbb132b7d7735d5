#include "shop/small_copies.hpp"

namespace rollwright::shop {

Result<pictures::SmallCopy> SmallCopies::of(const std::string& hash) {
  if (const auto made = last_.find(hash)) return **made;
  const std::lock_guard lock(making_);
  if (const auto made = last_.find(hash)) return **made;  // by whoever was before us
  Result<book::Picture> held = book_.picture(hash);
  if (!held) return std::unexpected(held.error());
  const Result<book::Picture> picture = book::picture_of(std::move(held->bytes));
  if (!picture || picture->hash != hash) {
    return refuse(Code::kDamaged,
                  "this is not the picture that was written down; `rollwright verify` says more",
                  {.field = "picture", .value = hash});
  }
  const auto made = std::make_shared<const Result<pictures::SmallCopy>>(
      pictures::small_copy(picture->bytes));
  last_.put(hash, made);
  return *made;
}

}  // namespace rollwright::shop

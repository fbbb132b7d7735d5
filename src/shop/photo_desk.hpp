#pragma once

#include <string>
#include <string_view>

#include "base/clock.hpp"
#include "book/picture.hpp"
#include "shop/goods_views.hpp"
#include "shop/photo_views.hpp"
#include "shop/small_copies.hpp"

namespace rollwright::shop {

class Shop;

/// What a photograph of a bike can be about beside operations and check lines.
inline constexpr std::string_view kOfBoxes = "boxes";  // the maker's boxes, before they are opened
inline constexpr std::string_view kOfMaker = "maker";  // taken by the maker

/// The use cases of photographs: a picture is kept as it is, in one change with what says whose it
/// is.
///
/// Threads: any number.
class PhotoDesk {
 public:
  explicit PhotoDesk(Shop& shop);

  /// Writes a photograph into a bike's record. Answers with all of the bike. Errors: those of
  /// book::picture_of and BenchDesk::write; kNotFound for what it is about.
  [[nodiscard]] Result<PhotosView> take_of_bike(const std::string& order, std::string bytes,
                                                const BikePhotoGiven& given);
  /// Photographs in a bike's record. Errors: kNotFound.
  [[nodiscard]] Result<PhotosView> of_bike(const std::string& order);
  /// Puts a photograph to a purchase line or a claim of it. Errors: those of book::picture_of;
  /// kNotFound for line or claim; kOutOfRange for a moment to come, or a note that is no line of
  /// text.
  [[nodiscard]] Result<ArrivalLine> take_of_goods(const std::string& line, std::string bytes,
                                                  const GoodsPhotoGiven& given,
                                                  const std::string& who);
  /// A picture as it was given. Errors: kNotFound.
  [[nodiscard]] Result<book::Picture> picture(const std::string& hash);
  /// The picture made small and upright. Errors: those of SmallCopies::of.
  [[nodiscard]] Result<pictures::SmallCopy> small_copy(const std::string& hash);

 private:
  [[nodiscard]] Result<void> is_something(const std::string& about) const;
  [[nodiscard]] Result<Instant> moment_of(const std::string& at) const;

  Shop& shop_;
  SmallCopies small_copies_;
};

}  // namespace rollwright::shop

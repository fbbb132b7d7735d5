#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "book/database.hpp"
#include "book/record.hpp"

namespace rollwright::book {

inline constexpr std::size_t kMostPictureBytes = 8 * 1024 * 1024;

/// A picture just as the camera gave it: it is never changed, and never taken away.
struct Picture {
  std::string hash;   // BLAKE2b-256 of the bytes, hexadecimal
  std::string type;   // "image/jpeg" or "image/png", by the first bytes
  std::string bytes;
};

/// Errors: kBadInput for what begins neither as a JPEG nor as a PNG; kTooLarge above
/// kMostPictureBytes.
[[nodiscard]] Result<Picture> picture_of(std::string bytes);

/// A photograph of what came on a purchase line, or of what a claim of that line is about.
struct GoodsPhoto {
  std::string line;
  int claim = 0;        // from 1, on its line; 0: the delivery itself
  std::string picture;  // its hash
  Instant at = {};      // when it was taken
  std::string who;
  std::string note;

  friend bool operator==(const GoodsPhoto&, const GoodsPhoto&) = default;
};

/// For the journal: the picture's type and size; what it shows is proved by its hash, which is its
/// name.
[[nodiscard]] Record record_of(const Picture& picture);
[[nodiscard]] Record record_of(const GoodsPhoto& photo);

Result<void> put(Database& database, const Picture& picture);
Result<void> put(Database& database, const GoodsPhoto& photo);
/// Errors: kNotFound.
Result<Picture> read_picture(Database& database, const std::string& hash);
/// Errors: kNotFound when the book has no picture of this hash.
Result<void> has_picture(Database& database, const std::string& hash);
Result<int> count_pictures(Database& database);
/// As Book::goods_photos.
Result<std::vector<GoodsPhoto>> read_goods_photos(Database& database, const std::string& line);

/// Whether the journal's subject is a picture.
[[nodiscard]] bool is_of_picture(std::string_view subject);
/// What is wrong with the picture of which the journal says this; nothing when it is as given.
Result<std::optional<std::string>> altered_picture(Database& database, const std::string& subject,
                                                   const std::string& said);

}  // namespace rollwright::book

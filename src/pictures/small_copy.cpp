#include "pictures/small_copy.hpp"

#include <fmt/format.h>

#include "pictures/no_copy.hpp"
#include "pictures/read_jpeg.hpp"
#include "pictures/read_png.hpp"
#include "pictures/write_jpeg.hpp"

namespace rollwright::pictures {
namespace {

constexpr int kQuality = 80;

Result<Pixels> read_any(std::string_view picture) {
  if (picture.starts_with("\xFF\xD8\xFF")) return read_jpeg(picture, kSmallSide);
  if (picture.starts_with("\x89PNG")) return read_png(picture, kSmallSide);
  return no_copy("it is neither a JPEG nor a PNG");
}

}  // namespace

Result<void> may_be_taken_apart(std::int64_t width, std::int64_t height) {
  if (0 < width && 0 < height && height <= kMostPixels / width) return {};
  return no_copy(fmt::format(
      "it says that it has {} x {} pixels, and at most {} million are taken apart", width, height,
      kMostPixels / 1'000'000));
}

Result<SmallCopy> small_copy(std::string_view picture) {
  const Result<Pixels> pixels = read_any(picture);
  if (!pixels) return std::unexpected(pixels.error());
  return SmallCopy{.jpeg = write_jpeg(*pixels, kQuality), .width = pixels->width,
                   .height = pixels->height};
}

}  // namespace rollwright::pictures

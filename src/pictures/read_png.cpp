#include "pictures/read_png.hpp"

#include <cstdint>
#include <memory>
#include <new>

#include <fmt/format.h>
#include <png.h>

#include "pictures/no_copy.hpp"
#include "pictures/small_copy.hpp"

namespace rollwright::pictures {
namespace {

static_assert(kMostPixels * 3 <= static_cast<std::int64_t>(kMostMemory));

/// libpng's picture, freed whatever comes.
struct PngPicture {
  png_image image{};

  PngPicture() { image.version = PNG_IMAGE_VERSION; }
  ~PngPicture() { png_image_free(&image); }
  PngPicture(const PngPicture&) = delete;
  PngPicture& operator=(const PngPicture&) = delete;
};

std::unexpected<Error> given_up(const png_image& image) {
  return no_copy(fmt::format("it is cut short or damaged ({})", image.message));
}

}  // namespace

Result<Pixels> read_png(std::string_view bytes, int most) {
  PngPicture picture;
  png_image& image = picture.image;
  if (png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()) == 0) {
    return given_up(image);
  }
  if (Result<void> ok = may_be_taken_apart(image.width, image.height); !ok) {
    return std::unexpected(ok.error());
  }
  image.format = PNG_FORMAT_RGB;
  const std::size_t stride = std::size_t{image.width} * 3;
  const std::unique_ptr<std::uint8_t[]> rgb(new (std::nothrow) std::uint8_t[stride * image.height]);
  if (rgb == nullptr) return no_copy("this machine has not enough memory for it");
  const png_color white = {.red = 255, .green = 255, .blue = 255};
  if (png_image_finish_read(&image, &white, rgb.get(), static_cast<int>(stride), nullptr) == 0) {
    return given_up(image);
  }
  Shrinking shrinking(static_cast<int>(image.width), static_cast<int>(image.height), most);
  for (std::size_t y = 0; y < image.height; ++y) shrinking.add(rgb.get() + y * stride);
  return shrinking.outcome();
}

}  // namespace rollwright::pictures

#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

/// Pictures made small for lists and papers.
namespace rollwright::pictures {

/// A JPEG, upright, without anything that the camera wrote beside the picture.
struct SmallCopy {
  std::string jpeg;
  int width = 0;   // pixels, 1 to kSmallSide
  int height = 0;

  friend bool operator==(const SmallCopy&, const SmallCopy&) = default;
};

inline constexpr int kSmallSide = 320;  // pixels of the longest side

/// What is taken apart at most. A file of a few kilobytes can claim to be a picture of gigabytes;
/// its head says so, and is read before anything else.
inline constexpr std::int64_t kMostPixels = 52'000'000;        // telephones have 50 megapixels
inline constexpr std::size_t kMostMemory = 200 * 1024 * 1024;  // bytes, for one picture
inline constexpr int kMostScans = 50;  // of one JPEG; cameras write 1, or about 10 that sharpen it

/// Raised when the same picture gives another small copy than before, for whoever keeps one.
inline constexpr int kMaking = 1;

/// The picture in at most kSmallSide pixels, turned as the camera held it; never larger than it is.
///
/// Method:    a JPEG is decoded at 1/2, 1/4 or 1/8 where that leaves enough; then every pixel is
///            the mean of the area that it covers, in whole numbers.
/// Source:    [camera-turn], [picture-marks] in docs/sources.md.
/// Accuracy:  the same bytes give the same copy with the same libraries; JPEG quality 80.
/// Ignores:   the profile of colours; a turn that a PNG states. What can be seen through in a PNG
///            is laid over white.
/// Errors:    kRefused with the reason: neither JPEG nor PNG, cut short, damaged, colours for
///            print, more than kMostPixels, kMostMemory or kMostScans. Any bytes at all end in a
///            copy or a refusal.
[[nodiscard]] Result<SmallCopy> small_copy(std::string_view picture);

}  // namespace rollwright::pictures

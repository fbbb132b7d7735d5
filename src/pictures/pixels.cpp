#include "pictures/pixels.hpp"

#include <algorithm>
#include <cstddef>

#include "base/result.hpp"

namespace rollwright::pictures {
namespace {

constexpr int kColours = 3;

/// `side` of a picture whose longest side becomes `most`, at least one pixel.
int side_in(int side, int longest, int most) {
  if (longest <= most) return side;
  const std::int64_t doubled = 2LL * side * most;
  return static_cast<int>(std::max<std::int64_t>(1, (doubled + longest) / (2LL * longest)));
}

/// Pieces of the pixel at `at` of `from` pixels, among `to`: `take(into, length)`. Of `from` times
/// `to` equal lengths, a pixel of the picture has `to` and one of the outcome `from`.
template <class Take>
void share_out(int at, int from, int to, Take take) {
  std::int64_t begin = static_cast<std::int64_t>(at) * to;
  const std::int64_t end = begin + to;
  while (begin < end) {
    const std::int64_t into = begin / from;
    const std::int64_t until = std::min(end, (into + 1) * from);
    take(static_cast<std::size_t>(into), static_cast<std::uint64_t>(until - begin));
    begin = until;
  }
}

}  // namespace

Shrinking::Shrinking(int width, int height, int most)
    : width_(width), height_(height), to_width_(side_in(width, std::max(width, height), most)),
      to_height_(side_in(height, std::max(width, height), most)) {
  const auto across = static_cast<std::size_t>(to_width_) * kColours;
  across_.resize(across);
  sums_.resize(across * static_cast<std::size_t>(to_height_));
}

void Shrinking::sum_across(const std::uint8_t* row) {
  std::ranges::fill(across_, 0);
  for (int x = 0; x < width_; ++x, row += kColours) {
    share_out(x, width_, to_width_, [&](std::size_t into, std::uint64_t length) {
      std::uint64_t* sum = &across_[into * kColours];
      for (int colour = 0; colour < kColours; ++colour) sum[colour] += row[colour] * length;
    });
  }
}

void Shrinking::add(const std::uint8_t* row) {
  ROLLWRIGHT_PROMISE(row_ < height_);
  sum_across(row);
  share_out(row_, height_, to_height_, [&](std::size_t into, std::uint64_t length) {
    std::uint64_t* sum = &sums_[into * across_.size()];
    for (std::size_t i = 0; i < across_.size(); ++i) sum[i] += across_[i] * length;
  });
  ++row_;
}

Pixels Shrinking::outcome() const {
  ROLLWRIGHT_PROMISE(row_ == height_);
  const auto area = static_cast<std::uint64_t>(std::int64_t{width_} * height_);
  Pixels pixels{.width = to_width_, .height = to_height_, .rgb = {}};
  pixels.rgb.reserve(sums_.size());
  for (const std::uint64_t sum : sums_) {
    pixels.rgb.push_back(static_cast<std::uint8_t>((sum + area / 2) / area));
  }
  return pixels;
}

namespace {

struct Spot {
  int x = 0;
  int y = 0;
};

/// Where in the file lies what is seen at (x, y).
Spot in_file(const Pixels& file, int turn, int x, int y) {
  const int right = file.width - 1;
  const int bottom = file.height - 1;
  switch (turn) {
    case 2: return {right - x, y};
    case 3: return {right - x, bottom - y};
    case 4: return {x, bottom - y};
    case 5: return {y, x};
    case 6: return {y, bottom - x};
    case 7: return {right - y, bottom - x};
    case 8: return {right - y, x};
    default: return {x, y};
  }
}

}  // namespace

Pixels turned(const Pixels& pixels, int turn) {
  const bool is_on_its_side = 5 <= turn && turn <= 8;
  Pixels upright{.width = is_on_its_side ? pixels.height : pixels.width,
                 .height = is_on_its_side ? pixels.width : pixels.height, .rgb = {}};
  upright.rgb.reserve(pixels.rgb.size());
  for (int y = 0; y < upright.height; ++y) {
    for (int x = 0; x < upright.width; ++x) {
      const Spot from = in_file(pixels, turn, x, y);
      const auto at = pixels.rgb.begin() +
                      (static_cast<std::ptrdiff_t>(from.y) * pixels.width + from.x) * kColours;
      upright.rgb.insert(upright.rgb.end(), at, at + kColours);
    }
  }
  return upright;
}

}  // namespace rollwright::pictures

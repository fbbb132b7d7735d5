#pragma once

#include <cstdint>
#include <vector>

namespace rollwright::pictures {

/// Red, green and blue of each pixel, row by row from the top, 0 to 255.
struct Pixels {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgb;  // 3 * width * height
};

/// Takes a picture row by row from the top and makes it smaller; every pixel of the outcome is the
/// mean of the area that it covers, in whole numbers.
class Shrinking {
 public:
  /// `most`: pixels of the longest side of the outcome. A picture that is smaller stays as it is.
  Shrinking(int width, int height, int most);

  /// The next row: 3 * width values.
  void add(const std::uint8_t* row);
  /// After as many rows as the picture has.
  [[nodiscard]] Pixels outcome() const;

 private:
  void sum_across(const std::uint8_t* row);

  int width_;
  int height_;
  int to_width_;
  int to_height_;
  int row_ = 0;
  std::vector<std::uint64_t> across_;  // of one row: sums over what each pixel covers of it
  std::vector<std::uint64_t> sums_;    // of the outcome, not yet divided by the area
};

/// Turned upright. `turn`: 1 to 8, what the first row and the first column of the file are to
/// somebody who looks at it. Source: [camera-turn] in docs/sources.md.
[[nodiscard]] Pixels turned(const Pixels& pixels, int turn);

}  // namespace rollwright::pictures

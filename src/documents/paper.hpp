#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "base/clock.hpp"

namespace rollwright::documents {

/// Sheets of paper, A4 or US Letter, that fill from the top: what does not fit goes on the next one.
/// What is printed is as wide on both. Lengths in points (1/72 inch). Text wraps and falls back to other fonts where a letter is missing.
///
/// Invariants: the same calls give the same bytes (the date of making is the one given).
/// Threads: one at a time.
class Paper {
 public:
  struct Size {
    double width;
    double height;
  };
  static constexpr Size kA4 = {595.28, 841.89};
  static constexpr Size kLetter = {612, 792};
  static constexpr double kMargin = 42;  // at top and foot; on both sides of A4
  static constexpr double kInside = kA4.width - 2 * kMargin;

  struct Style {
    double size = 9;
    bool bold = false;
    bool grey = false;
    bool right = false;
  };

  /// `foot` is printed under each sheet with its number: "2041, sheet 2 of 5". `sheets` is the
  /// total, known from a first run; 0 leaves it out.
  Paper(std::string title, std::string foot, Instant made, int sheets, Size size = kA4);
  ~Paper();
  Paper(const Paper&) = delete;
  Paper& operator=(const Paper&) = delete;

  /// Height that the text would take in this width.
  [[nodiscard]] double height_of(std::string_view text, double width, const Style& style) const;
  /// Goes to a new sheet unless this much is left on the current one.
  void need(double height);
  /// Writes at the cursor without moving it; gives the height used. `left` counts from the margin.
  double write(double left, double width, std::string_view text, const Style& style);
  void down(double height) { y_ += height; }
  /// Writes over the whole width and moves below it, onto a new sheet when needed.
  void paragraph(std::string_view text, const Style& style, double left = 0);
  void rule(double thickness = 0.5);
  /// A JPEG; the copies of one name are kept once in the file.
  struct Picture {
    std::string_view name;
    std::string_view jpeg;
    int width = 0;   // pixels
    int height = 0;
  };
  /// Puts it at the cursor without moving it, as large as the box holds, to the left and top of
  /// the box, with a thin line around it.
  void picture(const Picture& picture, double left, Size box);
  /// An empty box to write a reading into, at the cursor.
  void box(double left, double width, double height);
  /// A QR code of the text in the top right corner of the current sheet.
  void code(const std::string& text, double size);

  [[nodiscard]] int sheets() const { return sheet_; }
  /// Ends the last sheet and gives the file.
  [[nodiscard]] std::string finish();

 private:
  void start_sheet();
  [[nodiscard]] double side() const { return (size_.width - kInside) / 2; }
  void end_sheet();

  struct Inside;
  std::unique_ptr<Inside> inside_;
  std::string foot_;
  Size size_;
  int total_;
  int sheet_ = 0;
  double y_ = 0;
};

}  // namespace rollwright::documents

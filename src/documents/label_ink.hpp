#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "base/clock.hpp"
#include "documents/qr_code.hpp"

namespace rollwright::documents {

/// What labels are drawn with, on the pages of a PDF or on one SVG picture; lengths in millimetres
/// from the upper left corner of the page. Prints in black.
///
/// Invariants: the same calls give the same bytes.
/// Threads: one at a time.
class LabelInk {
 public:
  enum class Form { kPdf, kSvg };
  struct Page {
    double width_mm = 0;
    double height_mm = 0;
  };
  struct Type {
    double size_mm = 3;  // of the em; capitals and figures are kCapital of it
    bool bold = false;
    bool grey = false;
  };
  static constexpr double kCapital = 0.729;  // DejaVu Sans
  struct Extent {
    double width = 0;
    double height = 0;
  };

  LabelInk(Form form, const Page& page, const std::string& title, Instant made);
  ~LabelInk();
  LabelInk(const LabelInk&) = delete;
  LabelInk& operator=(const LabelInk&) = delete;

  /// What the text takes; broken into lines when a width is given.
  [[nodiscard]] Extent extent(std::string_view text, const Type& type, double width = 0) const;

  struct Box {
    double x = 0;
    double y = 0;
    double width = 0;
    double height = 0;
  };
  /// From the top of the box; what does not go into it ends in "…".
  void write(std::string_view text, const Type& type, const Box& box);
  /// The dark modules; the quiet zone is the caller's.
  void draw(const QrCode& code, double x, double y, double module);
  /// A thin line around a label, for pictures: grey inside where a position is used up.
  void outline(const Box& box, bool is_used);
  void next_page();
  [[nodiscard]] std::string finish();

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace rollwright::documents

#include "documents/paper.hpp"

#include <algorithm>

#include <cairo-pdf.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include "base/result.hpp"
#include "documents/qr_code.hpp"

namespace rollwright::documents {
namespace {

constexpr const char* kFont = "DejaVu Sans";
constexpr double kFootHeight = 24;

cairo_status_t append(void* into, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

/// A surface that stands for a JPEG: its bytes go into the file as they are; nothing is decoded.
cairo_surface_t* surface_of(const Paper::Picture& picture) {
  cairo_surface_t* surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.width, picture.height);
  const auto attach = [surface](const char* kind, std::string_view bytes) {
    auto* kept = new std::string(bytes);  // until the file is written
    const cairo_status_t status = cairo_surface_set_mime_data(
        surface, kind, reinterpret_cast<const unsigned char*>(kept->data()), kept->size(),
        [](void* text) { delete static_cast<std::string*>(text); }, kept);
    ROLLWRIGHT_PROMISE(status == CAIRO_STATUS_SUCCESS);
  };
  attach(CAIRO_MIME_TYPE_JPEG, picture.jpeg);
  attach(CAIRO_MIME_TYPE_UNIQUE_ID, picture.name);
  return surface;
}

}  // namespace

struct Paper::Inside {
  std::string bytes;
  cairo_surface_t* surface = nullptr;
  cairo_t* cairo = nullptr;
  PangoLayout* layout = nullptr;

  void set(std::string_view text, double width, const Style& style) const {
    PangoFontDescription* font = pango_font_description_new();
    pango_font_description_set_family(font, kFont);
    pango_font_description_set_absolute_size(font, style.size * PANGO_SCALE);
    if (style.bold) pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_width(layout, static_cast<int>(width * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_alignment(layout, style.right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
    pango_layout_set_text(layout, text.data(), static_cast<int>(text.size()));
  }
  [[nodiscard]] double height() const {
    PangoRectangle extents;
    pango_layout_get_extents(layout, nullptr, &extents);
    return static_cast<double>(extents.height) / PANGO_SCALE;
  }
};

Paper::Paper(std::string title, std::string foot, Instant made, int sheets, Size size)
    : inside_(std::make_unique<Inside>()), foot_(std::move(foot)), size_(size),
      total_(sheets) {
  inside_->surface =
      cairo_pdf_surface_create_for_stream(append, &inside_->bytes, size_.width, size_.height);
  cairo_pdf_surface_set_metadata(inside_->surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
  cairo_pdf_surface_set_metadata(inside_->surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                 iso(made).c_str());
  inside_->cairo = cairo_create(inside_->surface);
  inside_->layout = pango_cairo_create_layout(inside_->cairo);
  start_sheet();
}

Paper::~Paper() {
  g_object_unref(inside_->layout);
  cairo_destroy(inside_->cairo);
  cairo_surface_destroy(inside_->surface);
}

void Paper::start_sheet() {
  ++sheet_;
  y_ = kMargin;
}

void Paper::end_sheet() {
  const std::string text = total_ > 0 ? fmt::format("{}, sheet {} of {}", foot_, sheet_, total_)
                                      : fmt::format("{}, sheet {}", foot_, sheet_);
  inside_->set(text, kInside, {.size = 7.5, .grey = true});
  cairo_set_source_rgb(inside_->cairo, 0.35, 0.35, 0.35);
  cairo_move_to(inside_->cairo, side(), size_.height - kMargin + 6);
  pango_cairo_show_layout(inside_->cairo, inside_->layout);
  cairo_show_page(inside_->cairo);
}

double Paper::height_of(std::string_view text, double width, const Style& style) const {
  inside_->set(text, width, style);
  return inside_->height();
}

void Paper::need(double height) {
  if (y_ + height <= size_.height - kMargin - kFootHeight + 12 || y_ <= kMargin) return;
  end_sheet();
  start_sheet();
}

double Paper::write(double left, double width, std::string_view text, const Style& style) {
  inside_->set(text, width, style);
  const double shade = style.grey ? 0.35 : 0.05;
  cairo_set_source_rgb(inside_->cairo, shade, shade, shade);
  cairo_move_to(inside_->cairo, side() + left, y_);
  pango_cairo_show_layout(inside_->cairo, inside_->layout);
  return inside_->height();
}

void Paper::paragraph(std::string_view text, const Style& style, double left) {
  const double height = height_of(text, kInside - left, style);
  need(height);
  down(write(left, kInside - left, text, style));
}

void Paper::rule(double thickness) {
  cairo_set_source_rgb(inside_->cairo, 0.2, 0.2, 0.2);
  cairo_set_line_width(inside_->cairo, thickness);
  cairo_move_to(inside_->cairo, side(), y_);
  cairo_line_to(inside_->cairo, side() + kInside, y_);
  cairo_stroke(inside_->cairo);
}

void Paper::picture(const Picture& picture, double left, Size box) {
  const double scale = std::min(box.width / picture.width, box.height / picture.height);
  const Size size = {picture.width * scale, picture.height * scale};
  cairo_surface_t* surface = surface_of(picture);
  cairo_save(inside_->cairo);
  cairo_translate(inside_->cairo, side() + left, y_);
  cairo_scale(inside_->cairo, scale, scale);
  cairo_set_source_surface(inside_->cairo, surface, 0, 0);
  cairo_paint(inside_->cairo);
  cairo_restore(inside_->cairo);
  cairo_surface_destroy(surface);
  this->box(left, size.width, size.height);
}

void Paper::box(double left, double width, double height) {
  cairo_set_source_rgb(inside_->cairo, 0.2, 0.2, 0.2);
  cairo_set_line_width(inside_->cairo, 0.6);
  cairo_rectangle(inside_->cairo, side() + left, y_, width, height);
  cairo_stroke(inside_->cairo);
}

void Paper::code(const std::string& text, double size) {
  const std::optional<QrCode> code = QrCode::of(text, QrCode::Level::kM);
  ROLLWRIGHT_PROMISE(code.has_value());
  const double module = size / code->modules_with_quiet_zone();
  const double left = side() + kInside - size + QrCode::kQuietZone * module;
  const double top = kMargin - 4 + QrCode::kQuietZone * module;
  cairo_set_source_rgb(inside_->cairo, 0, 0, 0);
  for (int row = 0; row < code->modules(); ++row) {
    for (int column = 0; column < code->modules(); ++column) {
      if (!code->is_dark(row, column)) continue;
      cairo_rectangle(inside_->cairo, left + module * column, top + module * row, module, module);
    }
  }
  cairo_fill(inside_->cairo);
}

std::string Paper::finish() {
  end_sheet();
  cairo_surface_finish(inside_->surface);
  return inside_->bytes;
}

}  // namespace rollwright::documents

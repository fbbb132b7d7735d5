#include "documents/label_ink.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

namespace rollwright::documents {
namespace {

constexpr const char* kLabelFont = "DejaVu Sans";
constexpr double kPoints = 72 / 25.4;  // in a millimetre

cairo_status_t append_bytes(void* into, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(into)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

/// The library counts the pictures of a program in the first group's id, which nothing refers to.
std::string without_count(std::string bytes) {
  const std::string id = " id=\"surface";
  const std::size_t begin = bytes.find("<g" + id);
  if (begin == std::string::npos) return bytes;
  const std::size_t end = bytes.find('"', begin + 2 + id.size());
  return bytes.erase(begin + 2, end - begin - 1);
}

int pango_units(double mm) { return static_cast<int>(mm * kPoints * PANGO_SCALE); }

}  // namespace

struct LabelInk::Inside {
  std::string bytes;
  cairo_surface_t* surface = nullptr;
  cairo_t* cairo = nullptr;
  PangoLayout* layout = nullptr;

  void set(std::string_view text, const Type& type, double width) const {
    PangoFontDescription* font = pango_font_description_new();
    pango_font_description_set_family(font, kLabelFont);
    pango_font_description_set_absolute_size(font, pango_units(type.size_mm));
    if (type.bold) pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_width(layout, width > 0 ? pango_units(width) : -1);
    pango_layout_set_height(layout, -1);
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_NONE);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(layout, text.data(), static_cast<int>(text.size()));
  }
};

LabelInk::LabelInk(Form form, const Page& page, const std::string& title, Instant made)
    : inside_(std::make_unique<Inside>()) {
  const double width = page.width_mm * kPoints;
  const double height = page.height_mm * kPoints;
  if (form == Form::kPdf) {
    inside_->surface =
        cairo_pdf_surface_create_for_stream(append_bytes, &inside_->bytes, width, height);
    cairo_pdf_surface_set_metadata(inside_->surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(inside_->surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                   iso(made).c_str());
  } else {
    inside_->surface =
        cairo_svg_surface_create_for_stream(append_bytes, &inside_->bytes, width, height);
  }
  inside_->cairo = cairo_create(inside_->surface);
  inside_->layout = pango_cairo_create_layout(inside_->cairo);
  // Sizes are measured as they print, not rounded to the dots of a screen.
  pango_context_set_round_glyph_positions(pango_layout_get_context(inside_->layout), FALSE);
}

LabelInk::~LabelInk() {
  g_object_unref(inside_->layout);
  cairo_destroy(inside_->cairo);
  cairo_surface_destroy(inside_->surface);
}

LabelInk::Extent LabelInk::extent(std::string_view text, const Type& type, double width) const {
  inside_->set(text, type, width);
  PangoRectangle extents;
  pango_layout_get_extents(inside_->layout, nullptr, &extents);
  const double unit = PANGO_SCALE * kPoints;
  return {.width = extents.width / unit, .height = extents.height / unit};
}

void LabelInk::write(std::string_view text, const Type& type, const Box& box) {
  inside_->set(text, type, box.width);
  pango_layout_set_height(inside_->layout, pango_units(box.height));
  pango_layout_set_ellipsize(inside_->layout, PANGO_ELLIPSIZE_END);
  const double shade = type.grey ? 0.3 : 0;
  cairo_set_source_rgb(inside_->cairo, shade, shade, shade);
  cairo_move_to(inside_->cairo, box.x * kPoints, box.y * kPoints);
  pango_cairo_show_layout(inside_->cairo, inside_->layout);
}

void LabelInk::draw(const QrCode& code, double x, double y, double module) {
  cairo_set_source_rgb(inside_->cairo, 0, 0, 0);
  const double side = module * kPoints;
  for (int row = 0; row < code.modules(); ++row) {
    for (int column = 0; column < code.modules(); ++column) {
      if (!code.is_dark(row, column)) continue;
      cairo_rectangle(inside_->cairo, x * kPoints + side * column, y * kPoints + side * row, side,
                      side);
    }
  }
  cairo_fill(inside_->cairo);
}

void LabelInk::outline(const Box& box, bool is_used) {
  cairo_rectangle(inside_->cairo, box.x * kPoints, box.y * kPoints, box.width * kPoints,
                  box.height * kPoints);
  if (is_used) {
    cairo_set_source_rgb(inside_->cairo, 0.9, 0.89, 0.86);
    cairo_fill_preserve(inside_->cairo);
  }
  cairo_set_source_rgb(inside_->cairo, 0.6, 0.58, 0.54);
  cairo_set_line_width(inside_->cairo, 0.5);
  cairo_stroke(inside_->cairo);
}

void LabelInk::next_page() { cairo_show_page(inside_->cairo); }

std::string LabelInk::finish() {
  cairo_surface_finish(inside_->surface);
  return without_count(inside_->bytes);
}

}  // namespace rollwright::documents

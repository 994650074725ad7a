#include "draw/pdf/pdf.hpp"

#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cstring>
#include <numbers>

#include "draw/lettering.hpp"

#if defined(__SANITIZE_ADDRESS__)
#define LAMPSIDE_LEAK_CHECK
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define LAMPSIDE_LEAK_CHECK
#endif
#endif
#ifdef LAMPSIDE_LEAK_CHECK
// Fontconfig keeps its fonts until the program ends and hides its pointers, so the leak checker takes them for lost.
// They do not grow: a test makes documents in one thread after another and looks at the memory in use.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:libfontconfig\n"; }
#endif

namespace lampside::draw {
namespace {

template <auto release>
struct Release {
  template <class T>
  void operator()(T* p) const {
    release(p);
  }
};
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Release<cairo_destroy>>;
using Layout = std::unique_ptr<PangoLayout, Release<g_object_unref>>;
using FontOptions = std::unique_ptr<cairo_font_options_t, Release<cairo_font_options_destroy>>;
using Description = std::unique_ptr<PangoFontDescription, Release<pango_font_description_free>>;
using Attributes = std::unique_ptr<PangoAttrList, Release<pango_attr_list_unref>>;

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

struct CairoCanvas::Parts {
  Size size;
  std::string bytes;
  Surface surface;
  Context cairo;
  Layout layout;

  static std::unique_ptr<Parts> pdf(Size size, const PdfInfo& info) {
    auto p = std::make_unique<Parts>();
    p->size = size;
    p->surface.reset(cairo_pdf_surface_create_for_stream(append, &p->bytes, size.width, size.height));
    cairo_pdf_surface_set_metadata(p->surface.get(), CAIRO_PDF_METADATA_TITLE, clean_utf8(info.title).c_str());
    cairo_pdf_surface_set_metadata(p->surface.get(), CAIRO_PDF_METADATA_CREATOR, "Lampside");
    cairo_pdf_surface_set_metadata(p->surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, to_iso(info.made).c_str());
    return p;
  }
  static std::unique_ptr<Parts> png(Size size, double pixels_a_point) {
    auto p = std::make_unique<Parts>();
    p->size = size;
    p->surface.reset(cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(size.width * pixels_a_point),
                                                static_cast<int>(size.height * pixels_a_point)));
    cairo_surface_set_device_scale(p->surface.get(), pixels_a_point, pixels_a_point);
    return p;
  }

  void colour(Colour c, double opacity = 1) const {
    cairo_set_source_rgba(cairo.get(), c.r / 255.0, c.g / 255.0, c.b / 255.0, opacity);
  }
  void stroke(const Pen& pen) const {
    colour(pen.colour);
    cairo_set_line_width(cairo.get(), pen.width);
    cairo_set_dash(cairo.get(), pen.dashes.data(), static_cast<int>(pen.dashes.size()), 0);
    cairo_stroke(cairo.get());
  }
  void fill_and_stroke(std::optional<Colour> fill, const std::optional<Pen>& pen) const {
    if (fill) {
      colour(*fill);
      pen ? cairo_fill_preserve(cairo.get()) : cairo_fill(cairo.get());
    }
    if (pen) stroke(*pen);
    cairo_new_path(cairo.get());
  }
  void path(const std::vector<Point>& points) const {
    cairo_new_path(cairo.get());
    for (const auto& p : points) cairo_line_to(cairo.get(), p.x, p.y);
  }
  void set(std::string_view utf8, const Font& font) const {
    const Description description{pango_font_description_from_string("Inter, sans-serif")};
    pango_font_description_set_absolute_size(description.get(), font.size * PANGO_SCALE);
    pango_font_description_set_weight(description.get(),
                                      font.weight == Weight::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout.get(), description.get());
    const std::string clean = clean_utf8(utf8);
    pango_layout_set_text(layout.get(), clean.data(), static_cast<int>(clean.size()));
  }
};

CairoCanvas::CairoCanvas(std::unique_ptr<Parts> parts) : parts_{std::move(parts)} {
  auto& p = *parts_;
  p.cairo.reset(cairo_create(p.surface.get()));
  cairo_set_line_join(p.cairo.get(), CAIRO_LINE_JOIN_ROUND);
  p.layout.reset(pango_cairo_create_layout(p.cairo.get()));

  PangoContext* context = pango_layout_get_context(p.layout.get());
  // A printer has no pixel grid, and the machine's language must not change a line break or a glyph.
  const FontOptions options{cairo_font_options_create()};
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options.get());
  pango_cairo_context_set_resolution(context, 72);
  pango_context_set_round_glyph_positions(context, FALSE);  // else letters stand on whole points, unevenly
  pango_context_set_language(context, pango_language_from_string("en"));

  const Attributes attributes{pango_attr_list_new()};
  pango_attr_list_insert(attributes.get(), pango_attr_font_features_new("tnum=1"));
  pango_layout_set_attributes(p.layout.get(), attributes.get());
  pango_layout_set_single_paragraph_mode(p.layout.get(), TRUE);
}

CairoCanvas::~CairoCanvas() = default;

Size CairoCanvas::size() const { return parts_->size; }

void CairoCanvas::line(Point from, Point to, const Pen& pen) { polyline({from, to}, pen); }
void CairoCanvas::polyline(const std::vector<Point>& points, const Pen& pen) {
  if (points.size() < 2) return;
  parts_->path(points);
  parts_->stroke(pen);
}
void CairoCanvas::polygon(const std::vector<Point>& points, Colour fill, double opacity) {
  parts_->path(points);
  cairo_close_path(parts_->cairo.get());
  parts_->colour(fill, opacity);
  cairo_fill(parts_->cairo.get());
}
void CairoCanvas::shapes(const std::vector<std::vector<Point>>& rings, Colour fill, const Pen& outline) {
  cairo_t* c = parts_->cairo.get();
  cairo_new_path(c);
  for (const auto& ring : rings) {
    for (const auto& p : ring) cairo_line_to(c, p.x, p.y);
    cairo_close_path(c);
    cairo_new_sub_path(c);
  }
  parts_->fill_and_stroke(fill, outline);
}
void CairoCanvas::rect(Point at, Size size, std::optional<Colour> fill, std::optional<Pen> pen, double radius) {
  cairo_t* c = parts_->cairo.get();
  constexpr double kQuarter = std::numbers::pi / 2;
  cairo_new_path(c);
  if (radius <= 0) {
    cairo_rectangle(c, at.x, at.y, size.width, size.height);
  } else {
    const double right = at.x + size.width, bottom = at.y + size.height, r = radius;
    cairo_arc(c, right - r, at.y + r, r, -kQuarter, 0);
    cairo_arc(c, right - r, bottom - r, r, 0, kQuarter);
    cairo_arc(c, at.x + r, bottom - r, r, kQuarter, 2 * kQuarter);
    cairo_arc(c, at.x + r, at.y + r, r, 2 * kQuarter, 3 * kQuarter);
    cairo_close_path(c);
  }
  parts_->fill_and_stroke(fill, pen);
}
void CairoCanvas::circle(Point centre, double radius, std::optional<Colour> fill, std::optional<Pen> pen) {
  cairo_new_path(parts_->cairo.get());
  cairo_arc(parts_->cairo.get(), centre.x, centre.y, radius, 0, 2 * std::numbers::pi);
  cairo_close_path(parts_->cairo.get());
  parts_->fill_and_stroke(fill, pen);
}
void CairoCanvas::text(Point at, std::string_view utf8, const Font& font, Align align) {
  if (utf8.empty()) return;
  const double width = text_width(utf8, font);  // also sets the layout
  const double shift = align == Align::left ? 0 : align == Align::right ? width : width / 2;
  const double baseline = static_cast<double>(pango_layout_get_baseline(parts_->layout.get())) / PANGO_SCALE;
  cairo_move_to(parts_->cairo.get(), at.x - shift, at.y - baseline);
  parts_->colour(font.colour);
  pango_cairo_show_layout(parts_->cairo.get(), parts_->layout.get());
  cairo_new_path(parts_->cairo.get());
}
double CairoCanvas::text_width(std::string_view utf8, const Font& font) const {
  parts_->set(utf8, font);
  PangoRectangle extents;
  pango_layout_get_extents(parts_->layout.get(), nullptr, &extents);
  return static_cast<double>(extents.width) / PANGO_SCALE;
}
void CairoCanvas::picture(Area area, const Picture& picture) {
  if (picture.width <= 0 || picture.height <= 0) return;
  const Surface image{cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.width, picture.height)};
  if (cairo_surface_status(image.get()) != CAIRO_STATUS_SUCCESS) return;
  unsigned char* rows = cairo_image_surface_get_data(image.get());
  const int stride = cairo_image_surface_get_stride(image.get());
  const auto wide = static_cast<std::size_t>(picture.width);
  for (int y = 0; y < picture.height; ++y)
    std::memcpy(rows + std::ptrdiff_t{y} * stride, picture.pixels.data() + static_cast<std::size_t>(y) * wide,
                wide * sizeof(std::uint32_t));
  cairo_surface_mark_dirty(image.get());
  // The PDF holds these bytes instead of the pixels, which would be many times as large. The copy is Cairo's to free.
  auto* kept = new std::string(picture.jpeg);
  cairo_surface_set_mime_data(
      image.get(), CAIRO_MIME_TYPE_JPEG, reinterpret_cast<const unsigned char*>(kept->data()), kept->size(),
      [](void* bytes) { delete static_cast<std::string*>(bytes); }, kept);
  const double scale = std::min(area.width / picture.width, area.height / picture.height);
  cairo_t* c = parts_->cairo.get();
  cairo_save(c);
  cairo_translate(c, area.x + (area.width - scale * picture.width) / 2,
                  area.y + (area.height - scale * picture.height) / 2);
  cairo_scale(c, scale, scale);
  cairo_set_source_surface(c, image.get(), 0, 0);
  cairo_pattern_set_filter(cairo_get_source(c), CAIRO_FILTER_GOOD);
  cairo_paint(c);
  cairo_restore(c);
}
void CairoCanvas::next_page() { cairo_show_page(parts_->cairo.get()); }

PdfCanvas::PdfCanvas(Size size, const PdfInfo& info) : CairoCanvas{Parts::pdf(size, info)} {}

std::string PdfCanvas::finish() {
  cairo_show_page(parts_->cairo.get());
  cairo_surface_finish(parts_->surface.get());
  const bool well = cairo_surface_status(parts_->surface.get()) == CAIRO_STATUS_SUCCESS;
  return well ? std::move(parts_->bytes) : std::string{};
}

PngCanvas::PngCanvas(Size size, double pixels_a_point) : CairoCanvas{Parts::png(size, pixels_a_point)} {
  rect({0, 0}, size, Colour{255, 255, 255}, std::nullopt, 0);
}

std::string PngCanvas::finish() {
  const bool well =
      cairo_surface_write_to_png_stream(parts_->surface.get(), append, &parts_->bytes) == CAIRO_STATUS_SUCCESS;
  return well ? std::move(parts_->bytes) : std::string{};
}

}  // namespace lampside::draw

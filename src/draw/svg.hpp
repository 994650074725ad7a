// The screen's backend: SVG with real text and no style attribute, so that it passes a strict content-security policy.
#pragma once

#include <string>

#include "draw/canvas.hpp"

namespace lampside::draw {

/// Writes one `<svg class="chart" role="img">` with a title and a description for those who cannot see it.
/// Colours of the palette also get a class (`f-ink` for a fill, `s-ink` for a stroke), so that a style sheet can turn
/// them over for the night; every other attribute is a presentation attribute.
class SvgCanvas final : public Canvas {
 public:
  SvgCanvas(Size size, std::string_view title, std::string_view description);

  [[nodiscard]] Size size() const override { return size_; }
  void line(Point from, Point to, const Pen& pen) override;
  void polyline(const std::vector<Point>& points, const Pen& pen) override;
  void polygon(const std::vector<Point>& points, Colour fill, double opacity) override;
  void shapes(const std::vector<std::vector<Point>>& rings, Colour fill, const Pen& outline) override;
  void rect(Point top_left, Size size, std::optional<Colour> fill, std::optional<Pen> pen, double radius) override;
  void circle(Point centre, double radius, std::optional<Colour> fill, std::optional<Pen> pen) override;
  void text(Point at, std::string_view utf8, const Font& font, Align align) override;
  /// By the advance widths of Inter; a browser that shows another font may be some per cent off.
  [[nodiscard]] double text_width(std::string_view utf8, const Font& font) const override;
  void next_page() override {}

  /// The whole picture.
  [[nodiscard]] std::string str() const { return head_ + body_ + "</svg>"; }

 private:
  Size size_;
  std::string head_, body_;
};

/// & < > " ' escaped; control characters and broken bytes replaced (XML has no way to write them).
std::string escape_xml(std::string_view text);

}  // namespace lampside::draw

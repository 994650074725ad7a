// One canvas, two backends (SVG for the screen, PDF for paper). Lengths are points (1/72 inch), y grows downward.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace lampside::draw {

struct Colour {
  unsigned char r, g, b;
  bool operator==(const Colour&) const = default;
};
struct Point {
  double x, y;
};
struct Size {
  double width, height;
};
/// An upright rectangle to draw in.
struct Area {
  double x, y, width, height;
  [[nodiscard]] double right() const { return x + width; }
  [[nodiscard]] double bottom() const { return y + height; }
};
enum class Align { left, centre, right };
enum class Weight { regular, bold };

struct Pen {
  Colour colour{0, 0, 0};
  double width = 1;
  std::vector<double> dashes;  ///< empty: solid
};
struct Font {
  double size = 10;
  Weight weight = Weight::regular;
  Colour colour{0, 0, 0};
};

/// A photograph: its pixels, and the same as JPEG, which a PDF holds as it is.
struct Picture {
  int width = 0, height = 0;
  std::vector<std::uint32_t> pixels;  ///< 0x00RRGGBB, row by row
  std::string jpeg;
};

/// What a chart or a form draws on. Text is real text in both backends (selectable, searchable).
class Canvas {
 public:
  virtual ~Canvas() = default;
  [[nodiscard]] virtual Size size() const = 0;
  virtual void line(Point from, Point to, const Pen& pen) = 0;
  virtual void polyline(const std::vector<Point>& points, const Pen& pen) = 0;
  virtual void polygon(const std::vector<Point>& points, Colour fill, double opacity) = 0;
  /// Closed shapes of one look: all filled, then all outlined. As one they cost a page of charts a fifth of what they
  /// cost one by one.
  virtual void shapes(const std::vector<std::vector<Point>>& rings, Colour fill, const Pen& outline) = 0;
  virtual void rect(Point top_left, Size size, std::optional<Colour> fill, std::optional<Pen> pen, double radius) = 0;
  virtual void circle(Point centre, double radius, std::optional<Colour> fill, std::optional<Pen> pen) = 0;
  /// `at` is the baseline's left, centre or right end.
  virtual void text(Point at, std::string_view utf8, const Font& font, Align align) = 0;
  /// Width of that text in this backend's font.
  [[nodiscard]] virtual double text_width(std::string_view utf8, const Font& font) const = 0;
  /// The whole picture, as large as fits, in the middle of the area. Paper only: a page on the screen names its
  /// pictures.
  virtual void picture(Area, const Picture&) {}
  /// Ends the page and begins another (a no-op for SVG, which has one).
  virtual void next_page() = 0;
};

}  // namespace lampside::draw

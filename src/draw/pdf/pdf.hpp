// The paper's backend: PDF (and PNG, to send a sheet as a picture) by Cairo and Pango, set in Inter with figures of one
// width, fonts embedded, text as text.
#pragma once

#include <memory>
#include <string>

#include "draw/canvas.hpp"
#include "measure/time.hpp"

namespace lampside::draw {

struct PdfInfo {
  std::string title;
  Stamp made;  ///< written as the creation date: the same drawing and stamp give the same bytes
};

/// What both draw with. One canvas belongs to one thread; several may be drawn at once in different threads.
class CairoCanvas : public Canvas {
 public:
  ~CairoCanvas() override;
  CairoCanvas(const CairoCanvas&) = delete;
  CairoCanvas& operator=(const CairoCanvas&) = delete;

  [[nodiscard]] Size size() const override;
  void line(Point from, Point to, const Pen& pen) override;
  void polyline(const std::vector<Point>& points, const Pen& pen) override;
  void polygon(const std::vector<Point>& points, Colour fill, double opacity) override;
  void shapes(const std::vector<std::vector<Point>>& rings, Colour fill, const Pen& outline) override;
  void rect(Point top_left, Size size, std::optional<Colour> fill, std::optional<Pen> pen, double radius) override;
  void circle(Point centre, double radius, std::optional<Colour> fill, std::optional<Pen> pen) override;
  void text(Point at, std::string_view utf8, const Font& font, Align align) override;
  [[nodiscard]] double text_width(std::string_view utf8, const Font& font) const override;
  void picture(Area area, const Picture& picture) override;
  void next_page() override;

 protected:
  struct Parts;
  explicit CairoCanvas(std::unique_ptr<Parts> parts);
  std::unique_ptr<Parts> parts_;
};

/// A document in memory.
class PdfCanvas final : public CairoCanvas {
 public:
  PdfCanvas(Size size, const PdfInfo& info);
  /// Ends the last page and gives the document; nothing may be drawn afterwards. Empty when Cairo failed.
  std::string finish();
};

/// One page as a PNG picture on white.
class PngCanvas final : public CairoCanvas {
 public:
  PngCanvas(Size size, double pixels_a_point);
  std::string finish();
};

}  // namespace lampside::draw

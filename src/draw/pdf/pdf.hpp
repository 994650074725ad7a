// The paper's backend: PDF by Cairo and Pango, set in Inter with figures of one width, fonts embedded, text as text.
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

/// A document in memory. One canvas belongs to one thread; several may be drawn at once in different threads.
class PdfCanvas final : public Canvas {
 public:
  PdfCanvas(Size size, const PdfInfo& info);
  ~PdfCanvas() override;
  PdfCanvas(const PdfCanvas&) = delete;
  PdfCanvas& operator=(const PdfCanvas&) = delete;

  [[nodiscard]] Size size() const override;
  void line(Point from, Point to, const Pen& pen) override;
  void polyline(const std::vector<Point>& points, const Pen& pen) override;
  void polygon(const std::vector<Point>& points, Colour fill, double opacity) override;
  void rect(Point top_left, Size size, std::optional<Colour> fill, std::optional<Pen> pen, double radius) override;
  void circle(Point centre, double radius, std::optional<Colour> fill, std::optional<Pen> pen) override;
  void text(Point at, std::string_view utf8, const Font& font, Align align) override;
  [[nodiscard]] double text_width(std::string_view utf8, const Font& font) const override;
  void next_page() override;

  /// Ends the last page and gives the document; nothing may be drawn afterwards. Empty when Cairo failed.
  std::string finish();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace lampside::draw

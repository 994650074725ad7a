#include "draw/svg.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <iterator>

#include "draw/lettering.hpp"
#include "draw/palette.hpp"
#include "measure/text.hpp"

namespace lampside::draw {
namespace {

// Advance widths of Inter 4.0 in thousandths of the size, from U+0020 to U+007E, figures tabular; read from the font
// files of the Debian package fonts-inter with kerning off.
constexpr short kRegular[95] = {281, 278, 403, 631, 638, 813, 639, 222, 362, 362, 500, 659, 276, 460, 276, 357,
                                648, 648, 648, 648, 648, 648, 648, 648, 648, 648, 276, 276, 659, 659, 659, 507,
                                936, 676, 651, 727, 719, 598, 587, 743, 740, 264, 543, 652, 563, 889, 753, 761,
                                635, 761, 639, 638, 642, 741, 676, 949, 642, 665, 625, 362, 357, 362, 469, 452,
                                497, 564, 621, 558, 621, 582, 361, 609, 591, 237, 237, 544, 237, 869, 585, 597,
                                609, 609, 372, 523, 364, 581, 557, 813, 540, 557, 541, 362, 327, 362, 659};
constexpr short kBold[95] = {232,  325, 392, 650, 655, 859, 674, 209,  409, 409, 565, 680, 299, 469, 298, 390,
                             682,  682, 682, 682, 680, 682, 682, 682,  682, 682, 298, 296, 680, 680, 680, 563,
                             1031, 748, 661, 752, 727, 613, 585, 761,  746, 281, 570, 690, 567, 915, 735, 782,
                             648,  783, 656, 655, 668, 729, 748, 1036, 714, 724, 667, 409, 390, 409, 488, 477,
                             497,  580, 635, 587, 635, 598, 386, 633,  624, 272, 272, 582, 272, 912, 622, 614,
                             632,  632, 409, 562, 388, 622, 586, 850,  574, 586, 572, 409, 374, 409, 680};

std::string number(double v) { return std::isfinite(v) ? say_number(v, 2) : "0"; }

/// To the tenth, finer than any screen shows, and by hand: a page's charts have tens of thousands of these.
void add_tenths(std::string& out, double v) {
  if (!(std::abs(v) < 1e9)) {
    out += number(v);
    return;
  }
  const long long tenths = std::llround(v * 10);
  const unsigned long long size = static_cast<unsigned long long>(tenths < 0 ? -tenths : tenths);
  char digits[24];
  const auto end = std::to_chars(std::begin(digits), std::end(digits), size / 10).ptr;
  if (tenths < 0) out += '-';
  out.append(digits, end);
  if (size % 10 != 0) out += '.', out += static_cast<char>('0' + size % 10);
}
std::string hex(Colour c) { return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b); }

std::string class_of(std::optional<Colour> fill, const std::optional<Pen>& pen) {
  std::string names;
  if (fill && !name_of(*fill).empty()) names += fmt::format("f-{}", name_of(*fill));
  if (pen && !name_of(pen->colour).empty())
    names += fmt::format("{}s-{}", names.empty() ? "" : " ", name_of(pen->colour));
  return names.empty() ? "" : fmt::format(" class=\"{}\"", names);
}
std::string paint(std::optional<Colour> fill, const std::optional<Pen>& pen) {
  std::string out = class_of(fill, pen) + fmt::format(" fill=\"{}\"", fill ? hex(*fill) : "none");
  if (!pen) return out;
  out += fmt::format(" stroke=\"{}\" stroke-width=\"{}\"", hex(pen->colour), number(pen->width));
  std::string dashes;
  for (double d : pen->dashes) dashes += (dashes.empty() ? "" : " ") + number(d);
  if (!dashes.empty()) out += fmt::format(" stroke-dasharray=\"{}\"", dashes);
  return out;
}
/// "x,y x,y ..."
void add_points(std::string& out, const std::vector<Point>& points) {
  bool first = true;
  for (const auto& p : points) {
    if (!first) out += ' ';
    first = false;
    add_tenths(out, p.x);
    out += ',';
    add_tenths(out, p.y);
  }
}

}  // namespace

std::string escape_xml(std::string_view text) {
  std::string out;
  for (char c : clean_utf8(text)) switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  return out;
}

SvgCanvas::SvgCanvas(Size size, std::string_view title, std::string_view description) : size_{size} {
  head_ = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"chart\" role=\"img\" viewBox=\"0 0 {} {}\" "
      "font-family=\"Inter, system-ui, sans-serif\"><title>{}</title>",
      number(size.width), number(size.height), escape_xml(title));
  if (!description.empty()) head_ += fmt::format("<desc>{}</desc>", escape_xml(description));
}

void SvgCanvas::line(Point from, Point to, const Pen& pen) {
  body_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>", number(from.x), number(from.y),
                       number(to.x), number(to.y), paint(std::nullopt, pen));
}
void SvgCanvas::polyline(const std::vector<Point>& points, const Pen& pen) {
  if (points.size() < 2) return;
  body_ += "<polyline points=\"";
  add_points(body_, points);
  fmt::format_to(std::back_inserter(body_), "\" stroke-linejoin=\"round\"{}/>", paint(std::nullopt, pen));
}
void SvgCanvas::polygon(const std::vector<Point>& points, Colour fill, double opacity) {
  if (points.size() < 3) return;
  body_ += "<polygon points=\"";
  add_points(body_, points);
  fmt::format_to(std::back_inserter(body_), "\"{}", paint(fill, std::nullopt));
  if (opacity < 1) body_ += fmt::format(" fill-opacity=\"{}\"", number(opacity));
  body_ += "/>";
}
void SvgCanvas::shapes(const std::vector<std::vector<Point>>& rings, Colour fill, const Pen& outline) {
  if (rings.empty()) return;
  body_ += "<path d=\"";
  for (const auto& ring : rings) {
    body_ += 'M';
    add_points(body_, ring);
    body_ += 'Z';
  }
  fmt::format_to(std::back_inserter(body_), "\"{}/>", paint(fill, outline));
}
void SvgCanvas::rect(Point top_left, Size size, std::optional<Colour> fill, std::optional<Pen> pen, double radius) {
  body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"", number(top_left.x), number(top_left.y),
                       number(size.width), number(size.height));
  if (radius > 0) body_ += fmt::format(" rx=\"{}\"", number(radius));
  body_ += paint(fill, pen) + "/>";
}
void SvgCanvas::circle(Point centre, double radius, std::optional<Colour> fill, std::optional<Pen> pen) {
  body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>", number(centre.x), number(centre.y), number(radius),
                       paint(fill, pen));
}
void SvgCanvas::text(Point at, std::string_view utf8, const Font& font, Align align) {
  if (utf8.empty()) return;
  body_ += fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{}{}>{}</text>", number(at.x), number(at.y),
                       number(font.size), font.weight == Weight::bold ? " font-weight=\"700\"" : "",
                       align == Align::centre  ? " text-anchor=\"middle\""
                       : align == Align::right ? " text-anchor=\"end\""
                                               : "",
                       paint(font.colour, std::nullopt), escape_xml(utf8));
}

double SvgCanvas::text_width(std::string_view utf8, const Font& font) const {
  const auto& widths = font.weight == Weight::bold ? kBold : kRegular;
  double thousandths = 0;
  for (char c : utf8) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x20 && byte < 0x7F)
      thousandths += widths[byte - 0x20];
    else if (byte >= 0xE3)
      thousandths += 1000;  // first byte of a CJK character or an emoji: about an em
    else if (byte >= 0xC0)
      thousandths += 640;  // first byte of any other character
  }
  return thousandths * font.size / 1000;
}

}  // namespace lampside::draw

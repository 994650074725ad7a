#include "draw/lettering.hpp"

#include <algorithm>

namespace lampside::draw {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";  // U+FFFD
constexpr std::string_view kEllipsis = "\xE2\x80\xA6";     // U+2026

/// Length of the well-formed sequence at the front (RFC 3629: no overlong forms, no surrogates, up to U+10FFFF),
/// 0 if it is broken. `code` is the character.
std::size_t sequence(std::string_view s, char32_t& code) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(s[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return code = first, 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC2 ? 2 : 0;
  if (length == 0 || first > 0xF4 || s.size() < length) return 0;
  code = first & (0x7Fu >> length);
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return 0;
    code = code << 6 | (byte(i) & 0x3F);
  }
  constexpr char32_t kLeast[] = {0, 0, 0x80, 0x800, 0x10000};
  if (code < kLeast[length] || (code >= 0xD800 && code <= 0xDFFF) || code > 0x10FFFF) return 0;
  return length;
}

bool is_control(char32_t c) { return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0xFFFE || c == 0xFFFF; }

/// Removes the last character of valid UTF-8.
void drop_last(std::string& s) {
  while (!s.empty() && (static_cast<unsigned char>(s.back()) & 0xC0) == 0x80) s.pop_back();
  if (!s.empty()) s.pop_back();
}

}  // namespace

std::string clean_utf8(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    char32_t code = 0;
    const std::size_t n = sequence(text, code);
    if (n == 0 || (is_control(code) && code != '\t' && code != '\n' && code != '\r'))
      out += kReplacement;
    else if (is_control(code))
      out += ' ';
    else
      out += text.substr(0, n);
    text.remove_prefix(std::max<std::size_t>(n, 1));
  }
  return out;
}

std::string fit(const Canvas& canvas, std::string_view text, const Font& font, double width) {
  std::string cut = clean_utf8(text);
  if (canvas.text_width(cut, font) <= width) return cut;
  // Nothing that long is shown anyway; without this a pasted novel would be measured once for every character.
  while (cut.size() > 400) drop_last(cut);
  while (!cut.empty()) {
    drop_last(cut);
    while (!cut.empty() && cut.back() == ' ') cut.pop_back();
    const std::string shown = cut + std::string(kEllipsis);
    if (canvas.text_width(shown, font) <= width) return shown;
  }
  return {};
}

Font fit_font(const Canvas& canvas, std::string_view text, Font font, double width, double smallest) {
  const double wide = canvas.text_width(text, font);
  if (wide > width && wide > 0)
    font.size = std::max(smallest, font.size * width / wide * 0.99);  // a hair less: rounding
  return font;
}

std::vector<std::string> wrap(const Canvas& canvas, std::string_view text, const Font& font, double width) {
  const std::string clean = clean_utf8(text);
  std::vector<std::string> lines;
  std::string line;
  for (std::string_view rest = clean; !rest.empty();) {
    const auto space = std::min(rest.find(' '), rest.size());
    const std::string_view word = rest.substr(0, space);
    rest.remove_prefix(std::min(space + 1, rest.size()));
    if (word.empty()) continue;
    const std::string longer = line.empty() ? std::string(word) : line + " " + std::string(word);
    if (canvas.text_width(longer, font) <= width) {
      line = longer;
      continue;
    }
    if (!line.empty()) lines.push_back(std::move(line));
    line = fit(canvas, word, font, width);
  }
  if (!line.empty()) lines.push_back(std::move(line));
  return lines;
}

}  // namespace lampside::draw

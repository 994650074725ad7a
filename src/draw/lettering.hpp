// Text that must fit: measured by the canvas it will stand on, so both backends break the same way they draw.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "draw/canvas.hpp"

namespace lampside::draw {

/// Valid UTF-8 without control characters, whatever came in: a broken byte or a control character becomes U+FFFD,
/// a tab or line end a space. What both backends write.
std::string clean_utf8(std::string_view text);

/// `text` cut with an ellipsis so that it is no wider than `width`; whole if it fits.
std::string fit(const Canvas& canvas, std::string_view text, const Font& font, double width);

/// The font made smaller (not below `smallest` points) until `text` fits in `width`.
Font fit_font(const Canvas& canvas, std::string_view text, Font font, double width, double smallest);

/// `text` broken at spaces into lines no wider than `width`; a single longer word is cut with an ellipsis.
std::vector<std::string> wrap(const Canvas& canvas, std::string_view text, const Font& font, double width);

}  // namespace lampside::draw

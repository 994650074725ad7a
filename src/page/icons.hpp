// Small pictures of our own, as inline SVG in the text's colour. Each is decoration beside a word, hidden from readers.
#pragma once

#include <string_view>

#include "page/html.hpp"
#include "reference/finding.hpp"

namespace lampside::page {

Html icon_for(reference::Level level);          ///< a shape of its own for each level, so that colour is never alone
Html order_icon(bool to_do);                    ///< a tick, or a barred ring
Html icon_for_screen(std::string_view screen);  ///< "now", "due", "whelping", "weigh-in", "paper", "log", "settings"

/// A round of the collar's colour; a striped one where the word names no colour we know.
Html swatch(std::string_view collar);

/// The collar to propose for the next pup: the first of our list that no pup of `taken` wears.
std::string_view next_free_collar(const std::vector<std::string>& taken);
const std::vector<std::string_view>& collar_words();

}  // namespace lampside::page

// What the three pages of Supplies share: the overview, the kit check, an item's own page.
#pragma once

#include <array>
#include <string>

#include "page/parts.hpp"
#include "supplies/plan.hpp"

namespace lampside::page {

std::string_view words_for(supplies::State state);  ///< "missing", "too few", ...
std::string_view words_for(record::Keeping where);  ///< "in the kit", ...
std::string item_href(const View& view, const supplies::Line& line);
std::string say_have(const supplies::Line& line);    ///< "7 of 12", "12", "none"
std::string say_to_buy(const supplies::Line& line);  ///< "2 packs of 500 g", "5"
/// ", by Mon 21 Sep", or ", wanted since Mon 7 Sep"; empty without a date.
std::string say_by(const View& view, const supplies::Line& line);

/// Since when an item counts as looked at: twelve hours ago, or the moment the round named by `check` began.
Instant kit_round(const View& view, const std::string& check);
std::string kit_page(const View& view);
std::string item_page(const View& view, const supplies::Line& line);

}  // namespace lampside::page

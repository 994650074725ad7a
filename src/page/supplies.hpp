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

/// Of such a thing one is taken at a time and gone: what is counted, and more than one of it.
bool is_used_up(const supplies::Line& line);
/// One tap: one less of it (one pack less, where it is weighed). `n` keeps the names of several apart.
Html used_one(const View& view, const supplies::Line& line, const std::string& back, std::size_t n = 0);
/// One tap: the pack in use was opened today.
Html opened_today(const View& view, const supplies::Line& line, const std::string& back, std::size_t n = 0);

/// Since when an item counts as looked at: twelve hours ago, or the moment the round named by `check` began.
Instant kit_round(const View& view, const std::string& check);
std::string kit_page(const View& view);
std::string item_page(const View& view, const supplies::Line& line);

}  // namespace lampside::page

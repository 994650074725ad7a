// What the pages of Homes share: names of families, where they are known, and the cards.
#pragma once

#include <string>

#include "page/parts.hpp"

namespace lampside::page {

/// Beside every field whose words go into the journal where families are the matter.
inline constexpr std::string_view kNoNames = "No names here: this goes into the journal, which keeps it for ever";

/// Who a family is; null when it is not kept, or no longer.
const record::Person* person_of(const View& view, std::string_view family);
/// Their name, or "family 2" by its place; "the keeper" for "".
std::string say_family(const View& view, std::string_view family);
/// Of a departure: a family's name, or what an older entry says.
std::string say_where_to(const View& view, const std::string& to);
std::string family_href(const View& view, std::string_view family);

std::string family_page(const View& view, const std::string& family);
std::string new_family_page(const View& view);
std::string money_page(const View& view);
std::string match_page(const View& view);
std::string test_page(const View& view, const record::Pup& pup);
std::string usual_currency(const record::Litter& litter);  ///< the last one written down; empty: none was

Html turn_card(const View& view);      ///< whose turn it is, why, and what is left for them
Html families_card(const View& view);  ///< all in order

}  // namespace lampside::page

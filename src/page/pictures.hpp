// A pup's pictures, on its page and on its way out of the house.
#pragma once

#include "page/parts.hpp"

namespace lampside::page {

/// The field a picture is chosen with; `id` is unique on the page.
Html picture_field(const std::string& id, std::string_view label);
/// The last picture, the row of all of them by age, the form for a new one.
Html pictures_card(const View& view, const record::Pup& pup);
/// The sheet for an advertisement, the folder, the day it leaves.
Html papers_card(const View& view, const record::Pup& pup);
/// News after it left; empty while it is at home.
Html follow_up_panel(const View& view, const record::Pup& pup);

}  // namespace lampside::page

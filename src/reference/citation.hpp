// Where a figure comes from. Every rule and table row has one; a row without one does not build.
#pragma once

#include <string_view>

namespace lampside::reference {

/// How sure we are. `published`: read in the work named. `secondary`: read in another work that quotes it.
/// `common_practice`: what the trade does, no source. `from_memory`: not verified; the screen says so.
enum class Standing { published, secondary, common_practice, from_memory };

struct Citation {
  std::string_view work;     ///< author, year, title or journal
  std::string_view locator;  ///< table, page, section, or what part of it was read
  Standing standing;
};

std::string_view name_of(Standing s);  ///< "published", "secondary", "common practice, no source", "from memory"

}  // namespace lampside::reference

// Nest: warmth and milk.
#include "page/nest.hpp"

#include "page/nest_turns.hpp"

namespace lampside::page {

std::string nest_page(const View& view) {
  return page_of(view, {.title = "Nest", .screen = "nest", .back = ""},
                 warmth_section(view) + sensors_section(view) + feeding_section(view) + turns_section(view) +
                     milk_section(view) + plate_section(view));
}

}  // namespace lampside::page

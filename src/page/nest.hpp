// The parts of the Nest screen, and what a pup's own page shows of them.
#pragma once

#include "page/parts.hpp"

namespace lampside::page {

/// How warm it is and should be, the lamp, cold pups.
Html warmth_section(const View& view);
/// Milk by hand: the milk, each pup fed or to be fed by hand, what the books say.
Html feeding_section(const View& view);
/// The room sensors, what each read last, and the form that adds one.
Html sensors_section(const View& view);
/// One pup's milk by hand with its taps; empty where none is given, advised or stopped.
Html feeding_card(const View& view, const nest::PupFeeding& pup, std::string_view back);
/// The keeper's decision for a pup: none, top-up, full, and which way.
Html hand_feeding_form(const View& view, const nest::PupFeeding& pup, std::string_view back);

}  // namespace lampside::page

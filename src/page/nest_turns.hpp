// Parts of the Nest screen: turns at the teats, her milk, her plate.
#pragma once

#include "page/parts.hpp"

namespace lampside::page {

/// Turns at the teats: who is with her now, the list of a day, the form. Empty before there are pups.
Html turns_section(const View& view);
/// Her milk against what they drink, week by week. Empty before there are pups.
Html milk_section(const View& view);
/// The dam's plate: today, the days to come, what she ate, her weight, weaning.
Html plate_section(const View& view);

}  // namespace lampside::page

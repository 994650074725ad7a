// The parts of the Care screen that stand below its tasks.
#pragma once

#include "page/html.hpp"
#include "page/page.hpp"

namespace lampside::page {

/// For the screen "Now": each task of that state, to tick with exceptions, to put off with a reason, to move or drop.
Html care_actions(const View& view, care::State state);

Html own_task(const View& view);     ///< a task of the keeper's own
Html wound_forms(const View& view);  ///< a procedure, and the daily look
Html chip_form(const View& view);    ///< a chip's number, typed twice
Html choices(const View& view);      ///< the ways to choose between, contradictions side by side
Html law_here(const View& view);     ///< what the law of the place says, and when a summary of it was read
Html calendar_links(const View& view);

}  // namespace lampside::page

// How a forecast's moments are told.
#pragma once

#include <chrono>

#include "measure/time.hpp"

namespace lampside::due {

/// To the nearest hour: minutes would say more than is known, and the grid is of hours.
inline Instant told(Instant t) { return std::chrono::round<std::chrono::hours>(t); }

/// To the hour before: where being there too late is what must not happen.
inline Instant told_early(Instant t) { return std::chrono::floor<std::chrono::hours>(t); }

}  // namespace lampside::due

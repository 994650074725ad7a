// When a pace is worth a hand: from the chance that it is too slow.
#pragma once

#include "growth/tracker.hpp"

namespace lampside::growth {

enum class Alarm { none, watch, act };
/// Two readings at least. A pup is watched, or acted upon, from the chances of the rule PACE_SLOW on.
Alarm alarm_of(const PaceModel& model, const Tracker& tracker, std::size_t pup);

}  // namespace lampside::growth

// Litters as nobody would think them up, for properties (RapidCheck).
#pragma once

#include "story.hpp"

namespace lampside::testing {

/// A night: signs, births, counts and readings in the 30 hours before `kNight`.
Story any_night();
/// Any litter: from the mating to some weeks of age at `kNight`; with deaths, departures, corrections, strikes and
/// slips.
Story any_litter();
/// One more entry of any kind but a strike or a correction, at that moment.
void tell_any(Story& story, Instant at);

/// Those of the dam that call for a look at once.
inline constexpr Sign kRedFlags[] = {Sign::waters,         Sign::green_discharge, Sign::bleeding,
                                     Sign::foul_discharge, Sign::weak_straining,  Sign::strong_straining,
                                     Sign::pup_visible,    Sign::collapse,        Sign::twitching,
                                     Sign::hard_hot_teat,  Sign::vomiting};

}  // namespace lampside::testing

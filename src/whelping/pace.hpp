// The pace of this labour: when the next pup and the last may come, and whether one may be left.
#pragma once

#include "whelping/labour.hpp"

namespace lampside::whelping {

/// Gaps between pups are log-normal about a pace of this litter, learnt from the gaps so far. Minutes throughout.
struct Pace {
  double middle_ln;     ///< of the natural logarithm of a gap
  double sd_ln;         ///< of one gap to come, what is not known of the litter's pace included
  double litter_sd_ln;  ///< of the litter's pace alone: shared by all gaps to come
};
Pace pace_of(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// The share `q` of the waits still to come after `waited` minutes lie below this many minutes from now.
double wait_quantile(const Pace& pace, double waited_min, double q);

/// From now to the next pup. NotAssessed: NO_DATA before the first pup, NOT_BORN never, SILENCED once she is done.
reference::Assessed<NextPup> next_pup(const Labour& labour, const Pace& pace, Instant now);
/// From now to the last of the pups counted. NotAssessed: as next_pup, and NO_DATA without a count.
reference::Assessed<NextPup> last_pup(const Labour& labour, const Pace& pace, Instant now);
/// Never below the share of labours in which a pup that is there does not come by itself.
reference::Assessed<OneLeft> one_left(const record::Litter& litter, const Labour& labour, const Pace& pace,
                                      const reference::Reference& reference, Instant now);

}  // namespace lampside::whelping

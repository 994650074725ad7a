// The chain of events: LH surge, first day of dioestrus, whelping; its steps for this litter, and how an event is
// passed on.
#pragma once

#include <vector>

#include "due/forecast.hpp"
#include "due/model.hpp"

namespace lampside::due {

using Density = std::vector<double>;

/// One step of the chain, in days: mean, with this litter's shifts, and spread.
struct Step {
  double mean_d, sd_d;
};
struct Chain {
  Step to_dioestrus, to_whelping;
  std::vector<Adjustment> adjustments;  ///< what moved its means for this dam and litter
};

/// The chain for this dam and litter: her breed's shift, the litter's size against what is usual, her own earlier
/// litters.
Chain chain_of(const record::Litter& litter, const reference::Reference& reference);

/// Three axes wide enough for these whelping hours: nothing within 9 (dioestrus 8) days of the means is cut off.
Axes axes_for(Instant first, Instant last, const Chain& chain);

/// out[j] = sum_i in[i] x N(out axis j - in axis i; step), the normal cut off at nine of its spreads.
Density pass_on(const Density& in, const Axis& from, const Axis& to, const Step& step);

}  // namespace lampside::due
